namespace DecayAtlas.Atlas.Results;

[Table("results",
    "One row of means that stand for burials of which no weighings were sent: what was stated, and the ln k, k and S that it gives on "
    + "the chemistry of the lots. Its numbers stand in site_campaigns under their own evidence.")]
public sealed record ReleasedResult
{
    [Column("contribution_id", "Contribution that brought the row.", IsKey = true)]
    public required string ContributionId { get; init; }

    [Column("result_id", "Id of the row in its contribution.", IsKey = true)]
    public required string ResultId { get; init; }

    [Column("site_key", "Site.")]
    public required string SiteKey { get; init; }

    [Column("campaign", "Campaign.")]
    public required string Campaign { get; init; }

    [Column("treatment", "Treatment of the plots; missing, or a word for a control, where they are untreated.")]
    public string? Treatment { get; init; }

    [Column("evidence", "summarised (k and S computed here from mean remaining fractions) or reported (k and S as a group computed them).")]
    public required string Evidence { get; init; }

    [Column("burials", "Burials that the means are taken over.")]
    public required int Burials { get; init; }

    [Column("buried_on", "Burial date, the middle one of several.")]
    public required DateOnly BuriedOn { get; init; }

    [Column("retrieved_on", "Retrieval date as stated, or as the exposure gives it.")]
    public DateOnly? RetrievedOn { get; init; }

    [Column("exposure_days", "Mean exposure as stated, or between the dates.", "d")]
    public double? ExposureDays { get; init; }

    [Column("exposure_sd_days", "Standard deviation of the exposure between burials, where stated.", "d")]
    public double? ExposureSdDays { get; init; }

    [Column("depth_cm", "Burial depth.", "cm")]
    public double? DepthCentimetres { get; init; }

    [Column("fast_lot_id", "Lot of the fast litter.")]
    public string? FastLotId { get; init; }

    [Column("slow_lot_id", "Lot of the slow litter.")]
    public string? SlowLotId { get; init; }

    [Column("fraction_basis", "dry, ash-free or moist: what the masses behind the remaining fractions were.")]
    public string? FractionBasis { get; init; }

    [Column("fast_remaining_mean", "Mean remaining fraction of the fast litter as sent.", "1")]
    public double? FastRemainingMean { get; init; }

    [Column("fast_remaining_sd", "Its standard deviation between bags.", "1")]
    public double? FastRemainingSd { get; init; }

    [Column("slow_remaining_mean", "Mean remaining fraction of the slow litter as sent.", "1")]
    public double? SlowRemainingMean { get; init; }

    [Column("slow_remaining_sd", "Its standard deviation between bags.", "1")]
    public double? SlowRemainingSd { get; init; }

    [Column("method", "How the group computed k and S: two-litter, single-exponential, asymptotic or other.")]
    public string? Method { get; init; }

    [Column("k_sent_per_day", "k as the group sent it.", "d-1")]
    public double? RateSentPerDay { get; init; }

    [Column("s_sent", "S as the group sent it.", "1")]
    public double? StabilisationSent { get; init; }

    [Column("is_harmonised", "Whether k and S are on the chemistry of the lots named; else they stand as sent, or there are none.")]
    public required bool IsHarmonised { get; init; }

    [Column("ln_k_mean", "Mean of ln k over the burials.", "ln(d-1)")]
    public double? LnRateMean { get; init; }

    [Column("ln_k_sd", "Standard deviation of ln k between burials.", "ln(d-1)")]
    public double? LnRateSd { get; init; }

    [Column("ln_k_u_replicates", "Standard error of that mean from the scatter between burials.", "ln(d-1)")]
    public double? LnRateReplicateUncertainty { get; init; }

    [Column("ln_k_u_batch", "Standard uncertainty of that mean from water and drying, which the burials share; missing where it is "
        + "reported, since nothing tells what water did to the numbers of a group.", "ln(d-1)")]
    public double? LnRateBatchUncertainty { get; init; }

    [Column("ln_k_u_lot", "Standard uncertainty of that mean from the lots, which more burials do not shrink.", "ln(d-1)")]
    public double? LnRateLotUncertainty { get; init; }

    [Column("k_mean_per_day", "Mean k over the burials.", "d-1")]
    public double? RateMeanPerDay { get; init; }

    [Column("k_missing_because", "Why there is no k.")]
    public string? RateMissingBecause { get; init; }

    [Column("s_mean", "Mean S over the burials.", "1")]
    public double? StabilisationMean { get; init; }

    [Column("s_sd", "Standard deviation of S between burials.", "1")]
    public double? StabilisationSd { get; init; }

    [Column("s_u_replicates", "Standard error of that mean from the scatter between burials.", "1")]
    public double? StabilisationReplicateUncertainty { get; init; }

    [Column("s_u_batch", "Standard uncertainty of that mean from water and drying; missing where it is reported.", "1")]
    public double? StabilisationBatchUncertainty { get; init; }

    [Column("s_u_lot", "Standard uncertainty of that mean from the lots.", "1")]
    public double? StabilisationLotUncertainty { get; init; }

    [Column("s_missing_because", "Why there is no S.")]
    public string? StabilisationMissingBecause { get; init; }

    [Column("use", "accepted, suspect or rejected.")]
    public required string Use { get; init; }

    [Column("use_because", "Flag codes that decided the use.")]
    public string? UseBecause { get; init; }

    /// <summary>Combined standard uncertainty of the mean of ln k.</summary>
    public double? LnRateUncertainty => LnRateReplicateUncertainty is not { } own ? null
        : Math.Sqrt(own * own + Square(LnRateBatchUncertainty) + Square(LnRateLotUncertainty));

    /// <summary>The mean of ln k with its 95 % interval, as site_campaigns has it of several rows; missing where scatter or lots are not
    /// known.</summary>
    public SiteMean? LnRateInterval => this is { LnRateMean: { } mean, LnRateBatchUncertainty: { } batch, LnRateLotUncertainty: { } lot }
        ? SiteInterval.OfMoments(SampleSummary.OfMoments(Burials, mean, LnRateSd), new SharedUncertainty(batch, lot)) : null;

    private static double Square(double? x) => x * x ?? 0;

    public bool IsAccepted => Use == AtlasCode.Of(Records.Use.Accepted);

    /// <summary>Whether it says what the rate of its place is: what a group reports does not by itself.</summary>
    public bool CountsForPlace => IsAccepted && Records.Treatment.IsUntreated(Treatment)
        && LnRateMean is not null && Evidence == AtlasCode.Of(EvidenceKind.Summarised);

    public static ReleasedResult Of(SentResult result, Verdict verdict)
    {
        (ResultRow row, MeanWithErrors? lnRate, MeanWithErrors? s) =
            (result.Row, result.Index.LnRate.Value, result.Index.Stabilisation.Value);
        return new ReleasedResult
        {
            ContributionId = result.Header.ContributionId,
            ResultId = row.ResultId,
            SiteKey = result.SiteKey,
            Campaign = result.Header.Campaign,
            Treatment = row.Treatment,
            Evidence = AtlasCode.Of(row.Evidence),
            Burials = row.Burials,
            BuriedOn = row.BuriedOn,
            RetrievedOn = row.LastDay,
            ExposureDays = row.Exposure,
            ExposureSdDays = row.ExposureSdDays,
            DepthCentimetres = row.DepthCentimetres,
            FastLotId = row.FastLotId,
            SlowLotId = row.SlowLotId,
            FractionBasis = row.Basis is { } basis ? AtlasCode.Of(basis) : null,
            FastRemainingMean = row.FastRemainingMean,
            FastRemainingSd = row.FastRemainingSd,
            SlowRemainingMean = row.SlowRemainingMean,
            SlowRemainingSd = row.SlowRemainingSd,
            Method = row.Method is { } method ? AtlasCode.Of(method) : null,
            RateSentPerDay = row.RatePerDay,
            StabilisationSent = row.Stabilisation,
            IsHarmonised = result.Index.IsHarmonised,
            LnRateMean = lnRate?.Mean,
            LnRateSd = lnRate?.Sd,
            LnRateReplicateUncertainty = lnRate?.ReplicateUncertainty,
            LnRateBatchUncertainty = row.Evidence == EvidenceKind.Reported ? null : lnRate?.Shared?.UncertaintyBatch,
            LnRateLotUncertainty = lnRate?.Shared?.UncertaintyLot,
            RateMeanPerDay = result.Index.RatePerDay.Value?.Mean,
            RateMissingBecause = result.Index.LnRate.Reason?.Code(),
            StabilisationMean = s?.Mean,
            StabilisationSd = s?.Sd,
            StabilisationReplicateUncertainty = s?.ReplicateUncertainty,
            StabilisationBatchUncertainty = row.Evidence == EvidenceKind.Reported ? null : s?.Shared?.UncertaintyBatch,
            StabilisationLotUncertainty = s?.Shared?.UncertaintyLot,
            StabilisationMissingBecause = result.Index.Stabilisation.Reason?.Code(),
            Use = AtlasCode.Of(verdict.Use),
            UseBecause = verdict.Because,
        };
    }
}
