namespace DecayAtlas.Atlas.Noted;

[Table("noted",
    "One row a burial that a note casts doubt on: a note on itself, on its site or on its contribution, from holding all contributors "
    + "against one another, that no decision overrules. A note bears on no use; answers, the model and the map are given with such "
    + "burials and without them.")]
public sealed record ReleasedNoted
{
    [Column("contribution_id", "Contribution that brought the burial.", IsKey = true)]
    public required string ContributionId { get; init; }

    [Column("burial_id", "Id of the burial in its contribution.", IsKey = true)]
    public required string BurialId { get; init; }

    [Column("site_key", "The site.")]
    public required string SiteKey { get; init; }

    [Column("campaign", "The campaign.")]
    public required string Campaign { get; init; }

    [Column("treatment", "Treatment of the plot; missing, or a word for a control, where it is untreated.")]
    public string? Treatment { get; init; }

    [Column("plot", "Plot within the site.")]
    public string? Plot { get; init; }

    [Column("error_set", "The lots and batches of its bags, joined by |, as in plots.")]
    public string ErrorSet { get; init; } = "";

    [Column("use", "accepted, suspect or rejected; only accepted burials take part in means, answers and models.")]
    public required string Use { get; init; }

    [Column("exposure_days", "Days from burial to retrieval.", "d")]
    public int? ExposureDays { get; init; }

    [Column("k_per_day", "Decay rate k, as in burials.", "d-1")]
    public double? RatePerDay { get; init; }

    [Column("s", "Stabilisation factor S, as in burials.", "1")]
    public double? Stabilisation { get; init; }

    [Column("noted_because", "Codes of the notes, in the table of flags, joined by commas.")]
    public required string Because { get; init; }

    public bool IsAccepted => Use == AtlasCode.Of(Records.Use.Accepted);

    /// <summary>Whether its ln k is averaged, compared and learnt from.</summary>
    public bool CountsLnRate => IsAccepted && RatePerDay > 0;
}
