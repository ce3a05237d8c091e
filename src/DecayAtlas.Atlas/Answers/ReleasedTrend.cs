namespace DecayAtlas.Atlas.Answers;

[Table("trend",
    "How k and S of untreated plots changed over campaigns, by a mixed model with time fixed and sites, blocks of sites, campaigns (from "
    + "three on) and plots random: one row for k and one for S, with a sentence where there is no answer.")]
public sealed record ReleasedTrend
{
    /// <summary>Fewer seasons tell nothing of how seasons scatter (common practice, no source).</summary>
    public const int FewestCampaigns = 3;

    [Column("of", "k or s.", IsKey = true)]
    public required string Of { get; init; }

    [Column("records", NotedUse.Meaning, IsKey = true)]
    public string Records { get; init; } = NotedUse.All;

    [Column("status", "computed or not-computed.")]
    public string Status => Contrast is null ? "not-computed" : "computed";

    [Column("campaigns", "Campaigns, which tell how seasons scatter: few of them say little, however many burials they have.")]
    public required int Campaigns { get; init; }

    [Column("burials", "Burials that took part.")]
    public required int Burials { get; init; }

    [Column("sites", "Their sites.")]
    public required int Sites { get; init; }

    [Column("sites_dug_again", "Of these, in several campaigns.")]
    public required int SitesDugAgain { get; init; }

    [Column("ratio", "k over k of one year before.", "1")]
    public double? Ratio { get; init; }

    [Column("ratio_lower95", "Lower end of its 95 % interval.", "1")]
    public double? RatioLower95 { get; init; }

    [Column("ratio_upper95", "Upper end of that interval.", "1")]
    public double? RatioUpper95 { get; init; }

    [Column("difference", "S less S of one year before.", "1")]
    public double? Difference { get; init; }

    [Column("difference_lower95", "Lower end of its 95 % interval.", "1")]
    public double? DifferenceLower95 { get; init; }

    [Column("difference_upper95", "Upper end of that interval.", "1")]
    public double? DifferenceUpper95 { get; init; }

    [Column("degrees_of_freedom", "Of the interval: by Kenward and Roger, from three campaigns on at most campaigns less 2.", "1")]
    public double? DegreesOfFreedom { get; init; }

    [Column("sentence", "The same in words, and what may not be concluded; or why there are no numbers.")]
    public required string Sentence { get; init; }

    /// <summary>The ratio of k or the difference of S.</summary>
    public double? Contrast => Ratio ?? Difference;

    public double? Lower95 => RatioLower95 ?? DifferenceLower95;

    public double? Upper95 => RatioUpper95 ?? DifferenceUpper95;

    /// <summary>Whether a trend can't be told from the difference of two seasons.</summary>
    public bool IsOfTwoSeasons => Campaigns < FewestCampaigns;

    /// <summary>1 where it rises, -1 where it falls, 0 where neither is shown.</summary>
    public int Side => Lower95 > (Ratio is null ? 0 : 1) ? 1 : Upper95 < (Ratio is null ? 0 : 1) ? -1 : 0;
}
