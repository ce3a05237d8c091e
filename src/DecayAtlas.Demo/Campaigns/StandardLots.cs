using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace DecayAtlas.Demo.Campaigns;

/// <summary>
/// The production lots of the two invented litters. All numbers are invented. What a lot is made of and what its sheet says are two
/// things: sheets differ in basis and in the fractions they count, and each lot is off its sheet by chance, by the standard deviations
/// that the sheet states.
/// </summary>
internal sealed class StandardLots
{
    /// <summary>Every litter bag holds 4 g, give or take 0.3 g.</summary>
    public const double NominalGrams = 4.0, ToleranceGrams = 0.3;

    public const double AshSd = 0.003, TareSdGrams = 0.008, WaterSd = 0.005, NonpolarSd = 0.004;

    // Lots draw from numbers of their own, so that they move no site and no burial. Of these the demo of the README has lots that are off
    // by ordinary amounts: 0.2 to 1.4 of the stated standard deviations.
    private const int LotSeed = 0x107C1E;

    /// <param name="seed">Of what the lots are made of; their sheets are the same for all.</param>
    public StandardLots(int seed)
    {
        Xoshiro256StarStar random = new(seed ^ LotSeed, threadSafe: false);
        Fast =
        [
            Filled(new("F-23-1", LitterRole.Fast, 0.762, 0.018, 0.052, 0.34) { Water = 0.060 }, 0.060, 0.440, random),
            Filled(new("F-24-1", LitterRole.Fast, 0.760, 0.016, 0.049, 0.34) { IsAshFree = true, Nonpolar = 0.055, Water = 0.062 },
                0.055, 0.452, random),
            Filled(new("F-24-2", LitterRole.Fast, 0.749, 0.020, 0.055, 0.35) { Water = 0.058 }, 0.061, 0.436, random),
        ];
        Slow =
        [
            Filled(new("S-23-1", LitterRole.Slow, 0.472, 0.026, 0.031, 0.34) { Water = 0.070 }, 0.045, 0.210, random),
            Filled(new("S-24-1", LitterRole.Slow, 0.500, 0.024, 0.028, 0.34) { IsAshFree = true, Water = 0.068 }, 0.047, 0.200, random),
            Filled(new("S-24-2", LitterRole.Slow, 0.461, 0.028, 0.033, 0.35) { Water = 0.072 }, 0.044, 0.202, random),
        ];
    }

    public IReadOnlyList<LotDraft> Fast { get; }

    public IReadOnlyList<LotDraft> Slow { get; }

    /// <summary>A lot whose sheet gives the hydrolysable fraction only: no ash, no tare, no nominal mass.</summary>
    public static LotDraft WithShortSheet(LitterRole role) => role == LitterRole.Fast
        ? new LotDraft("F-trial", role, 0.770, 0.025)
        : new LotDraft("S-trial", role, 0.480, 0.030);

    /// <summary>The lot behind a sheet. Where its decomposable part is more or less than the sheet says, the acid soluble is.</summary>
    /// <param name="nonpolar">About so much of the organic matter.</param>
    /// <param name="waterSoluble">Of the organic matter.</param>
    private static LotDraft Filled(LotDraft sheet, double nonpolar, double waterSoluble, Random random)
    {
        double Off(double sd) => Normal.Sample(random, 0, sd);
        double ash = sheet.Ash!.Value + Off(AshSd), water = sheet.Water!.Value + Off(WaterSd), extracted = nonpolar + Off(NonpolarSd);
        double counted = sheet.Hydrolysable + Off(sheet.HydrolysableSd);
        double decomposable = (sheet.IsAshFree ? counted : counted / (1 - ash)) + (sheet.Nonpolar is null ? 0 : extracted);
        return sheet with { Truth = new(extracted, waterSoluble, decomposable - extracted - waterSoluble, ash, water) };
    }
}
