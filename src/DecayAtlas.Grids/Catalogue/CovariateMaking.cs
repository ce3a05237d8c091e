namespace DecayAtlas.Grids.Catalogue;

public enum TimeStatistic
{
    /// <summary>Mean weighted by days, for temperatures and the like.</summary>
    Mean,

    /// <summary>Sum of totals, each by the share of its days, for precipitation and the like.</summary>
    Sum,

    /// <summary>Days x what a mean lies above a base.</summary>
    DegreeDays,
}

internal enum TimeSpanned
{
    Exposure,

    /// <summary>A whole (common) year: one value a site.</summary>
    Year,
}

/// <summary>How a covariate is made from its layers.</summary>
public abstract record CovariateMaking
{
    /// <summary>The layers, in order; those of a dated series are found in its file when first asked for.</summary>
    /// <exception cref="GridException">The file of a series cannot be read.</exception>
    public abstract IReadOnlyList<LayerSource> Layers { get; }

    /// <summary>What the catalogue names: the layers, or for a series its file without a step.</summary>
    public virtual IReadOnlyList<LayerSource> Declared => Layers;

    /// <summary>Other covariates that this one is computed from, by their part in the formula.</summary>
    public virtual IReadOnlyDictionary<string, CatalogueEntry> Inputs => new Dictionary<string, CatalogueEntry>();

    public abstract bool DependsOnBurial { get; }

    public virtual string? Formula => null;

    /// <summary>What is taken over the days of an exposure; null where nothing is.</summary>
    public virtual TimeStatistic? TakenOverTime => null;

    /// <summary>All that shapes the value beside the layers themselves.</summary>
    public abstract string Identity { get; }

    public abstract CovariateRecipe RecipeFor(BurialConditions conditions);
}

/// <summary>One grid or map of units: the same for every burial of a site.</summary>
public sealed record OneLayer(LayerSource Layer) : CovariateMaking
{
    public override IReadOnlyList<LayerSource> Layers => [Layer];

    public override bool DependsOnBurial => false;

    public override string Identity => "one";

    public override CovariateRecipe RecipeFor(BurialConditions conditions) => CovariateRecipe.Sum([(Layer, 1)]);
}

/// <summary>Soil layers, weighted by the length that each shares with the bag.</summary>
internal sealed record SoilProfile(IReadOnlyList<SoilLayer> Depths, IReadOnlyList<LayerSource> Sources) : CovariateMaking
{
    /// <summary>Share of the bag that must be described for a value.</summary>
    public const double LeastCovered = 0.5;

    public override IReadOnlyList<LayerSource> Layers => Sources;

    public override bool DependsOnBurial => true;

    public override string Identity =>
        $"depths {string.Join(' ', Depths.Select(d => Invariant($"{d.TopCentimetres:R}-{d.BottomCentimetres:R}")))}";

    public override CovariateRecipe RecipeFor(BurialConditions conditions)
    {
        if (conditions.Interval is not var (top, bottom))
            return CovariateRecipe.Missing(RecipeGap.NoDepth);

        (IReadOnlyList<double> weights, double covered) = DepthWeights.Of(Depths, top, bottom);
        return covered < LeastCovered
            ? CovariateRecipe.Missing(RecipeGap.NotCovered, covered)
            : CovariateRecipe.Sum(Sources.Zip(weights), covered);
    }
}

/// <summary>Twelve monthly layers, January first, weighted by days.</summary>
internal sealed record MonthlyClimatology(IReadOnlyList<LayerSource> Months, TimeStatistic Statistic, double? Base, TimeSpanned Over)
    : CovariateMaking
{
    /// <summary>A year without a leap day, for what is taken over a whole year.</summary>
    public static ExposureDays CommonYear { get; } = new(new DateOnly(2001, 1, 1), new DateOnly(2002, 1, 1));

    public override TimeStatistic? TakenOverTime => Statistic;

    public override IReadOnlyList<LayerSource> Layers => Months;

    public override bool DependsOnBurial => Over == TimeSpanned.Exposure;

    public override string Identity => Invariant($"months {Statistic} {Base:R} {Over}");

    public override CovariateRecipe RecipeFor(BurialConditions conditions)
    {
        ExposureDays? days = Over == TimeSpanned.Year ? CommonYear : conditions.Exposure;
        if (days is not { Count: > 0 })
            return CovariateRecipe.Missing(RecipeGap.NoDates);

        double[] weights = new double[12];
        foreach (ExposedMonth month in days.Months())
        {
            weights[month.Month - 1] += Statistic switch
            {
                TimeStatistic.Mean => month.Days / (double)days.Count,
                TimeStatistic.Sum => month.Days / (double)month.DaysInMonth,
                _ => month.Days,
            };
        }

        return CovariateRecipe.Sum(Months.Zip(weights), threshold: Statistic == TimeStatistic.DegreeDays ? Base : null);
    }
}
