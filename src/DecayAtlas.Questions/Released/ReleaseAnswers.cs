namespace DecayAtlas.Questions.Released;

/// <summary>The answers that a release carries: computed over all contributors, from its tables of sites, plots, shared errors and curves
/// alone.</summary>
public sealed record ReleaseAnswers(
    IReadOnlyList<ReleasedVariance> Variance, IReadOnlyList<ReleasedGroup> Groups, IReadOnlyList<ReleasedComparison> Comparisons,
    IReadOnlyList<ReleasedAgreement> Agreement, IReadOnlyList<ReleasedCalibration> Calibration, IReadOnlyList<ReleasedNotedAnswer> Noted)
{
    public IReadOnlyList<ReleasedSiteValue> SiteValues { get; init; } = [];

    public IReadOnlyList<ReleasedWarmth> Warmth { get; init; } = [];

    public IReadOnlyList<ReleasedTrend> Trend { get; init; } = [];

    /// <param name="warmthRequest">Missing where nobody says which covariate is the temperature.</param>
    public static ReleaseAnswers Of(IReleasedRows release, EvidenceChoice evidence, WarmthRequest? warmthRequest = null)
    {
        ReleasedRates rates = new(release, evidence);
        (AskedOf Of, WithAndWithoutNoted<VarianceAnswer> Answer)[] variance = [];
        (string By, AskedOf Of, WithAndWithoutNoted<GroupAnswer> Answer)[] comparisons = [];
        (AskedOf Of, WithAndWithoutNoted<SiteValues> Answer)[] values = [];
        WithAndWithoutNoted<WarmthAnswer>[] warmth = [];
        WithAndWithoutNoted<TrendAnswer>[] trend = [];
        // side by side, but k, S, and both without the noted records in turn: one question's models start where those before ended
        Parallel.Invoke(
            () => warmth = [.. OfBoth(of => WithAndWithoutNoted.Ask<WarmthAnswer>(
                rates, r => WarmthOf(r, warmthRequest, of), SlopeChanges.Of, of))],
            () => comparisons =
            [
                .. GroupQuestion.Groupings.AsParallel().AsOrdered().SelectMany(by => OfBoth(of => (by, of,
                    WithAndWithoutNoted.Ask<GroupAnswer>(rates, r => GroupQuestion.Ask(r, by, [], of), AnswerChanges.Of, of)))),
            ],
            () => variance = [.. OfBoth(of => (of, VarianceQuestion.AskBoth(rates, of)))],
            () => values = [.. OfBoth(of => (of, WithAndWithoutNoted.Ask<SiteValues>(
                rates, r => SiteValueQuestion.Ask(r, of), SiteValueQuestion.ChangeOf, of)))],
            () => trend = [.. OfBoth(of => WithAndWithoutNoted.Ask<TrendAnswer>(
                rates, r => TrendQuestion.Ask(r, new TrendRequest([]), of), SlopeChanges.Of, of))]);
        FamilyOfPairs family = FamilyOfPairs.Of(comparisons.Select(c => c.Answer.All)),
            familyWithout = FamilyOfPairs.Of(comparisons.Select(c => c.Answer.Without.Answer).OfType<GroupAnswer>());
        comparisons = [.. comparisons.Select(c => (c.By, c.Of, FamilyOfPairs.Mark(c.Answer, family, familyWithout)))];
        WithAndWithoutNoted<ReleasedAgreement> agreement =
            WithAndWithoutNoted.Ask<ReleasedAgreement>(rates, ShortcutQuestion.Ask, AnswerChanges.Of);
        WithAndWithoutNoted<ReleasedCalibration> calibration =
            WithAndWithoutNoted.Ask<ReleasedCalibration>(rates, CalibrationQuestion.Ask, AnswerChanges.Of, AskedOf.Stabilisation);
        return new ReleaseAnswers(
            [.. variance.SelectMany(v => Both<VarianceAnswer, ReleasedVariance>(
                v.Answer, VarianceOf, row => row with { Records = NotedUse.Without }))],
            [.. comparisons.SelectMany(c => Both<GroupAnswer, ReleasedGroup>(
                c.Answer, a => GroupsOf(c.By, a), row => row with { Records = NotedUse.Without }))],
            [.. comparisons.SelectMany(c => ComparisonsOf(c.By, c.Answer.All, family.Size)),
                .. comparisons.SelectMany(c => c.Answer.Without.Answer is { } without
                    ? ComparisonsOf(c.By, without, familyWithout.Size) : []).Select(row => row with { Records = NotedUse.Without })],
            Both<ReleasedAgreement, ReleasedAgreement>(agreement, a => [a], row => row with { Records = NotedUse.Without }),
            Both<ReleasedCalibration, ReleasedCalibration>(calibration, a => [a], row => row with { Records = NotedUse.Without }),
            [.. variance.Select(v => RowOf("variance", v.Of.Code(), v.Answer.Without)),
                .. comparisons.Select(c => RowOf(c.By, c.Of.Code(), c.Answer.Without)), RowOf("agreement", "k", agreement.Without),
                RowOf("calibration", "s", calibration.Without),
                .. values.Select(v => RowOf("site_values", v.Of.Code(), v.Answer.Without)),
                .. warmth.Select(w => RowOf("warmth", w.All.Of, w.Without)), .. trend.Select(t => RowOf("trend", t.All.Of, t.Without))])
        {
            Warmth = [.. warmth.SelectMany(w => Both<WarmthAnswer, ReleasedWarmth>(
                w, SlopeRows.Of, row => row with { Records = NotedUse.Without }))],
            Trend = [.. trend.SelectMany(t => Both<TrendAnswer, ReleasedTrend>(
                t, a => [SlopeRows.Of(a)], row => row with { Records = NotedUse.Without }))],
            SiteValues = [.. values.SelectMany(v => Both<SiteValues, ReleasedSiteValue>(
                v.Answer, SiteValueQuestion.RowsOf, row => row with { Records = NotedUse.Without }))],
        };
    }

    private static IEnumerable<T> OfBoth<T>(Func<AskedOf, T> ask) => Enum.GetValues<AskedOf>().Select(ask);

    /// <summary>A night does not end over a name that the release lacks.</summary>
    private static WarmthAnswer WarmthOf(ReleasedRates rates, WarmthRequest? request, AskedOf of)
    {
        string? refusal = request is null
            ? "The atlas has not been told which of its quantities is the temperature."
            : WarmthQuestion.RefusalOf(rates, request);
        return request is not null && refusal is null ? WarmthQuestion.Ask(rates, request, of)
            : new WarmthAnswer(request?.Temperature ?? "", request?.Moisture, 0, 0, [], refusal, null, null, []) { Of = of.Code() };
    }

    private static TRow[] Both<T, TRow>(WithAndWithoutNoted<T> answer, Func<T, IEnumerable<TRow>> rowsOf, Func<TRow, TRow> markedWithout)
        where T : class =>
        [.. rowsOf(answer.All), .. answer.Without.Answer is { } without ? rowsOf(without).Select(markedWithout) : []];

    private static ReleasedNotedAnswer RowOf<T>(string answer, string of, WithoutNoted<T> without)
        where T : class => new()
        {
            Answer = answer,
            Of = of,
            NotedBurials = without.NotedBurials,
            NotedContributions = without.NotedContributions,
            ConclusionChanges = without.ConclusionChanges,
            Sentence = without.Sentence,
        };

    private static IEnumerable<ReleasedVariance> VarianceOf(VarianceAnswer answer) =>
    [
        .. answer.Statement is { } statement
            ? [new ReleasedVariance { Of = answer.Of, Model = "nested", Level = "all", Burials = answer.Burials, Statement = statement }]
            : answer.Shares.Select(s => RowOf("nested", answer, s, s.Level == "site" ? answer : null)),
        .. answer.SitesAlone.Select(s => RowOf("site-alone", answer, s)),
    ];

    private static ReleasedVariance RowOf(string model, VarianceAnswer answer, VarianceShare s, VarianceAnswer? repeated = null) => new()
    {
        Of = answer.Of,
        Model = model,
        Level = s.Level.Replace(' ', '-'),
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

    private static IEnumerable<ReleasedGroup> GroupsOf(string by, GroupAnswer answer)
    {
        bool isRate = answer.Of == AskedOf.Rate.Code();
        return answer.Groups.Select(g => new ReleasedGroup
        {
            Of = answer.Of,
            By = by,
            Group = g.Name,
            Burials = g.Burials,
            Sites = g.Sites,
            RatePerDay = isRate ? g.Value : null,
            RateLower95PerDay = isRate ? g.Lower95 : null,
            RateUpper95PerDay = isRate ? g.Upper95 : null,
            Stabilisation = isRate ? null : g.Value,
            StabilisationLower95 = isRate ? null : g.Lower95,
            StabilisationUpper95 = isRate ? null : g.Upper95,
        });
    }

    private static IEnumerable<ReleasedComparison> ComparisonsOf(string by, GroupAnswer answer, int familySize)
    {
        if (answer.Statement is { } statement)
            return [new ReleasedComparison { Of = answer.Of, By = by, Sentence = statement }];
        Dictionary<string, GroupLevel> groups = answer.Groups.ToDictionary(g => g.Name, StringComparer.Ordinal);
        bool isRate = answer.Of == AskedOf.Rate.Code();
        return answer.Pairs.Select(p => new ReleasedComparison
        {
            Of = answer.Of,
            By = by,
            First = p.First,
            Second = p.Second,
            FirstBurials = groups[p.First].Burials,
            FirstSites = groups[p.First].Sites,
            FirstRatePerDay = isRate ? groups[p.First].Value : null,
            FirstStabilisation = isRate ? null : groups[p.First].Value,
            SecondBurials = groups[p.Second].Burials,
            SecondSites = groups[p.Second].Sites,
            SecondRatePerDay = isRate ? groups[p.Second].Value : null,
            SecondStabilisation = isRate ? null : groups[p.Second].Value,
            Ratio = isRate ? p.Contrast : null,
            RatioLower95 = isRate ? p.Lower95 : null,
            RatioUpper95 = isRate ? p.Upper95 : null,
            Difference = isRate ? null : p.Contrast,
            DifferenceLower95 = isRate ? null : p.Lower95,
            DifferenceUpper95 = isRate ? null : p.Upper95,
            DegreesOfFreedom = p.DegreesOfFreedom,
            HolmPValue = p.HolmPValue,
            PValue = p.PValue,
            FamilyPValue = p.FamilyPValue,
            FamilySize = familySize,
            EffectSize = p.EffectSize,
            EffectLower95 = p.EffectLower95,
            EffectUpper95 = p.EffectUpper95,
            Sentence = p.Sentence,
        });
    }
}
