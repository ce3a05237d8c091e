namespace DecayAtlas.Atlas.Answers;

[Table("site_values",
    "k and S of each site, campaign and treatment once as its own burials have it and once with what other burials of its kind tell, by a "
    + "mixed model of ln k and S with what lots and batches are known to err by; or one row that says why there are none. With few burials "
    + "the second lies nearer the truth. To be read, mapped and listed, not to be compared or learnt from again: it leans on other sites.")]
public sealed record ReleasedSiteValue
{
    [Column("of", "k or s.", IsKey = true)]
    public required string Of { get; init; }

    [Column("site_key", "The site.", IsKey = true)]
    public string? SiteKey { get; init; }

    [Column("campaign", "The campaign.", IsKey = true)]
    public string? Campaign { get; init; }

    [Column("treatment", "The treatment; missing, or a word for a control, in untreated plots.", IsKey = true)]
    public string? Treatment { get; init; }

    [Column("records", NotedUse.Meaning, IsKey = true)]
    public string Records { get; init; } = NotedUse.All;

    [Column("evidence", "weighed, summarised or reported, as in site_campaigns.")]
    public string? Evidence { get; init; }

    [Column("status", "computed or not-computed.")]
    public string Status => Statement is null ? "computed" : "not-computed";

    [Column("burials", "Its own accepted burials with k above 0, or with S.")]
    public required int Burials { get; init; }

    [Column("own_k_per_day", "exp of the mean of ln k of its own burials.", "d-1")]
    public double? OwnRatePerDay { get; init; }

    [Column("k_per_day", "k with what other burials of its kind tell: exp of the best linear unbiased prediction of ln k.", "d-1")]
    public double? RatePerDay { get; init; }

    [Column("k_lower95", "Lower end of the 95 % interval in which the true k of the site in this campaign lies.", "d-1")]
    public double? RateLower95PerDay { get; init; }

    [Column("k_upper95", "Upper end of that interval.", "d-1")]
    public double? RateUpper95PerDay { get; init; }

    [Column("own_s", "Mean S of its own burials.", "1")]
    public double? OwnStabilisation { get; init; }

    [Column("s", "S with what other burials of its kind tell: the best linear unbiased prediction.", "1")]
    public double? Stabilisation { get; init; }

    [Column("s_lower95", "Lower end of its 95 % interval.", "1")]
    public double? StabilisationLower95 { get; init; }

    [Column("s_upper95", "Upper end of that interval.", "1")]
    public double? StabilisationUpper95 { get; init; }

    [Column("prediction_se", "Standard error of the predicted ln k or S, with that of the variances it rests on.", "1")]
    public double? PredictionError { get; init; }

    [Column("degrees_of_freedom", "Satterthwaite's, of that error.", "1")]
    public double? DegreesOfFreedom { get; init; }

    [Column("reliability",
        "1 less the square of that error over the variance between such values: 1 where its burials tell all, 0 where they tell nothing of "
        + "what is its own, below 0 where lots and batches err by more than sites differ.", "1")]
    public double? Reliability { get; init; }

    [Column("borrows_from",
        "Which others tell of it, beside the mean of all: those of its ecosystem, of its site (in other campaigns or under another "
        + "treatment), of its campaign.")]
    public string? BorrowsFrom { get; init; }

    [Column("statement", "Why there are no numbers.")]
    public string? Statement { get; init; }

    /// <summary>Whether it is of all records and of the place as it is.</summary>
    public bool IsOfPlace => Records == NotedUse.All && Statement is null && Atlas.Records.Treatment.IsUntreated(Treatment);
}
