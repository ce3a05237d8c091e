namespace DecayAtlas.Questions.Tests.Simulated;

/// <summary>What is true in a <see cref="WeighedRelease"/>. Standard deviations are of ln k; those of S are a fifth, with a correlation of
/// -0.4.</summary>
internal sealed record WeighedDesign
{
    /// <summary>Standard deviation between ecosystems.</summary>
    public double Ecosystem { get; init; }

    public double Site { get; init; } = 0.25;

    public double Block { get; init; }

    public double Season { get; init; } = 0.08;

    public double SeasonAtSite { get; init; } = 0.1;

    public double Plot { get; init; } = 0.08;

    public double Burial { get; init; } = 0.15;

    /// <summary>What warming does to ln k and S of a plot, and how that differs from site to site (of ln k).</summary>
    public (double LnRate, double Stabilisation, double Sd) Warming { get; init; }

    /// <summary>E0 (K) of Lloyd and Taylor 1994.</summary>
    public double E0 { get; init; }

    public double StabilisationPerTenKelvin { get; init; }

    /// <summary>Change of ln k, and of S, with the share of water in the soil.</summary>
    public (double LnRate, double Stabilisation) PerMoisture { get; init; }

    /// <summary>Change of ln k, and of S, with one unit of pH.</summary>
    public (double LnRate, double Stabilisation) PerAcidity { get; init; }

    /// <summary>Change of ln k, and of S, in a year.</summary>
    public (double LnRate, double Stabilisation) PerYear { get; init; }

    public int Contributors { get; init; } = 8;

    public int FewestCampaigns { get; init; } = 2;

    /// <summary>How far true sheets, tares, waters and balances are off, in the standard uncertainties they are told with.</summary>
    public double Lots { get; init; } = 1;

    public double Batches { get; init; } = 1;

    /// <summary>A world in which groups differ.</summary>
    public static WeighedDesign OfGroups { get; } = new() { Ecosystem = 0.25, Warming = (0.25, -0.03, 0.08) };

    /// <summary>A world in which none does; what warming does differs from site to site and comes to nothing.</summary>
    public static WeighedDesign OfNothing { get; } = new() { Warming = (0, 0, 0.08) };

    /// <summary>A world in which warmth, water, acidity and years move k and S.</summary>
    public static WeighedDesign OfSlopes { get; } = new()
    {
        Block = 0.1,
        E0 = 308.56,
        StabilisationPerTenKelvin = -0.11,
        PerMoisture = (2, -0.3),
        PerAcidity = (0.1, -0.01),
        PerYear = (-0.05, 0.01),
        FewestCampaigns = 3,
    };
}
