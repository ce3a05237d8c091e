namespace DecayAtlas.Atlas.Answers;

[Table("groups",
    "One row a group of one question (ecosystem, land use, management, treatment; of k or S): its mean by the model that compares them, "
    + "with the interval. Which groups are told apart stands in comparisons: intervals that overlap do not say it.")]
public sealed record ReleasedGroup
{
    [Column("of", "k or s.", IsKey = true)]
    public required string Of { get; init; }

    [Column("compared_by", "ecosystem, land_use, management or treatment.", IsKey = true)]
    public required string By { get; init; }

    [Column("group", "The group.", IsKey = true)]
    public required string Group { get; init; }

    [Column("records", NotedUse.Meaning, IsKey = true)]
    public string Records { get; init; } = NotedUse.All;

    [Column("burials", "Burials of the group.")]
    public required int Burials { get; init; }

    [Column("sites", "Its sites.")]
    public required int Sites { get; init; }

    [Column("k_per_day", "exp of the mean of ln k.", "d-1")]
    public double? RatePerDay { get; init; }

    [Column("k_lower95_per_day", "Lower end of its 95 % interval, shared errors of lots and batches included.", "d-1")]
    public double? RateLower95PerDay { get; init; }

    [Column("k_upper95_per_day", "Upper end of that interval.", "d-1")]
    public double? RateUpper95PerDay { get; init; }

    [Column("s", "Mean of S.", "1")]
    public double? Stabilisation { get; init; }

    [Column("s_lower95", "Lower end of its 95 % interval, shared errors of lots and batches included.", "1")]
    public double? StabilisationLower95 { get; init; }

    [Column("s_upper95", "Upper end of that interval.", "1")]
    public double? StabilisationUpper95 { get; init; }

    /// <summary>The mean of k or S.</summary>
    public double? Mean => RatePerDay ?? Stabilisation;

    public double? Lower95 => RateLower95PerDay ?? StabilisationLower95;

    public double? Upper95 => RateUpper95PerDay ?? StabilisationUpper95;
}
