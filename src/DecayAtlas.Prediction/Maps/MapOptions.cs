using DecayAtlas.Grids;

namespace DecayAtlas.Prediction;

/// <summary>What a map says and shows beside the prediction.</summary>
/// <param name="Title">Heading of the picture.</param>
/// <param name="Sites">Training sites to draw as dots; leave out those whose coordinates are sensitive.</param>
public sealed record MapOptions(string Title, IReadOnlyList<GeoPoint> Sites);

/// <summary>What a map run did.</summary>
/// <param name="Geometry">Cells of the map: the lattice of the finest covariate.</param>
/// <param name="Cells">All cells.</param>
/// <param name="Predicted">Cells with a prediction.</param>
/// <param name="Missing">Cells without one, because a covariate is missing there.</param>
/// <param name="OutsideTrainingRange">Predicted cells where at least one covariate lies outside its training range.</param>
/// <param name="MinimumRatePerDay">Smallest prediction, d⁻¹; null when there is none.</param>
/// <param name="MeanRatePerDay">Mean over predicted cells, each cell counted once whatever its area, d⁻¹.</param>
/// <param name="MaximumRatePerDay">Largest prediction, d⁻¹.</param>
/// <param name="ClippedToGrids">Whether the region asked for reached beyond the grids and was cut to them.</param>
public sealed record MapSummary(
    GridGeometry Geometry,
    long Cells,
    long Predicted,
    long Missing,
    long OutsideTrainingRange,
    double? MinimumRatePerDay,
    double? MeanRatePerDay,
    double? MaximumRatePerDay,
    bool ClippedToGrids);
