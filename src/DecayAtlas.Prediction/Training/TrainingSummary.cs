namespace DecayAtlas.Prediction.Training;

/// <summary>What a model was trained on; weights are over their mean.</summary>
/// <param name="Rows">Site x campaign.</param>
/// <param name="EffectiveRows">(Σw)²/Σw²: as many rows of equal weight would say as much (Kish 1965, Survey Sampling, from memory).</param>
public sealed record TrainingSummary(
    int Rows,
    int RowsLeftOut,
    IReadOnlyList<MissingCovariate> Missing,
    int Sites,
    int Campaigns,
    int Ecosystems,
    double SmallestWeight,
    double LargestWeight,
    double EffectiveRows,
    DateOnly FirstBuriedOn,
    DateOnly LastRetrievedOn,
    double WestDegrees,
    double SouthDegrees,
    double EastDegrees,
    double NorthDegrees)
{
    /// <summary>Accepted burials with k of 0 or below, which ln k cannot hold.</summary>
    public int NotPositiveBurials { get; init; }

    /// <summary>Burials left out since their slow litter is at its plateau.</summary>
    public int BurialsAtPlateau { get; init; }

    /// <summary>Classes with too few rows to stand alone.</summary>
    public IReadOnlyList<RareClass> RareClasses { get; init; } = [];

    internal static TrainingSummary Of(TrainingSet set, CovariateTable table)
    {
        int Distinct(Func<TrainingRow, string?> of) => table.Rows.Select(of).OfType<string>().Distinct(StringComparer.Ordinal).Count();
        double mean = table.Weights.Average();
        return new(
            table.Count,
            set.RowsLeftOut,
            set.Missing,
            Distinct(r => r.SiteKey),
            Distinct(r => r.Campaign),
            Distinct(r => r.Ecosystem),
            table.Weights.Min() / mean,
            table.Weights.Max() / mean,
            table.Weights.Sum() * table.Weights.Sum() / table.Weights.Sum(w => w * w),
            table.Rows.Min(r => r.FirstBuriedOn),
            table.Rows.Max(r => r.LastRetrievedOn),
            table.Rows.Min(r => r.LongitudeDegrees),
            table.Rows.Min(r => r.LatitudeDegrees),
            table.Rows.Max(r => r.LongitudeDegrees),
            table.Rows.Max(r => r.LatitudeDegrees))
        {
            NotPositiveBurials = set.NotPositiveBurials,
            BurialsAtPlateau = set.BurialsAtPlateau,
            RareClasses = set.RareClasses,
        };
    }
}
