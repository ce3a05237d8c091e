namespace DecayAtlas.Atlas.Answers;

[Table("calibration",
    "S of the slow litter less S of the fast one, each from its own curve (two-s in curves), over all series, and what follows for a "
    + "two-bag k, which takes both S as equal. One row. No released number is corrected by it.")]
public sealed record ReleasedCalibration
{
    [Column("quantity", "What is pooled: s-slow-less-s-fast.", IsKey = true)]
    public string Quantity { get; init; } = "s-slow-less-s-fast";

    [Column("records", NotedUse.Meaning, IsKey = true)]
    public string Records { get; init; } = NotedUse.All;

    [Column("status", "computed or not-computed.")]
    public string Status => Difference is null ? "not-computed" : "computed";

    [Column("series", "Series whose bags set both limits of the slow litter's S, and tell that of the fast one.")]
    public required int Series { get; init; }

    [Column("series_left_out", "Series of which that is not so.")]
    public required int SeriesLeftOut { get; init; }

    [Column("difference", "Mean over the series of S of the slow less S of the fast litter, with H of the lots as stated.", "1")]
    public double? Difference { get; init; }

    [Column("difference_lower95", "Lower end of its 95 % interval (t, between series).", "1")]
    public double? DifferenceLower95 { get; init; }

    [Column("difference_upper95", "Upper end of that interval.", "1")]
    public double? DifferenceUpper95 { get; init; }

    [Column("difference_u_lot",
        "Standard uncertainty of the difference from H of the lots, as if all series had the same two; in no interval here, and more "
        + "series do not shrink it.", "1")]
    public double? DifferenceLotUncertainty { get; init; }

    [Column("between_sd",
        "Standard deviation of the true difference between series, beyond the errors of their curves; 0 where these explain all scatter.",
        "1")]
    public double? BetweenSd { get; init; }

    [Column("between_sd_upper95", "Upper end of its 95 % profile-likelihood interval; its lower end is near 0 with few series.", "1")]
    public double? BetweenSdUpper95 { get; init; }

    [Column("typical_k_per_day", "Where the factor is told: k of the middle untreated plot of the release.", "d-1")]
    public double? TypicalRatePerDay { get; init; }

    [Column("typical_s", "Where the factor is told: S of the fast litter of the middle series.", "1")]
    public double? TypicalStabilisation { get; init; }

    [Column("typical_days", "Where the factor is told: the usual exposure.", "d")]
    public double? TypicalDays { get; init; }

    [Column("k_factor",
        "There a two-bag k times this is the k that follows with each litter's own S. Of the same lots alone; offered, and applied to "
        + "nothing.", "1")]
    public double? RateFactor { get; init; }

    [Column("k_factor_lower95", "The same at the lower end of the interval of the difference.", "1")]
    public double? RateFactorLower95 { get; init; }

    [Column("k_factor_upper95",
        "The same at its upper end; missing where the slow litter has lost all that would decompose, so that no factor is large enough.",
        "1")]
    public double? RateFactorUpper95 { get; init; }

    [Column("sentence", "The same in words, and what may not be concluded; or why there are no numbers.")]
    public required string Sentence { get; init; }

    /// <summary>1 where the slow litter's S is the higher one, -1 the lower one, 0 where no difference shows.</summary>
    public int Side => DifferenceLower95 > 0 ? 1 : DifferenceUpper95 < 0 ? -1 : 0;
}
