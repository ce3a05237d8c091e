namespace DecayAtlas.Atlas.Answers;

[Table("comparisons",
    "One row a pair of groups of one question (ecosystem, land use, management, treatment; of k or S): the ratio of k or the difference of "
    + "S by a mixed model of ln k and S with sites random, and what may be concluded; or one row that says why the question has no "
    + "answer. " + Family)]
public sealed record ReleasedComparison
{
    /// <summary>What is corrected for together.</summary>
    public const string Family =
        "The family of tests of a release is all these pairs together, of every grouping and of k and S. Warmth, trends, calibrations, "
        + "variances and site values are estimates with intervals; where a sentence on one of them gives a P, it is of that number alone, "
        + "in no correction. Questions asked by hand come on top.";

    /// <summary>How many comparisons a release makes, and how many are told apart after correction for all.</summary>
    public static (int Made, int Standing) CountOf(IEnumerable<ReleasedComparison> rows)
    {
        ReleasedComparison[] pairs = [.. rows.Where(r => r.Records == NotedUse.All && r.Contrast is not null)];
        return (pairs.Length, pairs.Count(p => p.IsToldApart));
    }

    [Column("of", "k or s.", IsKey = true)]
    public required string Of { get; init; }

    [Column("compared_by", "ecosystem, land_use, management or treatment.", IsKey = true)]
    public required string By { get; init; }

    [Column("first", "The group divided by or taken off: of the two the one with the smaller mean.", IsKey = true)]
    public string? First { get; init; }

    [Column("second", "The other.", IsKey = true)]
    public string? Second { get; init; }

    [Column("records", NotedUse.Meaning, IsKey = true)]
    public string Records { get; init; } = NotedUse.All;

    [Column("status", "computed or not-computed.")]
    public string Status => Contrast is null ? "not-computed" : "computed";

    [Column("first_burials", "Burials of the first group.")]
    public int? FirstBurials { get; init; }

    [Column("first_sites", "Sites of the first group.")]
    public int? FirstSites { get; init; }

    [Column("first_k_per_day", "exp of the mean of ln k of the first group.", "d-1")]
    public double? FirstRatePerDay { get; init; }

    [Column("first_s", "Mean S of the first group.", "1")]
    public double? FirstStabilisation { get; init; }

    [Column("second_burials", "Burials of the second group.")]
    public int? SecondBurials { get; init; }

    [Column("second_sites", "Sites of the second group.")]
    public int? SecondSites { get; init; }

    [Column("second_k_per_day", "exp of the mean of ln k of the second group.", "d-1")]
    public double? SecondRatePerDay { get; init; }

    [Column("second_s", "Mean S of the second group.", "1")]
    public double? SecondStabilisation { get; init; }

    [Column("ratio", "k of the second over k of the first.", "1")]
    public double? Ratio { get; init; }

    [Column("ratio_lower95", "Lower end of the pair's own 95 % interval; missing with too few sites.", "1")]
    public double? RatioLower95 { get; init; }

    [Column("ratio_upper95", "Upper end of that interval.", "1")]
    public double? RatioUpper95 { get; init; }

    [Column("difference", "S of the second less S of the first.", "1")]
    public double? Difference { get; init; }

    [Column("difference_lower95", "Lower end of the pair's own 95 % interval; missing with too few sites.", "1")]
    public double? DifferenceLower95 { get; init; }

    [Column("difference_upper95", "Upper end of that interval.", "1")]
    public double? DifferenceUpper95 { get; init; }

    /// <summary>The ratio of k or the difference of S.</summary>
    public double? Contrast => Ratio ?? Difference;

    public double? Lower95 => RatioLower95 ?? DifferenceLower95;

    public double? Upper95 => RatioUpper95 ?? DifferenceUpper95;

    [Column("degrees_of_freedom", "Degrees of freedom by Kenward and Roger.", "1")]
    public double? DegreesOfFreedom { get; init; }

    [Column("p", "Probability under no difference, of this pair alone.", "1")]
    public double? PValue { get; init; }

    [Column("p_holm", "Probability under no difference, after Holm's correction for all pairs of the question.", "1")]
    public double? HolmPValue { get; init; }

    [Column("p_family",
        "The same after Holm's correction for all pairs of the release, of every question and of k and S: what is below 0.05 here is told "
        + "apart with at most 5 % chance of any false finding in the whole table.", "1")]
    public double? FamilyPValue { get; init; }

    [Column("family_size", "How many pairs that are.")]
    public int? FamilySize { get; init; }

    /// <summary>Whether the two are told apart, among all pairs of the release.</summary>
    public bool IsToldApart => MultipleComparisons.IsTold(FamilyPValue);

    /// <summary>Whether they would be among the pairs of their own question alone.</summary>
    public bool IsToldApartInItsQuestion => MultipleComparisons.IsTold(HolmPValue);

    [Column("effect_size", "Difference of ln k or S over the standard deviation of a single burial, its known errors left out.", "1")]
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
