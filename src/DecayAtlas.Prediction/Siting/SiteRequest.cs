namespace DecayAtlas.Prediction.Siting;

/// <summary>What is asked: how many new sites, what they would be measured wrong by, and where none may lie.</summary>
public sealed record SiteRequest(int Count, SiteNoise Noise)
{
    public const int MostSites = 100;

    /// <summary>Least distance of a new site from every other, new or existing.</summary>
    public double ApartMetres { get; init; } = 1000;

    /// <summary>Whether places outside the area of applicability are proposed too.</summary>
    public bool IsOutsideToo { get; init; }

    /// <summary>Whether what a site tells of its surroundings counts, as for whoever krigs the residuals.</summary>
    public bool IsKriged { get; init; }

    public IReadOnlyList<ExistingSite> Existing { get; init; } = [];

    /// <summary>Where nobody may bury; missing where nobody said.</summary>
    public RegionSet? Avoid { get; init; }
}

/// <summary>A site as it is published.</summary>
/// <param name="IsHidden">The place is the centre of a cell of 0.1 degrees that hides where it really is.</param>
public sealed record ExistingSite(GeoPoint Place, bool IsHidden);

/// <summary>A mean that is to be surer: over a polygon, or over the whole map.</summary>
/// <param name="Shape">Missing for the whole map.</param>
public sealed record SitedRegion(string Name, NetTopologySuite.Geometries.Geometry? Shape);
