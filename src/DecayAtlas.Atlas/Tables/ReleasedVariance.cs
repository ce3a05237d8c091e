namespace DecayAtlas.Atlas.Tables;

/// <summary>One level of a variance split over all untreated plots, or the statement why there is none.</summary>
[Table(
    "variance",
    "Where the variance of ln k lies, over the accepted burials of untreated plots with k above 0: one row a level, by "
    + "restricted maximum likelihood. Model site-alone has sites and burials only; there the share of the site is the intraclass "
    + "correlation.")]
public sealed record ReleasedVariance
{
    [Column("model", "nested or site-alone.", IsKey = true)]
    public required string Model { get; init; }

    [Column(
        "level",
        "ecosystem, site, campaign, plot or burial, each within the one above; a level that never splits the one above is left out.",
        IsKey = true)]
    public required string Level { get; init; }

    [Column("status", "computed or not-computed.")]
    public string Status => Statement is null ? "computed" : "not-computed";

    [Column("units", "Units at the level.")]
    public int? Units { get; init; }

    [Column("burials", "Burials that took part.")]
    public required int Burials { get; init; }

    [Column("variance", "Variance of ln k between units of the level.", Unit = "1")]
    public double? Variance { get; init; }

    [Column("share", "That variance over the sum of all levels.", Unit = "1")]
    public double? Share { get; init; }

    [Column(
        "share_lower95",
        "Lower end of the 95 % profile-likelihood interval of the share; missing for burials, and rough with few units.", Unit = "1")]
    public double? ShareLower95 { get; init; }

    [Column("share_upper95", "Upper end of that interval.", Unit = "1")]
    public double? ShareUpper95 { get; init; }

    [Column(
        "repeatability_2",
        "Share of the variance of a site's mean that is the site's own, with 2 burials a site; in the row of the site of "
        + "site-alone.", Unit = "1")]
    public double? Repeatability2 { get; init; }

    [Column(
        "repeatability_3",
        "Share of the variance of a site's mean that is the site's own, with 3 burials a site; in the row of the site of "
        + "site-alone.", Unit = "1")]
    public double? Repeatability3 { get; init; }

    [Column(
        "repeatability_5",
        "Share of the variance of a site's mean that is the site's own, with 5 burials a site; in the row of the site of "
        + "site-alone.", Unit = "1")]
    public double? Repeatability5 { get; init; }

    [Column(
        "repeatability_10",
        "Share of the variance of a site's mean that is the site's own, with 10 burials a site; in the row of the site of "
        + "site-alone.", Unit = "1")]
    public double? Repeatability10 { get; init; }

    [Column(
        "repeatability_20",
        "Share of the variance of a site's mean that is the site's own, with 20 burials a site; in the row of the site of "
        + "site-alone.", Unit = "1")]
    public double? Repeatability20 { get; init; }

    [Column("statement", "Why there are no numbers.")]
    public string? Statement { get; init; }
}
