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
        + "covariates, map-ranking, warmth-k or warmth-s.", IsKey = true)]
    public required string Quantity { get; init; }

    [Column("supposed", "What is supposed, in words.")]
    public required string Supposed { get; init; }

    [Column("status", "computed or not-computed.")]
    public string Status => Compared is null ? "not-computed" : "computed";

    [Column("compared", "Burials, sites, pairs, covariates or responses that have the quantity both as released and as supposed.")]
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

    [Column("changed",
        "Pairs, or covariates, of which something else would be concluded; of warmth-k and warmth-s 1 where the number leaves its interval "
        + "as released.")]
    public int? Changed { get; init; }

    [Column("rank_correlation",
        "Of map-ranking, Spearman's correlation of the ln k that a linear model foretells for the sites, trained as released and as "
        + "supposed.", "1")]
    public double? RankCorrelation { get; init; }

    [Column("warmth_as_released",
        "Of warmth-k k at 20 °C over k at 10 °C, of warmth-s how much S changes with 10 K, by the burials that suppositions are tried on.",
        "1")]
    public double? WarmthAsReleased { get; init; }

    [Column("warmth_as_supposed", "The same as supposed, by the same form.", "1")]
    public double? WarmthAsSupposed { get; init; }

    [Column("warmth_lower95", "Lower end of its 95 % interval.", "1")]
    public double? WarmthLower95 { get; init; }

    [Column("warmth_upper95", "Upper end of that interval.", "1")]
    public double? WarmthUpper95 { get; init; }

    [Column("sentence", "The same in words.")]
    public required string Sentence { get; init; }

    /// <summary>Whether it counts pairs of groups.</summary>
    public bool IsOfPairs => Quantity is "ecosystem" or "land_use" or "management" or "treatment";

    /// <summary>The quantity of a response to warmth.</summary>
    /// <param name="of">k or s.</param>
    public static string WarmthOf(string of) => $"warmth-{of}";
}
