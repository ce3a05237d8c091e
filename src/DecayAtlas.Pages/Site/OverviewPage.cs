namespace DecayAtlas.Pages.Site;

/// <summary>The front: how much there is, where it comes from, what it says, and what is new.</summary>
internal static class OverviewPage
{
    public const string Path = "index.html";

    public static string Write(Page page, PagesInputs inputs)
    {
        (Language words, ReleaseData data) = (page.Words, inputs.Data);
        Markup body = Markup.Of(
            $"""
            <section class="hero"><div><h1>{page.Title}</h1><p class="lead">{words["overview.lead"]}</p>
            <p class="doors"><a class="door" href="{page.To(
                MapPage.Path)}">{words["overview.door.map"]}</a> <a class="door quiet" href="{page.To(
                ContributionsPage.Path)}">{words["overview.door.contributions"]}</a></p></div>
            <img class="profile" src="{page.Root}assets/profile.svg" alt="{words["overview.profile"]}" width="420" height="300"></section>
            {Numbers(words, data)}
            <section><h2>{words["overview.rates"]}</h2><p>{words.Rich("overview.rates.text")} {words.Rich(
                "overview.rates.left-out")}{LeftOut("not-positive", r => r.NotPositive)}{LeftOut(
                    "at-plateau", r => r.AtPlateau)}</p><div class="pair">
            {PageCharts.Spread([.. data.Rates.Values.Select(r => r.RatePerDay).OfType<double>()], words.Rich("overview.k.caption"),
                words["axis.rate"], "0.0000", words)}
            {PageCharts.Spread([.. data.Rates.Values.Select(r => r.Stabilisation).OfType<double>()], words.Rich("overview.s.caption"),
                words["axis.stabilisation"], "0.00", words)}
            </div></section>
            {Responses(words, inputs)}
            {AnswersPage.Pointer(page, inputs.Answers)}
            {Coverage(words, data)}
            {Changes(words, inputs.Before is { } before ? ChangesSince.Of(before, data) : null, inputs.Changes)}
            """);
        return Frame.Document(page, words["nav.overview"], body, "overview");

        Markup LeftOut(string why, Func<SiteRate, int> of) => data.Rates.Values.Sum(of) is > 0 and int burials
            ? Markup.Of($" {words.Rich("overview.rates." + why, burials)}") : Markup.None;
    }

    private static Markup Numbers(Language words, ReleaseData data)
    {
        ReleasedBurial[] accepted = [.. data.Burials.Where(b => b.IsAccepted)];
        int[] years = [.. accepted.SelectMany(b => new[] { b.BuriedOn, b.RetrievedOn }).OfType<DateOnly>().Select(d => d.Year).Order()];
        ReleasedResult[] means = [.. data.ResultsOfSite.SelectMany(r => r)];
        int reported = means.Count(r => r.Evidence == "reported");
        (string Number, string Text)[] ofMeans = means.Length == 0 ? []
            : [Tile("overview.results", means.Length)];
        Markup told = Markup.If(means.Length > 0, $"""
            <p class="nothing">{words.Say("overview.results.told", words.Count(means.Count(r => r.Use == "accepted")),
                words.Count(means.Length - reported), words.Count(BurialsOf("summarised")), words.Count(reported),
                words.Count(BurialsOf("reported")))}</p>

            """);

        (string Number, string Text) Tile(string key, int count) => (words.Count(count), words.Say(key, count));

        int BurialsOf(string evidence) => means.Where(r => r.Evidence == evidence).Sum(r => r.Burials);

        (string Number, string Text)[] tiles =
        [
            Tile("overview.sites", data.Sites.Count),
            Tile(means.Length == 0 ? "overview.burials" : "overview.burials.weighed", data.Burials.Count),
            (words.Percent(data.Burials.Count == 0 ? null : (double)data.Burials.Count(b => b.GivesResult) / data.Burials.Count),
                words["overview.accepted"]),
            .. ofMeans,
            Tile("overview.groups", data.Contributions.Select(c => c.ContributorId).Distinct().Count()),
            Tile("overview.campaigns", data.Contributions.Select(c => c.Campaign).Distinct().Count()),
            (years.Length == 0 ? words.Missing : years[0] == years[^1] ? $"{years[0]}" : $"{years[0]}–{years[^1]}",
                words.Say("overview.years", years.Distinct().Count())),
        ];
        return Markup.Of(
            $"""
            <dl class="tiles">{tiles.Select(t => Markup.Of($"<div><dt>{t.Text}</dt><dd{Markup.If(
                t.Number.Length > 7, $" class=\"words\"")}>{t.Number}</dd></div>"))}</dl>
            {told}
            """);
    }

    private static Markup Responses(Language words, PagesInputs inputs)
    {
        IEnumerable<string> names = inputs.Model switch
        {
            null => inputs.Data.Covariates.Where(c => c.Value is not null && c.Unit is not (null or "")).Select(c => c.Covariate)
                .Distinct().Order(StringComparer.Ordinal),
            { Importance: { Count: > 0 } importance } => importance.Select(i => i.Covariate),
            { } model => model.Covariates.Select(c => c.Name),
        };
        Markup[] drawn = [.. names.Select(n => ResponseTo(n, inputs, words)).OfType<Markup>().Take(6)];
        return Markup.If(drawn.Length > 0,
            $"""
            <section><h2>{words["overview.responses"]}</h2><p>{words.Rich("overview.responses.text")} {words["response.how"]}</p>
            <div class="pair">
            {drawn}</div></section>

            """);
    }

    private static Markup? ResponseTo(string name, PagesInputs inputs, Language words)
    {
        ResponsePoint[] points = [.. inputs.Data.ResponsesTo(inputs.Data.Covariate(name))];
        // a handful of sites, or values that are all alike, show no response
        if (points.Length < 5 || points.Select(p => p.X).Distinct().Count() < 3)
            return null;
        string label = inputs.CovariateLabel(name, words);
        return PageCharts.ResponseWithNumbers(points, label, words.Rich("response.caption", label, points.Length), words);
    }

    private static Markup Coverage(Language words, ReleaseData data)
    {
        return Markup.Of(
            $"""
            <section><h2>{words["overview.coverage"]}</h2><p>{words["overview.coverage.text"]}</p><div class="pair">
            {By(s => s.Ecosystem, words["word.ecosystem"])}{By(s => s.LandUse, words["word.land_use"])}{By(
                s => s.CountryCode, words["word.country"])}</div></section>

            """);

        Markup By(Func<ReleasedSite, string?> what, string name)
        {
            IGrouping<string, ReleasedSite>[] groups = [.. data.Sites.GroupBy(s => what(s) ?? "").OrderByDescending(g => g.Count())
                .ThenBy(g => g.Key, StringComparer.Ordinal)];
            Markup table = Frame.Table(name, [name, words["overview.sites"], words["overview.burials"], words.Rich("overview.median.k"),
                words.Rich("overview.median.s")],
                groups.Take(12), g =>
                [
                    g.Key.Length == 0 ? words["word.not-stated"] : words.Word(g.Key), words.Count(g.Count()),
                    words.Count(g.Sum(s => data.BurialsOfSite[s.SiteKey].Count())),
                    words.Rate(Median(g, r => r.RatePerDay)), words.Number(Median(g, r => r.Stabilisation), "0.00"),
                ], "numbers");
            return Markup.Of($"<div>{table}{Frame.More(groups.Length - 12, words)}</div>");
        }

        double Median(IEnumerable<ReleasedSite> sites, Func<SiteRate, double?> what) =>
            Quantiles.Of(Quantiles.Sort(sites.Select(s => what(data.Rates[s.SiteKey])).OfType<double>()), 0.5);
    }

    private static Markup Changes(Language words, ChangesSince? changes, ReleaseChanges? why)
    {
        if (changes is null)
            return Markup.Of($"<section id=\"changes\"><h2>{words["changes.title"]}</h2><p>{words["changes.first"]}</p></section>\n");
        CountChange[] counts = [.. changes.Counts.Where(c => c.Before != c.Now)];
        if (counts.Length == 0 && changes is { RatesChanged: 0, UsesChanged: 0, Added.Count: 0, Revised.Count: 0, Gone.Count: 0 })
        {
            return Markup.Of(
                $"""
                <section id="changes"><h2>{words["changes.title"]}</h2><p>{words.Rich("changes.none", changes.Previous)}</p>
                {(why is null ? null : Why(words, why))}</section>

                """);
        }

        return Markup.Of(
            $"""
            <section id="changes"><h2>{words["changes.title"]}</h2><p>{words.Say("changes.since", changes.Previous)} {words.Rich(
                "changes.rates", changes.RatesChanged, changes.UsesChanged)}</p>
            {Markup.If(counts.Length > 0, $"{Frame.Table(words["changes.title"],
                words.Texts("changes.table", "changes.before", "changes.now", "changes.difference"), counts, c =>
                [
                    words.Word(c.Table), words.Count(c.Before), words.Count(c.Now),
                    (c.Now > c.Before ? "+" : "") + words.Number(c.Now - c.Before, "0"),
                ], "numbers")}")}
            {Named("changes.added", changes.Added)}{Named("changes.revised", changes.Revised)}{Named(
                "changes.gone", changes.Gone)}{(why is null ? null : Why(words, why))}</section>

            """);

        Markup Named(string key, IReadOnlyList<string> ids) => Markup.If(ids.Count > 0,
            $"<p>{words[key]} {string.Join(", ", ids.Take(20))}{(ids.Count > 20 ? ", …" : "")}</p>\n");
    }

    private static Markup Why(Language words, ReleaseChanges why)
    {
        Markup table = Markup.If(why.Sites.Count > 0,
            $"""
            <h3>{words["changes.why"]}</h3><p>{words.Rich("changes.why.text", why.SitesMoved)}</p>
            {Frame.Table(words["changes.why"],
                [
                    words["changes.why.cause"], words.Rich("changes.why.moved"), words.Rich("changes.why.ratio"),
                    words.Rich("changes.why.moved-s"), words.Rich("changes.why.difference"),
                ],
                why.Sites, c =>
                [
                    words["changes.cause." + c.Cause], words.Count(c.RatesMoved), words.Number(c.MedianRatioOfRate, "0.000"),
                    words.Count(c.StabilisationsMoved), words.Number(c.MedianDifferenceOfStabilisation, "0.0000"),
                ], "numbers")}
            """);
        return Markup.Of(
            $"""
            {Markup.If(why.SoftwareBefore != why.SoftwareNow,
                $"<p>{words.Say("changes.why.software", why.SoftwareNow, why.SoftwareBefore)}</p>")}
            {Markup.If(why.Settings.Count > 0,
                $"<p>{words.Say("changes.why.settings", string.Join(", ", why.Settings.Select(s => s.Setting).Take(20)))}</p>")}
            {table}
            """);
    }
}
