namespace DecayAtlas.Questions.Answers;

/// <summary>The answers that a release carries: computed over all contributors, from its tables of sites, plots and curves alone.</summary>
public sealed record ReleaseAnswers(
    IReadOnlyList<ReleasedVariance> Variance, IReadOnlyList<ReleasedComparison> Comparisons, IReadOnlyList<ReleasedAgreement> Agreement,
    IReadOnlyList<ReleasedCalibration> Calibration, IReadOnlyList<ReleasedNotedAnswer> Noted)
{
    public static ReleaseAnswers Of(IReleasedRows release, EvidenceChoice evidence)
    {
        ReleasedRates rates = new(release, evidence);
        WithAndWithoutNoted<VarianceAnswer> variance =
            WithAndWithoutNoted.Ask<VarianceAnswer>(rates, VarianceQuestion.Ask, AnswerChanges.Of);
        (string By, WithAndWithoutNoted<GroupAnswer> Answer)[] comparisons =
        [
            .. GroupQuestion.Groupings.Select(by =>
                (by, WithAndWithoutNoted.Ask<GroupAnswer>(rates, r => GroupQuestion.Ask(r, by, []), AnswerChanges.Of))),
        ];
        WithAndWithoutNoted<ReleasedAgreement> agreement =
            WithAndWithoutNoted.Ask<ReleasedAgreement>(rates, ShortcutQuestion.Ask, AnswerChanges.Of);
        WithAndWithoutNoted<ReleasedCalibration> calibration =
            WithAndWithoutNoted.Ask<ReleasedCalibration>(rates, CalibrationQuestion.Ask, AnswerChanges.Of);
        return new ReleaseAnswers(
            Both<VarianceAnswer, ReleasedVariance>(variance, VarianceOf, row => row with { Records = NotedUse.Without }),
            [.. comparisons.SelectMany(c => Both<GroupAnswer, ReleasedComparison>(
                c.Answer, a => ComparisonsOf(c.By, a), row => row with { Records = NotedUse.Without }))],
            Both<ReleasedAgreement, ReleasedAgreement>(agreement, a => [a], row => row with { Records = NotedUse.Without }),
            Both<ReleasedCalibration, ReleasedCalibration>(calibration, a => [a], row => row with { Records = NotedUse.Without }),
            [RowOf("variance", variance.Without), .. comparisons.Select(c => RowOf(c.By, c.Answer.Without)),
                RowOf("agreement", agreement.Without), RowOf("calibration", calibration.Without)]);
    }

    private static TRow[] Both<T, TRow>(WithAndWithoutNoted<T> answer, Func<T, IEnumerable<TRow>> rowsOf, Func<TRow, TRow> markedWithout)
        where T : class =>
        [.. rowsOf(answer.All), .. answer.Without.Answer is { } without ? rowsOf(without).Select(markedWithout) : []];

    private static ReleasedNotedAnswer RowOf<T>(string answer, WithoutNoted<T> without)
        where T : class => new()
        {
            Answer = answer,
            NotedBurials = without.NotedBurials,
            NotedContributions = without.NotedContributions,
            ConclusionChanges = without.ConclusionChanges,
            Sentence = without.Sentence,
        };

    private static IEnumerable<ReleasedVariance> VarianceOf(VarianceAnswer answer) =>
    [
        .. answer.Statement is { } statement
            ? [new ReleasedVariance { Model = "nested", Level = "all", Burials = answer.Burials, Statement = statement }]
            : answer.Shares.Select(s => RowOf("nested", answer, s)),
        .. answer.SitesAlone.Select(s => RowOf("site-alone", answer, s, s.Level == "site" ? answer : null)),
    ];

    private static ReleasedVariance RowOf(string model, VarianceAnswer answer, VarianceShare s, VarianceAnswer? repeated = null) => new()
    {
        Model = model,
        Level = s.Level,
        Units = s.Units,
        Burials = answer.Burials,
        Variance = s.Variance,
        Share = s.Share,
        ShareLower95 = s.ShareLower95,
        ShareUpper95 = s.ShareUpper95,
        Repeatability2 = repeated?.Repeatability?[2],
        Repeatability3 = repeated?.Repeatability?[3],
        Repeatability5 = repeated?.Repeatability?[5],
        Repeatability10 = repeated?.Repeatability?[10],
        Repeatability20 = repeated?.Repeatability?[20],
    };

    private static IEnumerable<ReleasedComparison> ComparisonsOf(string by, GroupAnswer answer)
    {
        if (answer.Statement is { } statement)
            return [new ReleasedComparison { By = by, Sentence = statement }];
        Dictionary<string, GroupRate> groups = answer.Groups.ToDictionary(g => g.Name, StringComparer.Ordinal);
        return answer.Pairs.Select(p => new ReleasedComparison
        {
            By = by,
            First = p.First,
            Second = p.Second,
            FirstBurials = groups[p.First].Burials,
            FirstSites = groups[p.First].Sites,
            FirstRatePerDay = groups[p.First].RatePerDay,
            SecondBurials = groups[p.Second].Burials,
            SecondSites = groups[p.Second].Sites,
            SecondRatePerDay = groups[p.Second].RatePerDay,
            Ratio = p.Ratio,
            Lower95 = p.Lower95,
            Upper95 = p.Upper95,
            DegreesOfFreedom = p.DegreesOfFreedom,
            HolmPValue = p.HolmPValue,
            EffectSize = p.EffectSize,
            EffectLower95 = p.EffectLower95,
            EffectUpper95 = p.EffectUpper95,
            Sentence = p.Sentence,
        });
    }
}
