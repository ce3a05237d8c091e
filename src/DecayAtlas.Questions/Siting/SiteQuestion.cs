namespace DecayAtlas.Questions.Siting;

/// <summary>What is asked of new sites.</summary>
/// <param name="Polygons">A GeoJSON file of regions; missing for the whole map.</param>
/// <param name="NameProperty">What names them.</param>
/// <param name="Region">One of them; missing for all together where there are polygons.</param>
public sealed record SiteQuestion(string? Polygons, string? NameProperty, string? Region, int Count)
{
    /// <summary>At each new site.</summary>
    public int Burials { get; init; } = 4;

    public double ApartKilometres { get; init; } = 1;

    public bool IsOutsideToo { get; init; }

    /// <summary>Whether what a site tells of its surroundings counts.</summary>
    public bool IsKriged { get; init; }

    /// <summary>A GeoJSON file of where nobody may bury.</summary>
    public string? Avoid { get; init; }
}

/// <summary>Where to bury next, and what has to be said of it.</summary>
/// <param name="Cautions">Before anything else.</param>
public sealed record SiteAnswer(SitePlan Plan, SiteNoise Noise, IReadOnlyList<string> Cautions, IReadOnlyList<string> Sentences);
