namespace DecayAtlas.Atlas.Tables;

[Table("shared_errors",
    "One row an error that the burials of a row of plots share with other burials: what one standard uncertainty of a quantity of a lot or "
    + "of a batch does to their ln k and S. Rows that name the same quantity of the same lot or batch err together.")]
public sealed record ReleasedSharedError
{
    [Column("site_key", "The site.", IsKey = true)]
    public required string SiteKey { get; init; }

    [Column("campaign", "The campaign.", IsKey = true)]
    public required string Campaign { get; init; }

    [Column("treatment", "The treatment; missing, or a word for a control, in untreated plots.", IsKey = true)]
    public string? Treatment { get; init; }

    [Column("evidence", "weighed, summarised or reported, as in site_campaigns.", IsKey = true)]
    public required string Evidence { get; init; }

    [Column("error_set", "As in plots.", IsKey = true)]
    public required string ErrorSet { get; init; }

    [Column("shared_by", "lot or batch.", IsKey = true)]
    public required string SharedBy { get; init; }

    [Column("shared_id", "Which lot or batch.", IsKey = true)]
    public required string SharedId { get; init; }

    [Column("quantity",
        "hydrolysable share, ash, tare and lot-moisture of a lot; initial-water and final-water of a batch, by litter, and its balance. "
        + "range at the end: only a range is known, and the error is rectangular.", IsKey = true)]
    public required string Quantity { get; init; }

    [Column("on_ln_k", "Signed change of ln k for one standard uncertainty, at the mean k of the site.", "1")]
    public required double OnLnRate { get; init; }

    [Column("on_s", "So of S.", "1")]
    public required double OnStabilisation { get; init; }
}
