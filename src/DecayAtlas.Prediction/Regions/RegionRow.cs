namespace DecayAtlas.Prediction.Regions;

/// <summary>A map summed over one polygon. Shares and means are by area on the WGS 84 ellipsoid.</summary>
/// <param name="Name">Name of the polygon.</param>
/// <param name="SquareKilometres">Area of the polygon.</param>
/// <param name="PredictedSquareKilometres">Area of it that has a prediction.</param>
/// <param name="ApplicableShare">Share of the predicted area inside the area of applicability; null where nothing is predicted.</param>
/// <param name="MeanRatePerDay">Mean k over the predicted area, d⁻¹.</param>
/// <param name="MeanLowerRatePerDay">Lower end of its interval, of the level of the map's own.</param>
/// <param name="MeanUpperRatePerDay">Upper end.</param>
/// <param name="ApplicableMeanRatePerDay">Mean k over the applicable area alone, d⁻¹; null where there is none.</param>
/// <param name="Cells">Cells of the map that the polygon touches and that have a prediction.</param>
/// <param name="IndependentCells">To how many cells with unrelated errors they amount.</param>
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
    double? IndependentCells);
