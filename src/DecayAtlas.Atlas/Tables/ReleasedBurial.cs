namespace DecayAtlas.Atlas.Tables;

[Table("burials",
    "One row a burial: stabilisation factor S and decay rate k, the 95 % interval of k, and first-order standard uncertainty "
    + "split into what belongs to the burial, what it shares with its batch, and what it shares with its lots.")]
public sealed record ReleasedBurial
{
    [Column("contribution_id", "Contribution that brought the burial.", IsKey = true)]
    public required string ContributionId { get; init; }

    [Column("burial_id", "Id of the burial in its contribution.", IsKey = true)]
    public required string BurialId { get; init; }

    [Column("site_key", "Site.")]
    public required string SiteKey { get; init; }

    [Column("campaign", "Campaign.")]
    public required string Campaign { get; init; }

    [Column("plot", "Plot within the site.")]
    public string? Plot { get; init; }

    [Column("treatment", "Treatment of the plot.")]
    public string? Treatment { get; init; }

    [Column("treatment_iri", "Concept of an open vocabulary that comes close to the treatment (skos:closeMatch); more in words.")]
    public string? TreatmentIri => Vocabulary.Treatment.IriOf(Treatment);

    [Column("fast_bag_id", "Bag of the fast litter.")]
    public string? FastBagId { get; init; }

    [Column("slow_bag_id", "Bag of the slow litter.")]
    public string? SlowBagId { get; init; }

    [Column("error_set", "The lots and batches of its bags, joined by |, as in plots.")]
    public string ErrorSet { get; init; } = "";

    [Column("buried_on", "Burial date.")]
    public required DateOnly BuriedOn { get; init; }

    [Column("retrieved_on", "Retrieval date.")]
    public DateOnly? RetrievedOn { get; init; }

    [Column("exposure_days", "Days from burial to retrieval.", "d")]
    public int? ExposureDays { get; init; }

    [Column("depth_cm", "Burial depth.", "cm")]
    public double? DepthCentimetres { get; init; }

    [Column("is_ash_free",
        "Whether both remaining fractions, S and k are on an ash-free basis: only where the ash of both bags and of both lots is known.")]
    public required bool IsAshFree { get; init; }

    [Column("fast_remaining_fraction", "Remaining fraction of the fast litter, on the basis of the burial.", "1")]
    public double? FastRemainingFraction { get; init; }

    [Column("slow_remaining_fraction", "Remaining fraction of the slow litter, on the basis of the burial.", "1")]
    public double? SlowRemainingFraction { get; init; }

    [Column("s", "Stabilisation factor S.", "1")]
    public double? Stabilisation { get; init; }

    [Column("s_u", "Combined standard uncertainty of S, first order.", "1")]
    public double? StabilisationUncertainty { get; init; }

    [Column("s_u_bag", "Part of it that belongs to this burial.", "1")]
    public double? StabilisationUncertaintyBag { get; init; }

    [Column("s_u_batch", "Part of it that all bags of the batch share: water, drying, balance.", "1")]
    public double? StabilisationUncertaintyBatch { get; init; }

    [Column("s_u_lot", "Part of it that all bags of the lots share.", "1")]
    public double? StabilisationUncertaintyLot { get; init; }

    [Column("s_missing_because", "Why S is missing.")]
    public string? StabilisationMissingBecause { get; init; }

    [Column("k_per_day", "Decay rate k.", "d-1")]
    public double? RatePerDay { get; init; }

    [Column("k_lower95_per_day",
        "Lower end of the 95 % interval of k; missing where no decay at all is not excluded. It stands also where k is missing because the "
        + "slow litter is at its plateau.", "d-1")]
    public double? RateLower95PerDay { get; init; }

    [Column("k_upper95_per_day",
        "Upper end of that interval; missing where a k without bound is not excluded, the slow litter being near its plateau or at it.",
        "d-1")]
    public double? RateUpper95PerDay { get; init; }

    [Column("k_at_least_per_day",
        "Where k is missing because the slow litter is at its plateau: the k that it has at least, one-sided with 95 % confidence; missing "
        + "too where so much more is lost than can be that nothing bounds k (a lost piece is suspected).", "d-1")]
    public double? RateAtLeastPerDay { get; init; }

    [Column("k_u_per_day", "Combined standard uncertainty of k, first order: too small near the plateau, and no interval.", "d-1")]
    public double? RateUncertaintyPerDay { get; init; }

    [Column("k_u_bag_per_day", "Part of it that belongs to this burial.", "d-1")]
    public double? RateUncertaintyBagPerDay { get; init; }

    [Column("k_u_batch_per_day", "Part of it that all bags of the batch share: water, drying, balance.", "d-1")]
    public double? RateUncertaintyBatchPerDay { get; init; }

    [Column("k_u_lot_per_day", "Part of it that all bags of the lots share.", "d-1")]
    public double? RateUncertaintyLotPerDay { get; init; }

    [Column("k_s_cov_bag_per_day", "Covariance of the errors of k and S from this burial's weighings, which both use.", "d-1")]
    public double? RateStabilisationCovarianceBagPerDay { get; init; }

    [Column("k_s_cov_batch_per_day", "Covariance of the errors of k and S from water, drying and balance of the batch.", "d-1")]
    public double? RateStabilisationCovarianceBatchPerDay { get; init; }

    [Column("k_s_cov_lot_per_day", "Covariance of the errors of k and S from chemistry, tare and water of the lots.", "d-1")]
    public double? RateStabilisationCovarianceLotPerDay { get; init; }

    [Column("k_missing_because", "Why k is missing.")]
    public string? RateMissingBecause { get; init; }

    [Column("use", "accepted, suspect or rejected.")]
    public required string Use { get; init; }

    [Column("use_because", "Flag codes that decided the use.")]
    public string? UseBecause { get; init; }

    [Partition("retrieved_year")]
    public string? RetrievedYear => RetrievedOn?.Year.ToString(InvariantCulture);

    [Partition("block")]
    public string? Block { get; init; }

    public bool IsAccepted => Use == AtlasCode.Of(Records.Use.Accepted);

    /// <summary>Whether it gives its group a result that counts; pages, sheets and mails count by this alone.</summary>
    public bool GivesResult => IsAccepted && RatePerDay is not null;

    public bool IsUntreated => Records.Treatment.IsUntreated(Treatment);

    /// <summary>Whether it says no more of k than that it is large; not where it is rejected.</summary>
    public bool IsAtPlateau =>
        RateMissingBecause == MissingReason.SlowLossAtPlateau.Code() && Use != AtlasCode.Of(Records.Use.Rejected);

    /// <summary>Whether it says what the rate of its place is.</summary>
    public bool CountsForPlace => IsAccepted && IsUntreated && RatePerDay > 0;

    public static ReleasedBurial Of(Burial burial, PublishedPlace place, Verdict verdict) => new()
    {
        ContributionId = burial.Header.ContributionId,
        BurialId = burial.BurialId,
        SiteKey = burial.SiteKey,
        Campaign = burial.Header.Campaign,
        Plot = burial.Lead.Row.Plot,
        Treatment = burial.Lead.Row.Treatment,
        FastBagId = burial.Fast?.Row.BagId,
        SlowBagId = burial.Slow?.Row.BagId,
        ErrorSet = burial.Shared.ErrorSet,
        BuriedOn = burial.BuriedOn,
        RetrievedOn = burial.RetrievedOn,
        ExposureDays = burial.ExposureDays,
        DepthCentimetres = burial.Lead.Row.DepthCentimetres,
        IsAshFree = (burial.Weighed.Fast.Value ?? burial.Weighed.Slow.Value)?.IsAshFree == true,
        FastRemainingFraction = burial.Weighed.Fast.Value?.Fraction,
        SlowRemainingFraction = burial.Weighed.Slow.Value?.Fraction,
        Stabilisation = burial.StabilisationFactor.Value?.Value,
        StabilisationUncertainty = burial.StabilisationFactor.Value?.Uncertainty,
        StabilisationUncertaintyBag = burial.StabilisationFactor.Value?.UncertaintyBag,
        StabilisationUncertaintyBatch = burial.StabilisationFactor.Value?.UncertaintyBatch,
        StabilisationUncertaintyLot = burial.StabilisationFactor.Value?.UncertaintyLot,
        StabilisationMissingBecause = burial.StabilisationFactor.Reason?.Code(),
        RatePerDay = burial.RatePerDay.Value?.Value,
        RateLower95PerDay = burial.Weighed.RateInterval?.Lower95PerDay,
        RateUpper95PerDay = burial.Weighed.RateInterval?.Upper95PerDay,
        RateAtLeastPerDay = burial.Weighed.RateInterval?.AtLeastPerDay,
        RateUncertaintyPerDay = burial.RatePerDay.Value?.Uncertainty,
        RateUncertaintyBagPerDay = burial.RatePerDay.Value?.UncertaintyBag,
        RateUncertaintyBatchPerDay = burial.RatePerDay.Value?.UncertaintyBatch,
        RateUncertaintyLotPerDay = burial.RatePerDay.Value?.UncertaintyLot,
        RateStabilisationCovarianceBagPerDay = burial.Rate.Value?.CovarianceBag,
        RateStabilisationCovarianceBatchPerDay = burial.Rate.Value?.CovarianceBatch,
        RateStabilisationCovarianceLotPerDay = burial.Rate.Value?.CovarianceLot,
        RateMissingBecause = burial.RatePerDay.Reason?.Code(),
        Use = AtlasCode.Of(verdict.Use),
        UseBecause = verdict.Because,
        Block = place.Block,
    };
}
