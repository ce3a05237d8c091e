namespace DecayAtlas.Questions.Sensitivity;

/// <summary>A burial of a release with the weighings that its k and S were made from.</summary>
internal sealed record ReleasedWeighing(ReleasedBurial Burial, IReadOnlyList<(BagRow Bag, LotRow Lot)> Bags)
{
    /// <summary>k (d⁻¹) and S (1) as supposed, each missing where there is none.</summary>
    public (double? RatePerDay, double? Stabilisation) Under(Supposition supposed, MeasurementAssumptions assumptions)
    {
        WeighedBurial weighed = WeighedBurial.Of(
            Bags.Select(b => (Bag: supposed.Bag(b.Bag, b.Lot), Lot: supposed.Lot(b.Lot))), assumptions);
        double? k = weighed.Rate.Value?.RatePerDay.Value, s = weighed.StabilisationFactor.Value?.Value;
        if (supposed.FastOverSlow is not { } over || s is null)
            return (k, s);
        // without a k nothing says how far the fast litter got
        if (!(k > 0) || Burial.ExposureDays is not > 0)
            return (k, null);
        FastPlateau plateau = FastPlateau.Of(s.Value, k.Value, Burial.ExposureDays.Value, over);
        return (plateau.RatePerDay, plateau.StabilisationFactor);
    }

    /// <summary>What was sent of a bag, as far as k and S are made from it.</summary>
    public static BagRow RowOf(ReleasedBag bag) => new(
        Row: 0, bag.BagId, bag.BurialId, bag.SiteKey, bag.Plot, bag.Replicate, bag.LotId, AtlasCode.Parse<LitterRole>(bag.Role)!.Value,
        bag.Treatment, bag.MassInitialGrams, bag.MassFinalGrams, AtlasCode.Parse<MassBasis>(bag.MassBasis)!.Value,
        AtlasCode.Parse<Drying>(bag.DryingInitial), bag.MoistureInitialFraction, bag.MoistureInitialFractionSd,
        AtlasCode.Parse<Drying>(bag.Drying), bag.DryingTemperatureCelsius, bag.MoistureFinalFraction, bag.MoistureFinalFractionSd,
        bag.AshFraction, bag.BuriedOn, bag.RetrievedOn, bag.DepthCentimetres, AtlasCode.Parse<BagCondition>(bag.Condition),
        bag.UnusedMaterial, bag.BatchId, bag.BalanceResolutionGrams, Notes: null)
    {
        MassInitialSdGrams = bag.MassInitialSdGrams,
        MassFinalSdGrams = bag.MassFinalSdGrams,
    };

    /// <summary>What was sent of a lot.</summary>
    public static LotRow RowOf(ReleasedLot lot) => new(
        Row: 0, lot.LotId, AtlasCode.Parse<LitterRole>(lot.Role)!.Value, lot.HydrolysableFraction!.Value, lot.HydrolysableFractionSd ?? 0,
        AtlasCode.Parse<FractionBasis>(lot.HydrolysableBasis), AtlasCode.Parse<HydrolysableParts>(lot.HydrolysableParts),
        lot.NonpolarFraction, lot.NonpolarFractionSd, lot.WaterSolubleFraction, lot.WaterSolubleFractionSd, lot.AshFraction,
        lot.AshFractionSd, lot.MoistureFraction, lot.MoistureFractionSd, lot.LitterMassNominalGrams, lot.LitterMassToleranceGrams,
        lot.TareGrams, lot.TareSdGrams, lot.MeshMillimetres, lot.ChemistrySource);
}
