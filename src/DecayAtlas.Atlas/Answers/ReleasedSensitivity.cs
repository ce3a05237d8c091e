namespace DecayAtlas.Atlas.Answers;

[Table("sensitivity",
    "What the numbers and answers of the release would be if something were otherwise than assumed: one row a supposition and quantity. k "
    + "and S are made again from the released weighings; no released k is changed by it.")]
public sealed record ReleasedSensitivity
{
    [Column("supposition", "Code of what is supposed.", IsKey = true)]
    public required string Supposition { get; init; }

    [Column("quantity",
        "k or s (of single burials), site-k (geometric means of sites), ecosystem, land_use, management or treatment (pairs of groups), "
        + "covariates or map-ranking.", IsKey = true)]
    public required string Quantity { get; init; }

    [Column("supposed", "What is supposed, in words.")]
    public required string Supposed { get; init; }

    [Column("status", "computed or not-computed.")]
    public string Status => Compared is null ? "not-computed" : "computed";

    [Column("compared", "Burials, sites, pairs or covariates that have the quantity both as released and as supposed.")]
    public int? Compared { get; init; }

    [Column("gone", "Burials, sites or pairs that have it as released alone.")]
    public int? Gone { get; init; }

    [Column("come", "Those that have it as supposed alone.")]
    public int? Come { get; init; }

    [Column("concerned",
        "Of k, s and site-k: those of the compared that the supposition moves at all. Median and shares below are over them.")]
    public int? Concerned { get; init; }

    [Column("median", "Of k and site-k the median of supposed over released, of s that of supposed less released; no change where none is "
        + "concerned.", "1")]
    public double? Median { get; init; }

    [Column("lower5", "5 % of them lie below.", "1")]
    public double? Lower5 { get; init; }

    [Column("upper95", "5 % of them lie above.", "1")]
    public double? Upper95 { get; init; }

    [Column("changed", "Pairs, or covariates, of which something else would be concluded.")]
    public int? Changed { get; init; }

    [Column("rank_correlation",
        "Of map-ranking, Spearman's correlation of the ln k that a linear model foretells for the sites, trained as released and as "
        + "supposed.", "1")]
    public double? RankCorrelation { get; init; }

    [Column("sentence", "The same in words.")]
    public required string Sentence { get; init; }
}
