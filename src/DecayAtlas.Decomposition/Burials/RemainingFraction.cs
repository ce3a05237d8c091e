namespace DecayAtlas.Decomposition.Burials;

/// <summary>
/// The share w of the initial litter mass that remains in a bag, with what makes it uncertain:
/// <c>w = (m_f - T)(1 - A_b) / ((m_i - T)(1 - A_l))</c>, with tare T taken off gross weighings, and the ash terms
/// (ash-free dry mass) only where both the bag's and the lot's ash share are known.
/// </summary>
/// <remarks>
/// Standard uncertainties are first order (JCGM 100:2008, 5.1.2). Readings of a balance with resolution d are
/// rectangular, u = d/√12 (JCGM 100:2008, F.2.2.1). One bag's tare is in both of its weighings, so that its two
/// effects on w are added with their signs before they are squared.
/// </remarks>
public sealed record RemainingFraction
{
    private RemainingFraction()
    {
    }

    /// <summary>Remaining over initial litter mass, w (1).</summary>
    public double Fraction { get; private init; }

    /// <summary>Mass loss, 1 - w (1).</summary>
    public double Loss => 1 - Fraction;

    /// <summary>Standard uncertainty of w from this bag alone: weighing, tare, moisture left by drying, its ash (1).</summary>
    public double UncertaintyBag { get; private init; }

    /// <summary>Signed change of w for one standard uncertainty of the lot's ash share, common to all bags of the lot (1).</summary>
    public double LotAshShift { get; private init; }

    public bool IsAshFree { get; private init; }

    public static Computed<RemainingFraction> Of(BagWeighing bag, LitterLot lot, MeasurementAssumptions assumptions)
    {
        if (bag.MassInitialGrams is not { } grossInitial || bag.MassFinalGrams is not { } grossFinal)
            return MissingReason.MassNotReported;

        bool isGross = bag.Basis == MassBasis.Gross;
        if (isGross && lot.TareGrams is null)
            return MissingReason.TareNotReported;

        double tare = isGross ? lot.TareGrams!.Value : 0;
        double initial = grossInitial - tare;
        double final = grossFinal - tare;
        if (!(initial > 0) || !(final >= 0))
            return MissingReason.MassNotPositive;

        bool isAshFree = bag.AshFraction is not null && lot.AshFraction is not null;
        double ashBag = isAshFree ? bag.AshFraction!.Value : 0;
        double ashLot = isAshFree ? lot.AshFraction!.Value : 0;

        double perFinalGram = (1 - ashBag) / (initial * (1 - ashLot));
        double w = final * perFinalGram;

        double uReading = (bag.BalanceResolutionGrams ?? assumptions.BalanceResolutionGrams) / Math.Sqrt(12);
        double uTare = isGross ? lot.TareSdGrams ?? assumptions.TareSdGrams : 0;
        double variance =
            Square(perFinalGram * uReading)
            + Square(w / initial * uReading)
            + Square((w / initial - perFinalGram) * uTare)
            + Square(w * bag.MoistureSd);

        double lotAshShift = 0;
        if (isAshFree)
        {
            variance += Square(final / (initial * (1 - ashLot)) * assumptions.AshFractionSd);
            lotAshShift = w / (1 - ashLot) * (lot.AshFractionSd ?? assumptions.AshFractionSd);
        }

        return new RemainingFraction
        {
            Fraction = w,
            UncertaintyBag = Math.Sqrt(variance),
            LotAshShift = lotAshShift,
            IsAshFree = isAshFree,
        };
    }

    private static double Square(double x) => x * x;
}
