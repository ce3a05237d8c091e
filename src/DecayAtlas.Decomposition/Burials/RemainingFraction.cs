namespace DecayAtlas.Decomposition.Burials;

/// <summary>
/// The share w of the initial litter mass that remains in a bag, dry at both ends, with what makes it uncertain and with the
/// hydrolysable share of its lot on the same basis:
/// <code>
/// dry        w = (m_f - T)(1 - M_f) / ((m_i - T)(1 - M_i))
/// ash-free   w = (m_f - T)(1 - M_f)(1 - A_b) / ((m_i - T)(1 - M_i)(1 - A_l))
/// </code>
/// with tare T taken off gross weighings, water shares M of the litter as weighed, and ash shares A of dry litter, b bag and l lot.
/// </summary>
/// <remarks>
/// Standard uncertainties are first order (JCGM 100:2008, 5.1.2). Readings of a balance with resolution d are
/// rectangular, u = d/√12 (JCGM 100:2008, F.2.2.1). One bag's tare is in both of its weighings, and so is an offset of the balance: their
/// two effects on w are added with their signs before they are squared. What else is uncertain of a mass, since it is a mean of several
/// bags or an empty bag was taken off, is of this bag and of this mass alone.
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

    /// <summary>Standard uncertainty of w from this bag alone: weighing, tare, masses that are means, its ash (1).</summary>
    public double UncertaintyBag { get; private init; }

    /// <summary>What w shares with other bags of the lot and of the batch (1).</summary>
    public LitterErrors Shared { get; private init; }

    /// <summary>Standard uncertainty of w from its batch (1).</summary>
    public double UncertaintyBatch => new SharedErrors(Shared, default).UncertaintyBatch;

    /// <summary>Standard uncertainty of w from its lot (1).</summary>
    public double UncertaintyLot => new SharedErrors(Shared, default).UncertaintyLot;

    /// <summary>Combined standard uncertainty of w (1).</summary>
    public double Uncertainty => Math.Sqrt(Square(UncertaintyBag) + Square(UncertaintyBatch) + Square(UncertaintyLot));

    public FractionBasis Basis { get; private init; }

    public bool IsAshFree => Basis == FractionBasis.AshFree;

    /// <summary>H of the lot on the same basis, or why there is none.</summary>
    public Computed<Hydrolysable> Hydrolysable { get; private init; }

    /// <summary>The best basis that the bags allow together: ash-free only where ash is known of each and of its lot, since bags on two
    /// bases must not meet.</summary>
    public static FractionBasis BasisOf(params ReadOnlySpan<(BagWeighing Bag, LitterLot Lot)> bags)
    {
        foreach ((BagWeighing bag, LitterLot lot) in bags)
        {
            if (bag.AshFraction is null || lot.AshFraction is null)
                return FractionBasis.Dry;
        }

        return FractionBasis.AshFree;
    }

    /// <summary>On the best basis that the bag allows.</summary>
    public static Computed<RemainingFraction> Of(BagWeighing bag, LitterLot lot, MeasurementAssumptions assumptions) =>
        Of(bag, lot, BasisOf((bag, lot)), assumptions);

    /// <exception cref="ArgumentException">Ash-free is asked for where the ash of bag or lot is not known.</exception>
    public static Computed<RemainingFraction> Of(BagWeighing bag, LitterLot lot, FractionBasis basis, MeasurementAssumptions assumptions)
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

        bool isAshFree = basis == FractionBasis.AshFree;
        if (isAshFree && BasisOf((bag, lot)) != FractionBasis.AshFree)
            throw new ArgumentException("An ash-free remaining fraction needs the ash of the bag and of its lot.", nameof(basis));
        double ashBag = isAshFree ? bag.AshFraction!.Value : 0;
        double ashLot = isAshFree ? lot.AshFraction!.Value : 0;

        double perFinalGram = (1 - bag.FinalWater.Share) * (1 - ashBag) / (initial * (1 - bag.InitialWater.Share) * (1 - ashLot));
        double w = final * perFinalGram;
        // what is added to both masses alike (a tare too small, a balance that reads high) moves w by this a gram
        double perGram = perFinalGram - w / initial;

        double uReading = (bag.BalanceResolutionGrams ?? assumptions.BalanceResolutionGrams) / Math.Sqrt(12);
        double uTare = isGross ? lot.TareSdGrams ?? assumptions.TareSdGrams : 0;
        double variance =
            Square(perFinalGram * uReading)
            + Square(w / initial * uReading)
            + Square(perFinalGram * bag.MassFinalSdGrams)
            + Square(w / initial * bag.MassInitialSdGrams)
            + Square(perGram * uTare)
            + Square(isAshFree ? w / (1 - ashBag) * assumptions.AshFractionSd : 0);

        return new RemainingFraction
        {
            Fraction = w,
            UncertaintyBag = Math.Sqrt(variance),
            Shared = new LitterErrors(
                Ash: isAshFree ? w / (1 - ashLot) * (lot.AshFractionSd ?? assumptions.AshFractionSd) : 0,
                Tare: isGross ? -perGram * assumptions.TareMeanSdGrams : 0,
                Balance: perGram * assumptions.BalanceOffsetSdGrams) + ErrorsOfWater(w, bag.InitialWater, bag.FinalWater),
            Basis = basis,
            Hydrolysable = Burials.Hydrolysable.Of(lot, basis, assumptions),
        };
    }

    /// <summary>Of a mean over bags that a group states in place of its weighings: what the bags share, without their scatter.</summary>
    /// <param name="stated">Remaining over initial litter mass, tare taken off, water as it was.</param>
    /// <param name="basis">Ash-free where the group took off the ash of both masses.</param>
    public static RemainingFraction OfMean(
        double stated, LitterLot lot, FractionBasis basis, Water initialWater, Water finalWater, MeasurementAssumptions assumptions)
    {
        double w = stated * (1 - finalWater.Share) / (1 - initialWater.Share);
        return new RemainingFraction
        {
            Fraction = w,
            Shared = new LitterErrors(
                Ash: basis == FractionBasis.AshFree && lot.AshFraction is { } ash
                    ? w / (1 - ash) * (lot.AshFractionSd ?? assumptions.AshFractionSd) : 0)
                + ErrorsOfWater(w, initialWater, finalWater),
            Basis = basis,
            Hydrolysable = Burials.Hydrolysable.Of(lot, basis, assumptions),
        };
    }

    private static LitterErrors ErrorsOfWater(double w, Water initial, Water final)
    {
        double ofInitial = w / (1 - initial.Share) * initial.SdBatch, ofFinal = -w / (1 - final.Share) * final.SdBatch;
        return new LitterErrors(
            LotMoisture: w / (1 - initial.Share) * initial.SdLot,
            InitialWater: initial.IsRange ? 0 : ofInitial,
            FinalWater: final.IsRange ? 0 : ofFinal,
            InitialWaterRange: initial.IsRange ? ofInitial : 0,
            FinalWaterRange: final.IsRange ? ofFinal : 0);
    }

    private static double Square(double x) => x * x;
}
