namespace DecayAtlas.Atlas.Answers;

[Table("variance",
    "Where the variance of ln k and of S lies, over the accepted burials of untreated plots: one row a level, by restricted maximum "
    + "likelihood of both together, with what weighings, batches and lots are known to err by taken off. Model site-alone has sites and "
    + "burials only; there the share of the site is the intraclass correlation.")]
public sealed record ReleasedVariance
{
    private const string OwnShare = "Share of the variance of a site's mean that is the site's own from campaign to campaign, with ",
        OfBurials = " burials a site in one campaign; in the row of the site of model nested.";

    [Column("of", "k (ln k) or s.", IsKey = true)]
    public required string Of { get; init; }

    [Column("model", "nested or site-alone.", IsKey = true)]
    public required string Model { get; init; }

    [Column("level",
        "ecosystem, site, campaign (what a season does to all sites alike), campaign-at-site, plot or burial; one that the data can't tell "
        + "is left out.",
        IsKey = true)]
    public required string Level { get; init; }

    [Column("records", NotedUse.Meaning, IsKey = true)]
    public string Records { get; init; } = NotedUse.All;

    [Column("status", "computed or not-computed.")]
    public string Status => Statement is null ? "computed" : "not-computed";

    [Column("units", "Units at the level.")]
    public int? Units { get; init; }

    [Column("burials", "Burials that took part.")]
    public required int Burials { get; init; }

    [Column("variance", "Variance of ln k or S between units of the level.", "1")]
    public double? Variance { get; init; }

    [Column("share", "That variance over the sum of all levels.", "1")]
    public double? Share { get; init; }

    [Column("share_lower95",
        "Lower end of the 95 % profile-likelihood interval of the share; rough with few units, and given for all records only.", "1")]
    public double? ShareLower95 { get; init; }

    [Column("share_upper95", "Upper end of that interval.", "1")]
    public double? ShareUpper95 { get; init; }

    [Column("repeatability_2", OwnShare + "2" + OfBurials, "1")]
    public double? Repeatability2 { get; init; }

    [Column("repeatability_3", OwnShare + "3" + OfBurials, "1")]
    public double? Repeatability3 { get; init; }

    [Column("repeatability_5", OwnShare + "5" + OfBurials, "1")]
    public double? Repeatability5 { get; init; }

    [Column("repeatability_10", OwnShare + "10" + OfBurials, "1")]
    public double? Repeatability10 { get; init; }

    [Column("repeatability_20", OwnShare + "20" + OfBurials, "1")]
    public double? Repeatability20 { get; init; }

    [Column("statement", "Why there are no numbers.")]
    public string? Statement { get; init; }
}
