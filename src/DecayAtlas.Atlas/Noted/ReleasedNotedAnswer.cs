namespace DecayAtlas.Atlas.Noted;

[Table("noted_answers",
    "One row an answer of the release: what would be another without the noted burials. The answers themselves stand in their tables, "
    + "with records all and without-noted.")]
public sealed record ReleasedNotedAnswer
{
    [Column("answer", "variance, agreement, calibration, site_values, warmth, trend, or what groups are compared by.", IsKey = true)]
    public required string Answer { get; init; }

    [Column("of", "k or s.", IsKey = true)]
    public required string Of { get; init; }

    [Column("noted_burials",
        "Noted burials that the answer takes: accepted with k above 0 (of s: with S), or at their plateau and suspect for nothing else.")]
    public required int NotedBurials { get; init; }

    [Column("noted_contributions", "Contributions that brought them.")]
    public required int NotedContributions { get; init; }

    [Column("conclusion_changes", "Whether another conclusion would be drawn without them.")]
    public required bool ConclusionChanges { get; init; }

    [Column("sentence", "The difference in words.")]
    public required string Sentence { get; init; }
}
