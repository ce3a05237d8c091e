namespace DecayAtlas.Decomposition.Burials;

/// <summary>
/// The hydrolysable share H of a lot on the basis that a remaining fraction needs, all soluble fractions counted:
/// <code>
/// H_all      = H + (non-polar extractives, water soluble: what H leaves out)
/// H_ash-free = H_dry / (1 - A)        H_dry = H_ash-free (1 - A)          A: ash share of the lot
/// </code>
/// </summary>
/// <remarks>A conversion of shares, no source needed. That the published method counts all that is not acid-insoluble is from memory
/// (Keuskamp et al. 2013). What is not known is rectangular between 0 and a most share of the configuration, best estimate half of it
/// (JCGM 100:2008, 4.3.7).</remarks>
public sealed record Hydrolysable
{
    private readonly double _stated, _statedSd, _ash, _ashSd;
    private readonly int _power;

    private Hydrolysable(double stated, double statedSd, double ash, double ashSd, int power)
    {
        (_stated, _statedSd, _ash, _ashSd, _power) = (stated, statedSd, ash, ashSd, power);
        double scale = Math.Pow(1 - ash, power);
        Fraction = stated * scale;
        Errors = new LitterErrors(Hydrolysable: scale * statedSd, Ash: -power * Fraction / (1 - ash) * ashSd);
    }

    /// <summary>H (1).</summary>
    public double Fraction { get; }

    /// <summary>Its signed errors, all of the lot (1).</summary>
    public LitterErrors Errors { get; }

    public static Computed<Hydrolysable> Of(LitterLot lot, FractionBasis basis, MeasurementAssumptions assumptions)
    {
        if (lot.PartsAboveWhole() is not null)
            return MissingReason.ChemistryImpossible;
        double stated = lot.HydrolysableFraction, variance = Square(lot.HydrolysableFractionSd);
        if (lot.HydrolysableParts == HydrolysableParts.AcidSoluble)
        {
            // a share from some hundredths to a half: nothing to guess
            if (lot.WaterSolubleFraction is not { } waterSoluble)
                return MissingReason.WaterSolubleNotReported;
            stated += waterSoluble;
            variance += Square(lot.WaterSolubleFractionSd ?? 0);
        }

        if (lot.HydrolysableParts != HydrolysableParts.AllSoluble)
        {
            double most = assumptions.NonpolarMostFraction;
            stated += lot.NonpolarFraction ?? most / 2;
            variance += Square(lot.NonpolarFraction is null ? most / Math.Sqrt(12) : lot.NonpolarFractionSd ?? 0);
        }

        double mostAsh = assumptions.LotAshMostFraction;
        int power = basis == lot.HydrolysableBasis ? 0 : basis == FractionBasis.AshFree ? -1 : 1;
        return new Hydrolysable(
            stated, Math.Sqrt(variance), lot.AshFraction ?? mostAsh / 2,
            lot.AshFraction is null ? mostAsh / Math.Sqrt(12) : lot.AshFractionSd ?? assumptions.AshFractionSd, power);
    }

    /// <summary>H where the lot's stated share and its ash are off by so many standard uncertainties.</summary>
    internal double At(double stated, double ash) =>
        (_stated + stated * _statedSd) * (_power == 0 ? 1 : Math.Pow(1 - _ash - ash * _ashSd, _power));

    private static double Square(double x) => x * x;
}
