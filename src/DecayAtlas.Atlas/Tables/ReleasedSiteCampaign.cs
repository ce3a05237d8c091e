namespace DecayAtlas.Atlas.Tables;

[Table("site_campaigns",
    "One row a site, campaign, treatment and kind of evidence: mean, scatter and 95 % interval over the accepted burials, and how many "
    + "no mean of k holds.")]
public sealed record ReleasedSiteCampaign
{
    [Column("site_key", "The site.", IsKey = true)]
    public required string SiteKey { get; init; }

    [Column("campaign", "The campaign.", IsKey = true)]
    public required string Campaign { get; init; }

    [Column("treatment", "The treatment of the plots; missing, or a word for a control, where they are untreated.", IsKey = true)]
    public string? Treatment { get; init; }

    [Column("evidence",
        "weighed (from the masses of bags), summarised (from mean remaining fractions) or reported (k and S as a group computed them). "
        + "Answers and models take one a site, campaign and treatment, weighed before summarised before reported.", IsKey = true)]
    public string Evidence { get; init; } = AtlasCode.Of(EvidenceKind.Weighed);

    [Column("burials", "Burials, whatever their use.")]
    public required int Burials { get; init; }

    [Column("first_buried_on", "Earliest burial among the accepted.")]
    public DateOnly? FirstBuriedOn { get; init; }

    [Column("last_retrieved_on", "Latest retrieval among the accepted.")]
    public DateOnly? LastRetrievedOn { get; init; }

    [Column("k_burials", "Accepted burials that have a k.")]
    public required int RateBurials { get; init; }

    [Column("k_mean_per_day", "Mean k.", "d-1")]
    public double? RateMeanPerDay { get; init; }

    [Column("k_sd_per_day", "Standard deviation of k between burials.", "d-1")]
    public double? RateSdPerDay { get; init; }

    [Column("k_mean_u_batch_per_day",
        "Standard uncertainty of the mean k from water, drying and balance of its batches, which averaging within a batch does not "
        + "shrink; missing where it is reported, as it is not known.",
        "d-1")]
    public double? RateMeanBatchUncertaintyPerDay { get; init; }

    [Column("k_mean_u_lot_per_day",
        "Standard uncertainty of the mean k from chemistry, tare and water of its lots, which averaging does not shrink.", "d-1")]
    public double? RateMeanLotUncertaintyPerDay { get; init; }

    [Column("k_not_positive_burials",
        "Accepted burials whose k is 0 or negative: the slow litter lost nothing that could be weighed. In the mean k, in no mean of "
        + "ln k. Of means that stand for burials, those behind a mean k of 0 or below, the rejected left out: in no mean.")]
    public required int RateNotPositiveBurials { get; init; }

    [Column("k_at_least_burials",
        "Burials that have no k because their slow litter is at its plateau, the rejected left out: in no mean. Their k is large but no "
        + "number: at least burials.k_at_least_per_day, or without any bound where more is lost than can be (a lost piece is suspected).")]
    public required int RateAtLeastBurials { get; init; }

    [Column("plateau_not_reached_burials",
        "Burials set aside for nothing but plateau-not-reached, the fast litter having been dug up before its plateau: in no mean.")]
    public int PlateauNotReachedBurials { get; init; }

    [Column("k_geometric_mean_per_day",
        "Geometric mean of the k above 0; where plots hold several burials, plots are the replicates, and it is the mean of theirs.",
        "d-1")]
    public double? RateGeometricMeanPerDay { get; init; }

    [Column("k_geometric_mean_lower95_per_day",
        "Lower end of its 95 % interval, made of ln k, that holds replicate scatter, batches and lots; missing with fewer than two k above "
        + "0, or where all agree.", "d-1")]
    public double? RateGeometricMeanLower95PerDay { get; init; }

    [Column("k_geometric_mean_upper95_per_day", "Upper end of that interval.", "d-1")]
    public double? RateGeometricMeanUpper95PerDay { get; init; }

    [Column("ln_k_burials", "Accepted burials with k above 0.")]
    public required int LnRateBurials { get; init; }

    [Column("ln_k_mean", "Mean of ln k.", "ln(d-1)")]
    public double? LnRateMean { get; init; }

    [Column("ln_k_sd", "Standard deviation of ln k between burials.", "ln(d-1)")]
    public double? LnRateSd { get; init; }

    [Column("s_burials", "Accepted burials that have an S.")]
    public required int StabilisationBurials { get; init; }

    [Column("s_mean", "Mean S.", "1")]
    public double? StabilisationMean { get; init; }

    [Column("s_sd", "Standard deviation of S between burials.", "1")]
    public double? StabilisationSd { get; init; }

    [Column("s_lower95",
        "Lower end of the 95 % interval of the mean S, that holds replicate scatter, batches and lots; where plots hold several burials, "
        + "plots are the replicates, and it lies about the mean of theirs. Missing with fewer than two S, or where all agree.", "1")]
    public double? StabilisationLower95 { get; init; }

    [Column("s_upper95", "Upper end of that interval.", "1")]
    public double? StabilisationUpper95 { get; init; }

    [Column("s_mean_u_batch", "Standard uncertainty of the mean S from water, drying and balance of its batches; missing where it is "
        + "reported.", "1")]
    public double? StabilisationMeanBatchUncertainty { get; init; }

    [Column("s_mean_u_lot", "Standard uncertainty of the mean S from chemistry, tare and water of its lots.", "1")]
    public double? StabilisationMeanLotUncertainty { get; init; }

    public bool IsUntreated => Records.Treatment.IsUntreated(Treatment);

    public static ReleasedSiteCampaign Of(SiteCampaign summary) => new()
    {
        SiteKey = summary.SiteKey,
        Campaign = summary.Campaign,
        Treatment = summary.Treatment,
        Evidence = AtlasCode.Of(summary.Evidence),
        Burials = summary.Burials,
        FirstBuriedOn = summary.FirstBuriedOn,
        LastRetrievedOn = summary.LastRetrievedOn,
        RateBurials = summary.RatePerDay?.Count ?? 0,
        RateMeanPerDay = summary.RatePerDay?.Mean,
        RateSdPerDay = summary.RatePerDay?.Sd,
        RateMeanBatchUncertaintyPerDay = summary.Evidence == EvidenceKind.Reported ? null : summary.RateSharedPerDay?.Batch,
        RateMeanLotUncertaintyPerDay = summary.RateSharedPerDay?.Lot,
        RateNotPositiveBurials = (summary.RatePerDay?.Count ?? 0) - (summary.LnRate?.Count ?? 0)
            + summary.BurialsOfMeansNotPositive,
        RateAtLeastBurials = summary.BurialsAtPlateau,
        PlateauNotReachedBurials = summary.BurialsNotAtPlateau,
        RateGeometricMeanPerDay = Exp(summary.LnRateMean?.Mean ?? summary.LnRate?.Mean),
        RateGeometricMeanLower95PerDay = Exp(summary.LnRateMean?.Lower95),
        RateGeometricMeanUpper95PerDay = Exp(summary.LnRateMean?.Upper95),
        LnRateBurials = summary.LnRate?.Count ?? 0,
        LnRateMean = summary.LnRate?.Mean,
        LnRateSd = summary.LnRate?.Sd,
        StabilisationBurials = summary.Stabilisation?.Count ?? 0,
        StabilisationMean = summary.Stabilisation?.Mean,
        StabilisationSd = summary.Stabilisation?.Sd,
        StabilisationLower95 = summary.StabilisationMean?.Lower95,
        StabilisationUpper95 = summary.StabilisationMean?.Upper95,
        StabilisationMeanBatchUncertainty = summary.Evidence == EvidenceKind.Reported ? null
            : summary.StabilisationShared?.Batch,
        StabilisationMeanLotUncertainty = summary.StabilisationShared?.Lot,
    };

    private static double? Exp(double? x) => x is { } known ? Math.Exp(known) : null;
}
