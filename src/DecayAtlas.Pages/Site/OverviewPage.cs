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
                "map.html")}">{words["overview.door.map"]}</a> <a class="door quiet" href="{page.To(
                "contributions/index.html")}">{words["overview.door.contributions"]}</a></p></div>
            <img class="profile" src="{page.Root}assets/profile.svg" alt="{words["overview.profile"]}" width="420" height="300"></section>
            {Numbers(words, data)}
            <section><h2>{words["overview.rates"]}</h2><p>{words.Rich("overview.rates.text")}</p><div class="pair">
            {PageCharts.Spread([.. data.Rates.Values.Where(r => r.RatePerDay is not null).Select(r => r.RatePerDay!.Value)],
                words.Rich("overview.k.caption"), words["axis.rate"], "0.0000", words)}
            {PageCharts.Spread([.. data.Rates.Values.Where(r => r.Stabilisation is not null).Select(r => r.Stabilisation!.Value)],
                words.Rich("overview.s.caption"), words["axis.stabilisation"], "0.00", words)}
            </div></section>
            {Responses(words, inputs)}
            {AnswersSection.Write(words, inputs.Answers)}
            {Coverage(page, data)}
            {Changes(page, inputs.Before is { } before ? ChangesSince.Of(before, data) : null)}
            """);
        return Frame.Document(page, words["nav.overview"], body, "overview");
    }

    private static Markup Numbers(Language words, ReleaseData data)
    {
        int accepted = data.Burials.Count(b => b.IsAccepted);
        DateOnly?[] days = [.. data.Burials.Where(b => b.IsAccepted).SelectMany(b => new[] { b.BuriedOn, b.RetrievedOn })
            .Where(d => d is not null).Order()];
        (string Number, string Text)[] tiles =
        [
            (words.Count(data.Sites.Count), words["overview.sites"]),
            (words.Count(data.Burials.Count), words["overview.burials"]),
            (words.Percent(data.Burials.Count == 0 ? null : (double)accepted / data.Burials.Count), words["overview.accepted"]),
            (words.Count(data.Contributions.Select(c => c.ContributorId).Distinct().Count()), words["overview.groups"]),
            (words.Count(data.Contributions.Select(c => c.Campaign).Distinct().Count()), words["overview.campaigns"]),
            (days.Length == 0 ? words.Missing
                : days[0]!.Value.Year == days[^1]!.Value.Year ? $"{days[0]!.Value.Year}"
                    : $"{days[0]!.Value.Year}–{days[^1]!.Value.Year}", words["overview.years"]),
        ];
        return Markup.Of($"<dl class=\"tiles\">{tiles.Select(t =>
            Markup.Of($"<div><dt>{t.Text}</dt><dd{(t.Number.Length > 7 ? Markup.Trusted(" class=\"words\"")
                : Markup.None)}>{t.Number}</dd></div>"))}</dl>\n");
    }

    private static Markup Responses(Language words, PagesInputs inputs)
    {
        string[] names = inputs.Model is { } model
            ? [.. model.Importance.Count > 0 ? model.Importance.Select(i => i.Covariate) : model.Covariates.Select(c => c.Name)]
            : [.. inputs.Data.Covariates.Where(c => c.Value is not null && c.Unit is not (null or "")).Select(c => c.Covariate).Distinct()
                .Order(StringComparer.Ordinal)];
        Markup[] drawn = [.. names.Select(n => ResponseTo(n, inputs, words)).Where(m => m.ToString().Length > 0).Take(6)];
        return drawn.Length == 0 ? Markup.None : Markup.Of(
            $"""
            <section><h2>{words["overview.responses"]}</h2><p>{words.Rich("overview.responses.text")}</p><div class="pair">
            {drawn}</div></section>

            """);
    }

    private static Markup ResponseTo(string name, PagesInputs inputs, Language words)
    {
        IReadOnlyDictionary<string, double> values = inputs.Data.Covariate(name);
        ResponsePoint[] points =
        [
            .. inputs.Data.Sites.Where(s => values.ContainsKey(s.SiteKey) && inputs.Data.Rates[s.SiteKey].RatePerDay is not null)
                .Select(s => new ResponsePoint(values[s.SiteKey], inputs.Data.Rates[s.SiteKey].RatePerDay!.Value)),
        ];
        // a handful of sites, or values that are all alike, show no response
        if (points.Length < 5 || points.Select(p => p.X).Distinct().Count() < 3)
            return Markup.None;
        string label = inputs.CovariateLabel(name, words);
        return PageCharts.ResponseWithNumbers(points, label, words.Rich("response.caption", label, points.Length), words);
    }

    private static Markup Coverage(Page page, ReleaseData data)
    {
        Language words = page.Words;
        return Markup.Of(
            $"""
            <section><h2>{words["overview.coverage"]}</h2><p>{words["overview.coverage.text"]}</p><div class="pair">
            {By(s => s.Ecosystem, words["word.ecosystem"])}{By(s => s.LandUse, words["word.land_use"])}{By(s => s.CountryCode,
                words["word.country"])}</div></section>

            """);

        Markup By(Func<ReleasedSite, string?> what, string name)
        {
            IGrouping<string, ReleasedSite>[] groups = data.Sites.GroupBy(s => what(s) ?? "", StringComparer.Ordinal)
                .OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).ToArray();
            return Markup.Of($"<div>{Frame.Table(
                [Markup.Of($"{name}"), Markup.Of($"{words["overview.sites"]}"), Markup.Of($"{words["overview.burials"]}"),
                words.Rich("overview.median.k"), words.Rich("overview.median.s")],
                groups.Take(12).Select(g => (IReadOnlyList<Markup>)
                [
                    Markup.Of($"{(g.Key.Length == 0 ? words["word.not-stated"] : words.Word(g.Key))}"),
                    Markup.Of($"{words.Count(g.Count())}"),
                    Markup.Of($"{words.Count(g.Sum(s => data.BurialsOfSite[s.SiteKey].Count()))}"),
                    Markup.Of($"{words.Rate(Median(g, r => r.RatePerDay))}"),
                    Markup.Of($"{words.Number(Median(g, r => r.Stabilisation), "0.00")}"),
                ]), name,
                "numbers")}{(groups.Length > 12 ? Markup.Of($"<p class=\"nothing\">{words.Say("overview.more", groups.Length - 12)}</p>")
                    : Markup.None)}</div>");
        }

        double? Median(IEnumerable<ReleasedSite> sites, Func<SiteRate, double?> what)
        {
            double[] sorted =
                Quantiles.Sort(sites.Select(s => what(data.Rates[s.SiteKey])).Where(v => v is not null).Select(v => v!.Value));
            return sorted.Length == 0 ? null : Quantiles.Of(sorted, 0.5);
        }
    }

    private static Markup Changes(Page page, ChangesSince? changes)
    {
        Language words = page.Words;
        if (changes is null)
            return Markup.Of($"<section id=\"changes\"><h2>{words["changes.title"]}</h2><p>{words["changes.first"]}</p></section>\n");
        return Markup.Of(
            $"""
            <section id="changes"><h2>{words["changes.title"]}</h2><p>{words.Say("changes.since",
                changes.Previous)} {words.Rich("changes.rates", changes.RatesChanged, changes.UsesChanged)}</p>
            {Frame.Table(
                [Markup.Of($"{words["changes.table"]}"), Markup.Of($"{words["changes.before"]}"), Markup.Of($"{words["changes.now"]}"),
                Markup.Of($"{words["changes.difference"]}")],
                changes.Counts
                    .Select(c =>
                        (IReadOnlyList<Markup>)[Markup.Of($"{words.Word(c.Table)}"), Markup.Of($"{words.Count(c.Before)}"),
                            Markup.Of($"{words.Count(c.Now)}"),
                                Markup.Of($"{(c.Now > c.Before ? "+" : "")}{words.Number(c.Now - c.Before, "0")}")]),
                words["changes.title"], "numbers")}
            {Named(words["changes.added"], changes.Added)}{Named(words["changes.revised"], changes.Revised)}{Named(words["changes.gone"],
                changes.Gone)}</section>

            """);

        static Markup Named(string what, IReadOnlyList<string> ids) => ids.Count == 0 ? Markup.None
            : Markup.Of($"<p>{what} {string.Join(", ", ids.Take(20))}{(ids.Count > 20 ? ", …" : "")}</p>\n");
    }
}
