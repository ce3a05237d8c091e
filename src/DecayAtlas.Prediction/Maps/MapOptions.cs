namespace DecayAtlas.Prediction.Maps;

/// <summary>What a map shows and how its cells lie.</summary>
/// <param name="Title">Heading of the picture, title of the files.</param>
/// <param name="Sites">Training sites to draw as dots; leave out those whose coordinates are sensitive.</param>
public sealed record MapOptions(string Title, IReadOnlyList<GeoPoint> Sites)
{
    /// <summary>Where.</summary>
    public MapRegion Region { get; init; } = MapRegion.Whole;

    /// <summary>Reference system, a code or well-known text; null keeps that of the finest grid.</summary>
    public string? Crs { get; init; }

    /// <summary>Side of a cell in the unit of the reference system; null keeps the cells of the finest grid.</summary>
    public double? CellSize { get; init; }

    /// <summary>Season and depth that the map is for; needed where a covariate depends on them.</summary>
    public BurialConditions Conditions { get; init; } = BurialConditions.None;
}

/// <summary>The files of a map.</summary>
/// <param name="Tif">GeoTIFF of the bands of <see cref="MapBands"/>.</param>
/// <param name="NetCdf">The same as NetCDF-4; null for none.</param>
/// <param name="Png">The picture.</param>
public sealed record MapFiles(string Tif, string? NetCdf, string Png)
{
    internal IEnumerable<string> All => NetCdf is null ? [Tif, Png] : [Tif, NetCdf, Png];
}

/// <summary>What a map run did.</summary>
/// <param name="ModelId">The model that predicts.</param>
/// <param name="Crs">Reference system of the cells.</param>
/// <param name="Lattice">The cells.</param>
/// <param name="Resampling">How each covariate came to these cells.</param>
/// <param name="Cells">All cells.</param>
/// <param name="Predicted">Cells with a prediction.</param>
/// <param name="Missing">Cells without one, because a covariate is missing there or they lie outside the region.</param>
/// <param name="Applicable">Predicted cells inside the area of applicability.</param>
/// <param name="PredictedSquareKilometres">Area of the predicted cells on the ellipsoid.</param>
/// <param name="ApplicableSquareKilometres">Area of those inside the area of applicability.</param>
/// <param name="MinimumRatePerDay">Smallest prediction, d⁻¹; null when there is none.</param>
/// <param name="MeanRatePerDay">Mean over the predicted area, cells weighted by their area, d⁻¹.</param>
/// <param name="MaximumRatePerDay">Largest prediction, d⁻¹.</param>
/// <param name="ClippedToGrids">Whether the region asked for reached beyond the grids and was cut to them.</param>
public sealed record MapSummary(
    string ModelId,
    string Crs,
    GridLattice Lattice,
    IReadOnlyDictionary<string, string> Resampling,
    long Cells,
    long Predicted,
    long Missing,
    long Applicable,
    double PredictedSquareKilometres,
    double ApplicableSquareKilometres,
    double? MinimumRatePerDay,
    double? MeanRatePerDay,
    double? MaximumRatePerDay,
    bool ClippedToGrids);
