using System.Globalization;

namespace DecayAtlas.Grids.Catalogue;

/// <summary>
/// The dated steps of a NetCDF variable, daily or monthly or with bounds, weighted by the days they share with the exposure. A
/// series that does not reach over every day of the exposure gives no value.
/// </summary>
/// <param name="File">The file and variable, without the step.</param>
/// <param name="Statistic">What is taken over the days.</param>
/// <param name="Base">For degree-days.</param>
/// <param name="Dimension">Name of the time dimension; null finds the one there is.</param>
public sealed record DatedSeries(LayerSource File, TimeStatistic Statistic, double? Base, string? Dimension) : CovariateMaking
{
    private readonly Lazy<IReadOnlyList<DatedStepLayer>> _steps = new(() => StepsOf(File, Dimension));

    public override IReadOnlyList<LayerSource> Layers => [.. _steps.Value.Select(s => s.Source)];

    public override IReadOnlyList<LayerSource> Declared => [File];

    public override bool DependsOnBurial => true;

    public override string Identity => string.Create(CultureInfo.InvariantCulture, $"series {Statistic} {Base:R} {Dimension}");

    public override IReadOnlyList<LayerSource> LayersOver(ExposureDays exposure) => [.. Shared(exposure).Felt.Select(f => f.Layer.Source)];

    public override CovariateRecipe RecipeFor(BurialConditions conditions)
    {
        if (conditions.Exposure is not { Count: > 0 } exposure)
            return CovariateRecipe.Missing(RecipeGap.NoDates);

        ((DatedStepLayer Layer, int Days)[] felt, int covered) = Shared(exposure);
        return covered < exposure.Count
            ? CovariateRecipe.Missing(RecipeGap.NotCovered, covered / (double)exposure.Count)
            : CovariateRecipe.Sum(
                felt.Select(f => (f.Layer.Source, Statistic switch
                {
                    TimeStatistic.Mean => f.Days / (double)exposure.Count,
                    TimeStatistic.Sum => f.Days / (double)f.Layer.Step.Length,
                    _ => f.Days,
                })),
                threshold: Statistic == TimeStatistic.DegreeDays ? Base : null);
    }

    /// <summary>The steps that share days with an exposure, how many each, and how many in all.</summary>
    internal ((DatedStepLayer Layer, int Days)[] Felt, int Covered) Shared(ExposureDays exposure)
    {
        (DatedStepLayer Layer, int Days)[] felt =
        [
            .. _steps.Value
                .Select(s =>
                    (s, Math.Min(exposure.RetrievedOn.DayNumber, s.Step.Before.DayNumber)
                        - Math.Max(exposure.BuriedOn.DayNumber, s.Step.From.DayNumber)))
                .Where(s => s.Item2 > 0),
        ];
        return (felt, felt.Sum(f => f.Days));
    }

    private static List<DatedStepLayer> StepsOf(LayerSource file, string? dimension)
    {
        try
        {
            (string name, IReadOnlyList<DatedStep> steps) = CfDates.Read(file.Path, file.Options.Variable, dimension);
            return
            [
                .. steps.OrderBy(s => s.From).Select(step => new DatedStepLayer(step, file with
                {
                    Name = step.From.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                    Options = file.Options with
                    {
                        Select = new Dictionary<string, string>(file.Options.Select ?? new Dictionary<string, string>()) { [name] =
                            string.Create(CultureInfo.InvariantCulture, $"#{step.Number}") },
                    },
                })),
            ];
        }
        catch (GridException e) when (file.Owner.Length > 0)
        {
            throw new GridException($"{file.Owner}: {e.Message}", e);
        }
    }
}

/// <summary>One step of a dated series and the layer that holds its values.</summary>
internal sealed record DatedStepLayer(DatedStep Step, LayerSource Source);
