namespace DecayAtlas.Prediction.Training;

/// <summary>What a model was trained on.</summary>
/// <param name="Rows">Training rows (site x campaign).</param>
/// <param name="RowsLeftOut">Rows not used because a covariate is missing.</param>
/// <param name="Missing">Which covariates those rows lack.</param>
/// <param name="Sites">Training sites.</param>
/// <param name="Campaigns">Training campaigns.</param>
/// <param name="Ecosystems">Ecosystems stated.</param>
/// <param name="SmallestWeight">Smallest weight over the mean weight.</param>
/// <param name="LargestWeight">Largest weight over the mean weight.</param>
/// <param name="EffectiveRows">(Σw)²/Σw²: as many rows of equal weight would say as much (Kish 1965, Survey Sampling, from memory).</param>
/// <param name="FirstBuriedOn">Earliest burial.</param>
/// <param name="LastRetrievedOn">Latest retrieval.</param>
/// <param name="WestDegrees">Western edge of the training sites (WGS 84).</param>
/// <param name="SouthDegrees">Southern edge.</param>
/// <param name="EastDegrees">Eastern edge.</param>
/// <param name="NorthDegrees">Northern edge.</param>
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
            table.Rows.Max(r => r.LatitudeDegrees));
    }
}
