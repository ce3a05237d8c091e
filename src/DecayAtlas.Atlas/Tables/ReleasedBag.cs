namespace DecayAtlas.Atlas.Tables;

[Table("bags", "One row a litter bag: what was sent, the remaining fraction it gives, and its use.")]
public sealed record ReleasedBag
{
    [Column("contribution_id", "Contribution that brought the bag.", IsKey = true)]
    public required string ContributionId { get; init; }

    [Column("bag_id", "Id of the bag in its contribution.", IsKey = true)]
    public required string BagId { get; init; }

    [Column("burial_id", "Burial it belongs to: one fast and one slow bag that lay together.")]
    public required string BurialId { get; init; }

    [Column("site_key", "Site it lay at.")]
    public required string SiteKey { get; init; }

    [Column("campaign", "Campaign.")]
    public required string Campaign { get; init; }

    [Column("plot", "Plot within the site.")]
    public string? Plot { get; init; }

    [Column("replicate", "Replicate within the plot.")]
    public string? Replicate { get; init; }

    [Column("lot_id", "Production lot of the litter.")]
    public required string LotId { get; init; }

    [Column("role", "fast or slow.")]
    public required string Role { get; init; }

    [Column("treatment", "Treatment of the plot, for example warmed: a word of the vocabulary, or the contributor's own, which is "
        + "called other for a site marked sensitive.")]
    public string? Treatment { get; init; }

    [Column("treatment_iri", "Concept of an open vocabulary that comes close to the treatment (skos:closeMatch); more in words.")]
    public string? TreatmentIri => Vocabulary.Treatment.IriOf(Treatment);

    [Column("treatment_as_sent",
        "What the contributor called it where it was mapped or spelt otherwise; not published for a site marked sensitive.")]
    public string? TreatmentAsSent { get; init; }

    [Column("mass_initial_g", "Mass before burial, as sent; drying_initial says how dry.", "g")]
    public double? MassInitialGrams { get; init; }

    [Column("mass_final_g", "Mass after retrieval, as sent; drying says how dry.", "g")]
    public double? MassFinalGrams { get; init; }

    [Column("mass_initial_sd_g",
        "Standard uncertainty of the initial mass beside balance and tare: a mean of several bags, or less an empty bag of its own.", "g")]
    public double? MassInitialSdGrams { get; init; }

    [Column("mass_final_sd_g", "The same of the final mass.", "g")]
    public double? MassFinalSdGrams { get; init; }

    [Column("mass_basis", "gross (the bag and all that hangs on it included) or litter.")]
    public required string MassBasis { get; init; }

    [Column("drying_initial", "What was done to the litter before the first weighing: oven, air, freeze or none (as supplied).")]
    public string? DryingInitial { get; init; }

    [Column("moisture_initial_fraction", "Share of water in the litter at the first weighing, as measured for the batch.", "1")]
    public double? MoistureInitialFraction { get; init; }

    [Column("moisture_initial_fraction_sd", "Its standard uncertainty.", "1")]
    public double? MoistureInitialFractionSd { get; init; }

    [Column("drying", "What was done before the second weighing: oven, air, freeze or none.")]
    public string? Drying { get; init; }

    [Column("drying_temperature_c", "Drying temperature.", "degC")]
    public double? DryingTemperatureCelsius { get; init; }

    [Column("moisture_final_fraction", "Share of water in the litter at the second weighing, as measured for the batch.", "1")]
    public double? MoistureFinalFraction { get; init; }

    [Column("moisture_final_fraction_sd", "Its standard uncertainty.", "1")]
    public double? MoistureFinalFractionSd { get; init; }

    [Column("ash_fraction", "Ash share of the retrieved dry litter.", "1")]
    public double? AshFraction { get; init; }

    [Column("buried_on", "Burial date.")]
    public required DateOnly BuriedOn { get; init; }

    [Column("retrieved_on", "Retrieval date.")]
    public DateOnly? RetrievedOn { get; init; }

    [Column("depth_cm", "Burial depth.", "cm")]
    public double? DepthCentimetres { get; init; }

    [Column("condition", "intact, torn, roots or lost.")]
    public string? Condition { get; init; }

    [Column("unused_material", "Whether the litter was unused when buried; used litter is another substrate.")]
    public bool? UnusedMaterial { get; init; }

    [Column("batch_id", "Bags dried and weighed together, where the contributor tells several batches of a campaign apart.")]
    public string? BatchId { get; init; }

    [Column("balance_resolution_g", "Resolution of the balance.", "g")]
    public double? BalanceResolutionGrams { get; init; }

    [Column("remaining_fraction",
        "Remaining over initial litter mass, w: dry at both ends, tare removed, ash-free where the ash of bag and lot is known. The burial "
        + "may have had to use the dry one.", "1")]
    public double? RemainingFraction { get; init; }

    [Column("remaining_fraction_u", "Standard uncertainty of w from this bag alone.", "1")]
    public double? RemainingFractionUncertainty { get; init; }

    [Column("remaining_fraction_u_batch", "Standard uncertainty of w from water, drying and balance, shared by the batch.", "1")]
    public double? RemainingFractionUncertaintyBatch { get; init; }

    [Column("remaining_fraction_u_lot", "Standard uncertainty of w from ash, tare and water of the lot, shared by its bags.", "1")]
    public double? RemainingFractionUncertaintyLot { get; init; }

    [Column("remaining_is_ash_free", "Whether w is on an ash-free basis.")]
    public bool? RemainingIsAshFree { get; init; }

    [Column("remaining_fraction_dry", "w on a dry basis, ash and all.", "1")]
    public double? RemainingFractionDry { get; init; }

    [Column("remaining_missing_because", "Why w is missing.")]
    public string? RemainingMissingBecause { get; init; }

    [Column("use", "accepted, suspect or rejected.")]
    public required string Use { get; init; }

    [Column("use_because", "Flag codes that decided the use.")]
    public string? UseBecause { get; init; }

    [Partition("retrieved_year")]
    public string? RetrievedYear => RetrievedOn?.Year.ToString(InvariantCulture);

    [Partition("block")]
    public string? Block { get; init; }

    /// <summary>Days from burial to retrieval; negative where the dates are the wrong way round.</summary>
    public int? ExposureDays => RetrievedOn is { } retrieved ? retrieved.DayNumber - BuriedOn.DayNumber : null;

    /// <summary>Whether a decay curve takes it.</summary>
    public bool IsFitted => SeriesUse.Fits(Use, UseBecause);

    /// <summary>The remaining fractions of a series of bags that have one, on the basis that its curves were fitted on: ash-free only where
    /// all fitted bags are.</summary>
    public static IEnumerable<(ReleasedBag Bag, double RemainingFraction)> OnOneBasis(IReadOnlyList<ReleasedBag> series)
    {
        bool isAshFree = series.Where(b => b.IsFitted).All(b => b.RemainingIsAshFree == true);
        return series.Select(b => (b, (isAshFree && b.RemainingIsAshFree == true ? b.RemainingFraction : b.RemainingFractionDry)!.Value));
    }

    public static ReleasedBag Of(Bag bag, PublishedPlace place, Verdict verdict) => new()
    {
        ContributionId = bag.Header.ContributionId,
        BagId = bag.Row.BagId,
        BurialId = bag.Row.BurialId,
        SiteKey = bag.SiteKey,
        Campaign = bag.Header.Campaign,
        Plot = bag.Row.Plot,
        Replicate = bag.Row.Replicate,
        LotId = bag.Row.LotId,
        Role = AtlasCode.Of(bag.Row.Role),
        Treatment = bag.Row.Treatment,
        TreatmentAsSent = place.IsSensitive ? null : bag.Row.TreatmentAsSent,
        MassInitialGrams = bag.Row.MassInitialGrams,
        MassFinalGrams = bag.Row.MassFinalGrams,
        MassBasis = AtlasCode.Of(bag.Row.MassBasis),
        DryingInitial = bag.Row.DryingInitial is { } initial ? AtlasCode.Of(initial) : null,
        MoistureInitialFraction = bag.Row.MoistureInitialFraction,
        MoistureInitialFractionSd = bag.Row.MoistureInitialFractionSd,
        Drying = bag.Row.Drying is { } drying ? AtlasCode.Of(drying) : null,
        DryingTemperatureCelsius = bag.Row.DryingTemperatureCelsius,
        MoistureFinalFraction = bag.Row.MoistureFinalFraction,
        MoistureFinalFractionSd = bag.Row.MoistureFinalFractionSd,
        AshFraction = bag.Row.AshFraction,
        BuriedOn = bag.Row.BuriedOn,
        RetrievedOn = bag.Row.RetrievedOn,
        DepthCentimetres = bag.Row.DepthCentimetres,
        Condition = bag.Row.Condition is { } condition ? AtlasCode.Of(condition) : null,
        UnusedMaterial = bag.Row.UnusedMaterial,
        BatchId = bag.Row.BatchId,
        BalanceResolutionGrams = bag.Row.BalanceResolutionGrams,
        MassInitialSdGrams = bag.Row.MassInitialSdGrams,
        MassFinalSdGrams = bag.Row.MassFinalSdGrams,
        RemainingFraction = bag.Remaining.Value?.Fraction,
        RemainingFractionUncertainty = bag.Remaining.Value?.UncertaintyBag,
        RemainingFractionUncertaintyBatch = bag.Remaining.Value?.UncertaintyBatch,
        RemainingFractionUncertaintyLot = bag.Remaining.Value?.UncertaintyLot,
        RemainingIsAshFree = bag.Remaining.Value?.IsAshFree,
        RemainingFractionDry = bag.RemainingDry.Value?.Fraction,
        RemainingMissingBecause = bag.Remaining.Reason?.Code(),
        Use = AtlasCode.Of(verdict.Use),
        UseBecause = verdict.Because,
        Block = place.Block,
    };
}
