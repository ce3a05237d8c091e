using System.Globalization;

namespace DecayAtlas.Grids.Catalogue;

/// <summary>
/// The dated steps of a NetCDF variable, daily or monthly or with bounds, weighted by the days they share with the exposure. A
/// series that does not reach over every day of the exposure gives no value.
/// </summary>
/// <param name="File">The file and variable, without the step.</param>
/// <param name="Dimension">Name of the time dimension; null finds the one there is.</param>
public sealed record DatedSeries(LayerSource File, TimeStatistic Statistic, double? Base, string? Dimension) : CovariateMaking
{
    private readonly Lazy<DatedStepLayer[]> _steps = new(() => StepsOf(File, Dimension));

    public override TimeStatistic? TakenOverTime => Statistic;

    public override IReadOnlyList<LayerSource> Layers => [.. _steps.Value.Select(s => s.Source)];

    public override IReadOnlyList<LayerSource> Declared => [File];

    public override bool DependsOnBurial => true;

    public override string Identity => Invariant($"series {Statistic} {Base:R} {Dimension}");

    public IReadOnlyList<LayerSource> LayersOver(ExposureDays exposure) => [.. SharingDays(exposure).Steps.Select(s => s.Layer.Source)];

    public override CovariateRecipe RecipeFor(BurialConditions conditions)
    {
        if (conditions.Exposure is not { Count: > 0 } exposure)
            return CovariateRecipe.Missing(RecipeGap.NoDates);

        return RecipeOver(exposure, steps => CovariateRecipe.Sum(
            steps.Select(s => (s.Layer.Source, Statistic switch
            {
                TimeStatistic.Mean => s.Days / (double)exposure.Count,
                TimeStatistic.Sum => s.Days / (double)s.Layer.Step.Length,
                _ => s.Days,
            })),
            threshold: Statistic == TimeStatistic.DegreeDays ? Base : null));
    }

    /// <summary>What is made of the steps that share days with an exposure, where together they cover all of it.</summary>
    internal CovariateRecipe RecipeOver(ExposureDays exposure, Func<(DatedStepLayer Layer, int Days)[], CovariateRecipe> make)
    {
        ((DatedStepLayer Layer, int Days)[] steps, int covered) = SharingDays(exposure);
        return covered < exposure.Count
            ? CovariateRecipe.Missing(RecipeGap.NotCovered, covered / (double)exposure.Count)
            : make(steps);
    }

    /// <summary>The steps that share days with an exposure, how many each, and how many in all.</summary>
    private ((DatedStepLayer Layer, int Days)[] Steps, int Covered) SharingDays(ExposureDays exposure)
    {
        (DatedStepLayer Layer, int Days)[] steps =
        [
            .. _steps.Value
                .Select(s => (s, Days: Math.Min(exposure.RetrievedOn.DayNumber, s.Step.Before.DayNumber)
                    - Math.Max(exposure.BuriedOn.DayNumber, s.Step.From.DayNumber)))
                .Where(s => s.Days > 0),
        ];
        return (steps, steps.Sum(s => s.Days));
    }

    private static DatedStepLayer[] StepsOf(LayerSource file, string? dimension) => file.Guarded<DatedStepLayer[]>(() =>
    {
        (string name, IReadOnlyList<DatedStep> steps) = CfDates.Read(file.Path, file.Options.Variable, dimension);
        return
        [
            .. steps.OrderBy(s => s.From).Select(step => new DatedStepLayer(step, file with
            {
                Name = step.From.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                Options = file.Options.At(name, $"#{step.Number}"),
            })),
        ];
    });
}

internal sealed record DatedStepLayer(DatedStep Step, LayerSource Source);
