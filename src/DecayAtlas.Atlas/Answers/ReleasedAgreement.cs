namespace DecayAtlas.Atlas.Answers;

[Table("agreement",
    "The two-bag k held against the k of the asymptotic curve of the slow litter, over all series in which both are known "
    + "(Bland and Altman 1986). One row.")]
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

    [Column("ratio", "Geometric mean of two-bag k over the curve's k.", "1")]
    public double? Ratio { get; init; }

    [Column("ratio_lower95", "Lower end of its 95 % interval.", "1")]
    public double? RatioLower95 { get; init; }

    [Column("ratio_upper95", "Upper end of that interval.", "1")]
    public double? RatioUpper95 { get; init; }

    [Column("lower_limit", "Lower limit of agreement of that ratio: about 95 % of single series lie between the limits.", "1")]
    public double? LowerLimit { get; init; }

    [Column("upper_limit", "Upper limit of agreement.", "1")]
    public double? UpperLimit { get; init; }

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
