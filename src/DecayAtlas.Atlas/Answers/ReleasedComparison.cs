namespace DecayAtlas.Atlas.Answers;

[Table("comparisons",
    "One row a pair of groups of one question (ecosystem, land use, management, treatment): the ratio of k by a mixed model of "
    + "ln k with sites random, and what may be concluded; or one row that says why the question has no answer.")]
public sealed record ReleasedComparison
{
    [Column("compared_by", "ecosystem, land_use, management or treatment.", IsKey = true)]
    public required string By { get; init; }

    [Column("first", "The group divided by.", IsKey = true)]
    public string? First { get; init; }

    [Column("second", "The group divided.", IsKey = true)]
    public string? Second { get; init; }

    [Column("records", NotedUse.Meaning, IsKey = true)]
    public string Records { get; init; } = NotedUse.All;

    [Column("status", "computed or not-computed.")]
    public string Status => Ratio is null ? "not-computed" : "computed";

    [Column("first_burials", "Burials of the first group.")]
    public int? FirstBurials { get; init; }

    [Column("first_sites", "Sites of the first group.")]
    public int? FirstSites { get; init; }

    [Column("first_k_per_day", "exp of the mean of ln k of the first group.", "d-1")]
    public double? FirstRatePerDay { get; init; }

    [Column("second_burials", "Burials of the second group.")]
    public int? SecondBurials { get; init; }

    [Column("second_sites", "Sites of the second group.")]
    public int? SecondSites { get; init; }

    [Column("second_k_per_day", "exp of the mean of ln k of the second group.", "d-1")]
    public double? SecondRatePerDay { get; init; }

    [Column("ratio", "k of the second over k of the first.", "1")]
    public double? Ratio { get; init; }

    [Column("ratio_lower95", "Lower end of the pair's own 95 % interval; missing with too few sites.", "1")]
    public double? Lower95 { get; init; }

    [Column("ratio_upper95", "Upper end of that interval.", "1")]
    public double? Upper95 { get; init; }

    [Column("degrees_of_freedom", "Satterthwaite's degrees of freedom.", "1")]
    public double? DegreesOfFreedom { get; init; }

    [Column("p_holm", "Probability under no difference, after Holm's correction for all pairs of the question.", "1")]
    public double? HolmPValue { get; init; }

    /// <summary>Whether the two are told apart.</summary>
    public bool IsToldApart => MultipleComparisons.IsTold(HolmPValue);

    [Column("effect_size", "Difference of ln k over the standard deviation of a single burial.", "1")]
    public double? EffectSize { get; init; }

    [Column("effect_size_lower95", "Lower end of it, that standard deviation taken as known.", "1")]
    public double? EffectLower95 { get; init; }

    [Column("effect_size_upper95", "Upper end of it.", "1")]
    public double? EffectUpper95 { get; init; }

    [Column("sentence",
        "What may and may not be concluded, or why there are no numbers. Groups were not allotted to sites by lot: a difference "
        + "shows that groups differ, not why.")]
    public required string Sentence { get; init; }
}
