namespace DecayAtlas.Demo.Campaigns;

/// <summary>
/// The production lots of the two invented litters. All numbers are invented. The true hydrolysable fraction of a lot
/// is the stated one, so that the recovered response can be compared with the truth without a lot-sized offset.
/// </summary>
internal static class StandardLots
{
    public static readonly IReadOnlyList<LotDraft> Fast =
    [
        new("F-23-1", LitterRole.Fast, 0.762, 0.018, 0.052, 0.34),
        new("F-24-1", LitterRole.Fast, 0.778, 0.016, 0.049, 0.34),
        new("F-24-2", LitterRole.Fast, 0.749, 0.020, 0.055, 0.35),
    ];

    public static readonly IReadOnlyList<LotDraft> Slow =
    [
        new("S-23-1", LitterRole.Slow, 0.472, 0.026, 0.031, 0.34),
        new("S-24-1", LitterRole.Slow, 0.488, 0.024, 0.028, 0.34),
        new("S-24-2", LitterRole.Slow, 0.461, 0.028, 0.033, 0.35),
    ];

    /// <summary>Every litter bag holds 4 g, give or take 0.3 g.</summary>
    public const double NominalGrams = 4.0, ToleranceGrams = 0.3;

    public const double AshSd = 0.003, TareSdGrams = 0.008;

    /// <summary>A lot whose sheet gives the hydrolysable fraction only: no ash, no tare, no nominal mass.</summary>
    public static LotDraft WithShortSheet(LitterRole role) => role == LitterRole.Fast
        ? new LotDraft("F-trial", role, 0.770, 0.025)
        : new LotDraft("S-trial", role, 0.480, 0.030);
}
