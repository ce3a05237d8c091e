namespace DecayAtlas.Pipeline.Flags;

/// <summary>The limits of the flags. Each default is common practice, no source, and each is a setting.</summary>
/// <param name="ExposureMinDays">Shortest exposure (d).</param>
/// <param name="ExposureMaxDays">Longest exposure (d).</param>
/// <param name="DepthMinCentimetres">Shallowest burial (cm).</param>
/// <param name="DepthMaxCentimetres">Deepest burial (cm).</param>
/// <param name="BalanceMaxGrams">Coarsest balance (g).</param>
/// <param name="CoordinateUncertaintyMaxMetres">Roughest place (m).</param>
/// <param name="CountryDistanceMetres">Furthest a site may lie from its country (m).</param>
/// <param name="SiteMovedMetres">Furthest one site may move between contributions (m).</param>
/// <param name="ReplicateOutlierLevel">Share of sound sites at which chance would flag a replicate of a quantity: 0.01 or 0.05 (1).</param>
/// <param name="DigitPreferenceLevel">Share of sound contributions whose last digits chance would flag (1).</param>
/// <param name="MultivariateOutlierLevel">Share of sound burials that chance would note as apart in S and ln k together (1).</param>
/// <param name="ContributorBiasLimit">Standard deviations from the consensus beyond which a contribution is noted: 3, the action limit of ISO 13528:2015, 9.4.</param>
/// <param name="SurpriseLimit">Standard deviations from what is expected beyond which a site is noted.</param>
/// <param name="SurpriseBlockDegrees">Side of the spatial blocks that are left out together (degrees).</param>
/// <param name="PastedAcrossLevel">How many pairs of sound contributions of a whole atlas chance may note as pasted.</param>
/// <param name="AsOf">No retrieval is later than this day; <see langword="null"/> leaves only the contribution's own day.</param>
public sealed record FlagOptions(
    int ExposureMinDays = 60,
    int ExposureMaxDays = 120,
    double DepthMinCentimetres = 6,
    double DepthMaxCentimetres = 10,
    double BalanceMaxGrams = 0.05,
    double CoordinateUncertaintyMaxMetres = 5000,
    double CountryDistanceMetres = 10_000,
    double SiteMovedMetres = 200,
    double ReplicateOutlierLevel = 0.01,
    double DigitPreferenceLevel = 0.001,
    double MultivariateOutlierLevel = 0.0005,
    double ContributorBiasLimit = 3,
    double SurpriseLimit = 4,
    double SurpriseBlockDegrees = 1,
    double PastedAcrossLevel = 0.01,
    DateOnly? AsOf = null);
