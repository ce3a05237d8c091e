namespace DecayAtlas.Decomposition.Burials;

/// <summary>
/// What is assumed about a measurement when the contribution does not say. Each default is common practice,
/// no source, and each can be set in the configuration.
/// </summary>
public sealed record MeasurementAssumptions
{
    public static MeasurementAssumptions Default { get; } = new();

    [Setting("balance_resolution_g", "grams above 0", "Resolution of a balance whose resolution was not stated", Above = 0)]
    public double BalanceResolutionGrams { get; init; } = 0.01;

    [Setting("tare_sd_g", "grams, 0 or more", "Standard deviation of the tare of single bags where the lot gives none", Least = 0)]
    public double TareSdGrams { get; init; } = 0.02;

    [Setting("ash_fraction_sd", "a share, 0 to 1", "Standard uncertainty of a measured ash fraction that came without one", Least = 0,
        Most = 1)]
    public double AshFractionSd { get; init; } = 0.005;

    /// <summary>A date says the day, not the hour.</summary>
    [Setting("date_half_width_d", "days, 0 or more", "Half width of the rectangular distribution of a burial or retrieval date", Least = 0)]
    public double DateHalfWidthDays { get; init; } = 0.5;

    /// <summary>How well the mean of the empty bags that were weighed stands for the lot.</summary>
    [Setting("tare_mean_sd_g", "grams, 0 or more", "Standard uncertainty of the mean tare of a lot, which all its bags share", Least = 0)]
    public double TareMeanSdGrams { get; init; } = 0.005;

    [Setting("balance_offset_sd_g", "grams, 0 or more",
        "Standard uncertainty of what a balance reads too much or too little in every weighing of a batch", Least = 0)]
    public double BalanceOffsetSdGrams { get; init; } = 0.005;

    /// <summary>Dried until two weighings agree to about that.</summary>
    [Setting("moisture_sd", "a share of the mass, 0 to 0.5",
        "Standard uncertainty of the water that an oven or freeze-drying leaves, and of a measured moisture that came without one",
        Least = 0, Most = 0.5)]
    public double MoistureSd { get; init; } = 0.005;

    /// <summary>Plant litter in the air of a room takes up some hundredths of its mass.</summary>
    [Setting("moisture_most_air_dry", "a share of the mass, 0 to 0.9",
        "Most water that litter holds that was dried in air, is as supplied, or of which nothing is said; anything from none to this, or "
        + "to the lot's own moisture and 1.96 of its sd more where that is larger, is taken as equally likely", Least = 0, Most = 0.9)]
    public double MoistureMostAirDry { get; init; } = 0.10;

    [Setting("moisture_most_undried", "a share of the mass, 0 to 0.9",
        "Most water that retrieved litter holds that was not dried at all", Least = 0, Most = 0.9)]
    public double MoistureMostUndried { get; init; } = 0.60;

    [Setting("nonpolar_most_fraction", "a share of the litter, 0 to 0.5",
        "Most non-polar extractives of a lot whose H does not count them and whose share is not known", Least = 0, Most = 0.5)]
    public double NonpolarMostFraction { get; init; } = 0.10;

    [Setting("lot_ash_most_fraction", "a share of the dry litter, 0 to 0.5",
        "Most ash of a lot whose ash is not known, where H has to be taken from one basis to the other", Least = 0, Most = 0.5)]
    public double LotAshMostFraction { get; init; } = 0.15;
}
