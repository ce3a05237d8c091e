namespace DecayAtlas.Atlas.Answers;

[Table("agreement",
    "The two-bag k of one retrieval held against the k of the asymptotic curve of the slow litter through all others, over all series in "
    + "which both are known (Bland and Altman 1986). One row.")]
public sealed record ReleasedAgreement
{
    [Column("shortcut", "What is held against the curve: two-bag-k.", IsKey = true)]
    public string Shortcut { get; init; } = "two-bag-k";

    [Column("records", NotedUse.Meaning, IsKey = true)]
    public string Records { get; init; } = NotedUse.All;

    [Column("status", "computed or not-computed.")]
    public string Status => Ratio is null ? "not-computed" : "computed";

    [Column("series", "Series in which both are known and the curve's k is known to within a factor of 2 either way.")]
    public required int Series { get; init; }

    [Column("series_left_out", "Series with a slow litter that are no such pair; the sentence says why.")]
    public int SeriesLeftOut { get; init; }

    [Column("ratio", "Geometric mean of two-bag k over the curve's k.", "1")]
    public double? Ratio { get; init; }

    [Column("ratio_lower95", "Lower end of its 95 % interval.", "1")]
    public double? RatioLower95 { get; init; }

    [Column("ratio_upper95", "Upper end of that interval.", "1")]
    public double? RatioUpper95 { get; init; }

    [Column("lower_limit",
        "Lower limit of agreement of that ratio: one more series lies between the limits with a probability of 95 %.", "1")]
    public double? LowerLimit { get; init; }

    [Column("upper_limit", "Upper limit of agreement.", "1")]
    public double? UpperLimit { get; init; }

    [Column("lower_limit_lower95",
        "Lower end of the exact 95 % interval of the ratio that 2.5 % of all series lie below, which the lower limit stands for.", "1")]
    public double? LowerLimitLower95 { get; init; }

    [Column("lower_limit_upper95", "Upper end of that interval.", "1")]
    public double? LowerLimitUpper95 { get; init; }

    [Column("upper_limit_lower95", "So of the ratio that 2.5 % of all series lie above: lower end.", "1")]
    public double? UpperLimitLower95 { get; init; }

    [Column("upper_limit_upper95", "Upper end of that interval.", "1")]
    public double? UpperLimitUpper95 { get; init; }

    [Column("trend_correlation", "Correlation of the log ratio with the log mean; far from 0, one correction for all rates misleads.", "1")]
    public double? TrendCorrelation { get; init; }

    [Column("correction_factor",
        "A two-bag k times this is what the curve would give on average. Offered; no released k is corrected.", "1")]
    public double? CorrectionFactor { get; init; }

    [Column("correction_lower95",
        "A two-bag k times this: lower end of the interval in which the curve would find a single site's k.", "1")]
    public double? CorrectionLower95 { get; init; }

    [Column("correction_upper95", "Upper end of that interval, likewise.", "1")]
    public double? CorrectionUpper95 { get; init; }

    [Column("sentence", "The same in words, or why there are no numbers.")]
    public required string Sentence { get; init; }
}
