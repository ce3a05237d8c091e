namespace DecayAtlas.Demo.Campaigns;

/// <summary>
/// The production lots of the two invented litters. All numbers are invented. What a lot is made of and what its sheet says are two
/// things: sheets differ in basis and in the fractions they count, and each is off by its own error.
/// </summary>
internal static class StandardLots
{
    public static readonly IReadOnlyList<LotDraft> Fast =
    [
        new("F-23-1", LitterRole.Fast, 0.762, 0.018, 0.052, 0.34)
        {
            Water = 0.060, Truth = new(Nonpolar: 0.060, WaterSoluble: 0.440, AcidSoluble: 0.300, Ash: 0.053, Water: 0.064),
        },
        new("F-24-1", LitterRole.Fast, 0.760, 0.016, 0.049, 0.34)
        {
            IsAshFree = true, Nonpolar = 0.055, Water = 0.062,
            Truth = new(Nonpolar: 0.058, WaterSoluble: 0.452, AcidSoluble: 0.302, Ash: 0.050, Water: 0.058),
        },
        new("F-24-2", LitterRole.Fast, 0.749, 0.020, 0.055, 0.35)
        {
            Water = 0.058, Truth = new(Nonpolar: 0.061, WaterSoluble: 0.436, AcidSoluble: 0.303, Ash: 0.054, Water: 0.060),
        },
    ];

    public static readonly IReadOnlyList<LotDraft> Slow =
    [
        new("S-23-1", LitterRole.Slow, 0.472, 0.026, 0.031, 0.34)
        {
            Water = 0.070, Truth = new(Nonpolar: 0.045, WaterSoluble: 0.210, AcidSoluble: 0.245, Ash: 0.030, Water: 0.066),
        },
        new("S-24-1", LitterRole.Slow, 0.500, 0.024, 0.028, 0.34)
        {
            IsAshFree = true, Water = 0.068,
            Truth = new(Nonpolar: 0.047, WaterSoluble: 0.200, AcidSoluble: 0.245, Ash: 0.029, Water: 0.071),
        },
        new("S-24-2", LitterRole.Slow, 0.461, 0.028, 0.033, 0.35)
        {
            Water = 0.072, Truth = new(Nonpolar: 0.044, WaterSoluble: 0.202, AcidSoluble: 0.240, Ash: 0.032, Water: 0.070),
        },
    ];

    /// <summary>Every litter bag holds 4 g, give or take 0.3 g.</summary>
    public const double NominalGrams = 4.0, ToleranceGrams = 0.3;

    public const double AshSd = 0.003, TareSdGrams = 0.008, WaterSd = 0.005, NonpolarSd = 0.004;

    /// <summary>A lot whose sheet gives the hydrolysable fraction only: no ash, no tare, no nominal mass.</summary>
    public static LotDraft WithShortSheet(LitterRole role) => role == LitterRole.Fast
        ? new LotDraft("F-trial", role, 0.770, 0.025)
        : new LotDraft("S-trial", role, 0.480, 0.030);
}
