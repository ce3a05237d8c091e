namespace DecayAtlas.Decomposition;

/// <summary>
/// What is assumed about a measurement when the contribution does not say. Each default is common practice,
/// no source, and each can be set in the configuration.
/// </summary>
/// <param name="BalanceResolutionGrams">Resolution of a balance whose resolution was not stated (g).</param>
/// <param name="TareSdGrams">Standard deviation of the tare of single bags where the lot gives none (g).</param>
/// <param name="AshFractionSd">Standard uncertainty of a measured ash fraction that came without one (1).</param>
/// <param name="DateHalfWidthDays">Half width of the rectangular distribution of a burial or retrieval date (d): a date says the day, not the hour.</param>
/// <param name="MoistureSd">Standard uncertainty of a dry mass from the moisture left by an oven or by freeze-drying, as a share of it (1): dried until two weighings agree to about that.</param>
/// <param name="UndriedMoistureSd">The same for litter dried in air or not at all.</param>
public sealed record MeasurementAssumptions(
    double BalanceResolutionGrams = 0.01,
    double TareSdGrams = 0.02,
    double AshFractionSd = 0.005,
    double DateHalfWidthDays = 0.5,
    double MoistureSd = 0.005,
    double UndriedMoistureSd = 0.03)
{
    public static MeasurementAssumptions Default { get; } = new();
}
