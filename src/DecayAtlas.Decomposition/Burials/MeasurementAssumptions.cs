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

    /// <summary>Dried until two weighings agree to about that.</summary>
    [Setting("moisture_sd", "a share of the dry mass, 0 to 0.5; for oven- and freeze-dried litter",
        "Standard uncertainty of a dry mass from the moisture that an oven or freeze-drying leaves", Least = 0, Most = 0.5)]
    public double MoistureSd { get; init; } = 0.005;

    [Setting("moisture_sd_undried", "a share of the dry mass, 0 to 0.5; for litter dried in air or not at all",
        "The same for litter dried in air or not at all", Least = 0, Most = 0.5)]
    public double UndriedMoistureSd { get; init; } = 0.03;
}
