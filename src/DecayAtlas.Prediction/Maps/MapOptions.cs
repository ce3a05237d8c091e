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

    /// <summary>How classes come to places; needed where sites state them. A difference has those of its sides.</summary>
    public ClassChoices Choices { get; init; } = ClassChoices.None;
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
    bool ClippedToGrids)
{
    /// <summary>The class that every cell was taken for, by covariate; missing where none was chosen.</summary>
    public IReadOnlyDictionary<string, string>? AsIf { get; init; }

    /// <summary>Cells without a prediction whose covariates are all there, but of a class that the model never saw, by "covariate: class";
    /// missing where there are none.</summary>
    public IReadOnlyDictionary<string, long>? UnseenClasses { get; init; }

    /// <summary>How far the map would be another without noted records; missing where the model rests on none, or could not be trained
    /// without.</summary>
    public MapShift? WithoutNoted { get; init; }
}

/// <summary>The ratio of k predicted without noted records to k of the map, or its inverse where that is above 1: 1 is no
/// difference.</summary>
/// <param name="Every">Cells from one that was asked to the next, in both directions.</param>
/// <param name="Cells">Cells that were asked and have a prediction.</param>
public sealed record MapShift(int Every, int Cells, double MedianFactor, double Factor95, double LargestFactor);
