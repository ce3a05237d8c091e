using DecayAtlas.Atlas.Records;
using DecayAtlas.Atlas.Storage;

namespace DecayAtlas.Pipeline.Answers;

/// <summary>The answers that a release carries: computed over all contributors, from its tables of sites, plots and curves alone.</summary>
internal sealed record ReleaseAnswers(IReadOnlyList<VarianceRow> Variance, IReadOnlyList<ComparisonRow> Comparisons, IReadOnlyList<AgreementRow> Agreement)
{
    public static ReleaseAnswers Of(Func<string, ParquetColumns> table)
    {
        var rates = new ReleasedRates(table);
        return new ReleaseAnswers(
            VarianceOf(VarianceQuestion.Ask(rates)),
            [.. GroupQuestion.Groupings.SelectMany(by => ComparisonsOf(by, GroupQuestion.Ask(rates, by, [])))],
            [ShortcutQuestion.Ask(ShortcutQuestion.PairsOf(table("curves")))]);
    }

    private static VarianceRow[] VarianceOf(VarianceAnswer answer) =>
    [
        .. answer.Statement is { } statement
            ? [new VarianceRow("nested", "all", null, answer.Burials, null, null, null, null, null, statement)]
            : answer.Shares.Select(s => Row("nested", answer, s)),
        .. answer.SitesAlone.Select(s => Row("site-alone", answer, s) with { Repeatability = s.Level == "site" ? answer.Repeatability : null }),
    ];

    private static VarianceRow Row(string model, VarianceAnswer answer, VarianceShare s) => new(model, s.Level, s.Units, answer.Burials, s.Variance, s.Share, s.ShareLower95, s.ShareUpper95, null, null);

    private static IEnumerable<ComparisonRow> ComparisonsOf(string by, GroupAnswer answer)
    {
        if (answer.Statement is { } statement)
            return [new ComparisonRow(by, null, null, null, null, null, null, null, null, null, null, null, null, null, null, null, null, statement)];
        Dictionary<string, GroupRate> groups = answer.Groups.ToDictionary(g => g.Name, StringComparer.Ordinal);
        return answer.Pairs.Select(p => new ComparisonRow(
            by, p.First, p.Second,
            groups[p.First].Burials, groups[p.First].Sites, groups[p.First].RatePerDay,
            groups[p.Second].Burials, groups[p.Second].Sites, groups[p.Second].RatePerDay,
            p.Ratio, p.Lower95, p.Upper95, p.DegreesOfFreedom, p.HolmPValue, p.EffectSize, p.EffectLower95, p.EffectUpper95, p.Sentence));
    }
}
