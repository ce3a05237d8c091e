namespace DecayAtlas.Atlas.Tables;

[Table("flags", "One row a flag: a finding about one record, with the numbers that raised it. The codes are explained in the flag pages.")]
public sealed record ReleasedFlag
{
    [Column("contribution_id", "Contribution of the record.", IsKey = true)]
    public required string ContributionId { get; init; }

    [Column("record_kind", "contribution, site, lot, bag, burial or result.", IsKey = true)]
    public required string RecordKind { get; init; }

    [Column("record_id", "Id of the record in its contribution.", IsKey = true)]
    public required string RecordId { get; init; }

    [Column("code", "What was found.", IsKey = true)]
    public required string Code { get; init; }

    [Column("severity", "note, suspect or reject.")]
    public required string Severity { get; init; }

    [Column("measured", "The number that raised the flag.", "see unit")]
    public double? Measured { get; init; }

    [Column("limit", "The limit it passed.", "see unit")]
    public double? Limit { get; init; }

    [Column("unit", "Unit of measured and limit.")]
    public string? Unit { get; init; }

    [Column("explanation", "The finding as a sentence.", IsKey = true)]
    public required string Explanation { get; init; }

    [Column("overruled_by", "Who decided that the flag does not bear on the use; missing where nobody did.")]
    public string? OverruledBy { get; init; }

    [Column("overruled_because", "Why.")]
    public string? OverruledBecause { get; init; }

    public static ReleasedFlag Of(Flag flag) => new()
    {
        ContributionId = flag.Record.ContributionId,
        RecordKind = AtlasCode.Of(flag.Record.Kind),
        RecordId = flag.Record.RecordId,
        Code = flag.Code,
        Severity = AtlasCode.Of(flag.Severity),
        Measured = flag.Measured,
        Limit = flag.Limit,
        Unit = flag.Unit,
        Explanation = flag.Explanation,
        OverruledBy = flag.Overruling?.By,
        OverruledBecause = flag.Overruling?.Because,
    };
}
