namespace DecayAtlas.Pipeline.Flags;

/// <summary>The limits of the flags. Each default is common practice, no source, but where one is named.</summary>
public sealed record FlagOptions
{
    [Setting("exposure_days/min", "a whole number of days", "Shortest exposure")]
    public int ExposureMinDays { get; init; } = 60;

    [Setting("exposure_days/max", "a whole number of days", "Longest exposure")]
    public int ExposureMaxDays { get; init; } = 120;

    [Setting("depth_cm/min", "a number of centimetres", "Shallowest burial")]
    public double DepthMinCentimetres { get; init; } = 6;

    [Setting("depth_cm/max", "a number of centimetres", "Deepest burial")]
    public double DepthMaxCentimetres { get; init; } = 10;

    [Setting("balance_max_g", "grams above 0", "Coarsest balance", Above = 0)]
    public double BalanceMaxGrams { get; init; } = 0.05;

    [Setting("coordinate_uncertainty_max_m", "metres above 0", "Roughest place", Above = 0)]
    public double CoordinateUncertaintyMaxMetres { get; init; } = 5000;

    [Setting("country_distance_m", "metres, 0 or more", "Furthest that a site may lie from its country", Least = 0)]
    public double CountryDistanceMetres { get; init; } = 10_000;

    [Setting("site_moved_m", "metres, 0 or more", "Furthest that one site may move between contributions", Least = 0)]
    public double SiteMovedMetres { get; init; } = 200;

    [Setting("replicate_outlier_level", "0.01 or 0.05", "Share of sound sites at which chance would flag a replicate of a quantity",
        OneOf = [0.01, 0.05])]
    public double ReplicateOutlierLevel { get; init; } = 0.01;

    [Setting("digit_preference_level", "a probability above 0 and at most 0.05",
        "Share of sound contributions whose last digits chance would flag", Above = 0, Most = 0.05)]
    public double DigitPreferenceLevel { get; init; } = 0.001;

    [Setting("multivariate_outlier_level", "a share of burials above 0 and at most 0.05",
        "Share of sound burials that chance would note as apart in S and ln k together", Above = 0, Most = 0.05)]
    public double MultivariateOutlierLevel { get; init; } = 0.0005;

    [Setting("contributor_bias_limit", "standard deviations, 2 or more",
        "Distance from the consensus beyond which a contribution is noted: 3 is the action limit of ISO 13528:2015, 9.4", Least = 2)]
    public double ContributorBiasLimit { get; init; } = 3;

    [Setting("surprise_limit", "standard deviations, 2 or more", "Distance from what is expected beyond which a site is noted", Least = 2)]
    public double SurpriseLimit { get; init; } = 4;

    [Setting("surprise_block_degrees", "degrees above 0 and at most 180", "Side of the spatial blocks that are left out together",
        Above = 0, Most = 180)]
    public double SurpriseBlockDegrees { get; init; } = 1;

    [Setting("pasted_across_level", "a number of pairs above 0 and at most 1",
        "How many pairs of sound contributions of a whole atlas chance may note as pasted", Above = 0, Most = 1)]
    public double PastedAcrossLevel { get; init; } = 0.01;

    /// <summary>Missing leaves only the contribution's own day.</summary>
    [Setting("as_of", "a day, as 2025-03-01; no retrieval is later", "The last day on which anything can have been retrieved")]
    public DateOnly? AsOf { get; init; }
}
