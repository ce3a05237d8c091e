namespace DecayAtlas.Prediction.Regions;

/// <summary>A map summed over one polygon. Shares and means are by area on the WGS 84 ellipsoid.</summary>
/// <param name="PredictedSquareKilometres">With a prediction.</param>
/// <param name="ApplicableShare">Of the predicted area inside the area of applicability; null where nothing is predicted.</param>
/// <param name="MeanRatePerDay">Null for a map of S, as the other rates are.</param>
/// <param name="MeanLowerRatePerDay">The interval of the mean, of the level of the map's own.</param>
/// <param name="ApplicableMeanRatePerDay">Over the applicable area alone; null where there is none.</param>
/// <param name="Cells">Cells of the map that the polygon touches and that have a prediction.</param>
/// <param name="IndependentCells">To how many cells with unrelated errors of places they amount.</param>
/// <param name="SharedShare">Share of the squared half-width that comes from the lots and batches that sites share.</param>
public sealed record RegionRow(
    string Name,
    double SquareKilometres,
    double PredictedSquareKilometres,
    double? ApplicableShare,
    double? MeanRatePerDay,
    double? MeanLowerRatePerDay,
    double? MeanUpperRatePerDay,
    double? ApplicableMeanRatePerDay,
    long Cells,
    double? IndependentCells,
    double? SharedShare)
{
    /// <summary>ln 2 over the mean k: of the region's mean decay, and no mean of the half-lives of its cells.</summary>
    public double? HalfLifeDays => DaysOf(MeanRatePerDay);

    public double? HalfLifeLowerDays => DaysOf(MeanUpperRatePerDay);

    public double? HalfLifeUpperDays => DaysOf(MeanLowerRatePerDay);

    /// <summary>Of a map of S.</summary>
    public MeanStabilisation? Stabilisation { get; init; }

    private static double? DaysOf(double? rate) => rate is > 0 and { } k ? HalfLife.Days(k) : null;
}

/// <summary>The mean S of a region by area; numbers are null where nothing is predicted.</summary>
/// <param name="Lower">The interval of the mean, of the level of the map's own.</param>
/// <param name="ApplicableMean">Over the applicable area alone; null where there is none.</param>
public sealed record MeanStabilisation(double? Mean, double? Lower, double? Upper, double? ApplicableMean);
