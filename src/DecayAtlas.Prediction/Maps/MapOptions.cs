namespace DecayAtlas.Prediction.Maps;

/// <summary>What a map shows and how its cells lie.</summary>
/// <param name="Sites">Training sites to draw as dots; leave out those whose coordinates are sensitive.</param>
public sealed record MapOptions(string Title, IReadOnlyList<GeoPoint> Sites)
{
    public MapRegion Region { get; init; } = MapRegion.Whole;

    /// <summary>A code or well-known text; null keeps that of the finest grid.</summary>
    public string? Crs { get; init; }

    /// <summary>In the unit of the reference system; null keeps the cells of the finest grid.</summary>
    public double? CellSize { get; init; }

    /// <summary>Season and depth that the map is for; needed where a covariate depends on them.</summary>
    public BurialConditions Conditions { get; init; } = BurialConditions.None;
}

/// <summary>The files of a map.</summary>
/// <param name="NetCdf">The same as NetCDF-4; null for none.</param>
public sealed record MapFiles(string Tif, string? NetCdf, string Png)
{
    internal IEnumerable<string> All => NetCdf is null ? [Tif, Png] : [Tif, NetCdf, Png];
}

/// <summary>What a map run did: cells, and areas on the ellipsoid.</summary>
/// <param name="Missing">Because a covariate is missing there or they lie outside the region.</param>
/// <param name="MeanRatePerDay">Over the predicted area, cells weighted by their area; null when there is none.</param>
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
