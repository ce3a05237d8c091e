namespace DecayAtlas.Atlas.Tables;

[Table("decisions",
    "One row a decision: a contribution withdrawn, or a suspect flag or a note that casts doubt overruled, with who, when and why.")]
public sealed record ReleasedDecision
{
    [Column("contribution_id", "The contribution it is about.", IsKey = true)]
    public required string ContributionId { get; init; }

    [Column("decision", "withdraw or overrule.", IsKey = true)]
    public required string Kind { get; init; }

    [Column("record_kind", "site, bag, burial, result or contribution, where a flag is overruled.", IsKey = true)]
    public string? RecordKind { get; init; }

    [Column("record_id", "Id of the record in its contribution.", IsKey = true)]
    public string? RecordId { get; init; }

    [Column("code", "The flag that is overruled.", IsKey = true)]
    public string? Code { get; init; }

    [Column("revision", "Revision of the contribution that an overruling was decided for.")]
    public int? Revision { get; init; }

    [Column("decided_by", "Who decided: a role or an id.")]
    public required string DecidedBy { get; init; }

    [Column("decided_on", "The day of the decision.", IsKey = true)]
    public required DateOnly DecidedOn { get; init; }

    [Column("because", "The reason.")]
    public required string Because { get; init; }

    public static ReleasedDecision Of(Decision decision) => new()
    {
        ContributionId = decision.ContributionId,
        Kind = decision.IsWithdrawal ? "withdraw" : "overrule",
        RecordKind = decision.Overruled is { } record ? AtlasCode.Of(record.Kind) : null,
        RecordId = decision.Overruled?.RecordId,
        Code = decision.FlagCode,
        Revision = decision.IsWithdrawal ? null : decision.Revision,
        DecidedBy = decision.By,
        DecidedOn = decision.On,
        Because = decision.Because,
    };
}
