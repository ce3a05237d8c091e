namespace DecayAtlas.Pages.Site;

/// <summary>For the people who dug: was it accepted, what is there to mend, what did each burial give, and what does that mean.</summary>
internal static class ContributionPage
{
    public static string Write(Page page, PagesInputs inputs, GroupResult result)
    {
        Language words = page.Words;
        ReleasedContribution contribution = result.Contribution;
        Dictionary<string, FlagMeaning> meanings = inputs.FlagMeanings.ToDictionary(m => m.Code, StringComparer.Ordinal);
        ReleasedFlag[] open = [.. result.Flags.Where(f => f.Severity != "note" && f.OverruledBy is null)],
            notes = [.. result.Flags.Except(open)];
        Markup body = Markup.Of(
            $"""
            <p class="over"><a href="{page.To(ContributionsPage.Path)}">{words["nav.contributions"]}</a></p>
            <h1>{contribution.ContributionId}</h1>
            <p class="lead verdict"><span class="badge accepted">{words["word.accepted"]}</span> {words.Say("contribution.accepted",
                contribution.Revision, result.Accepted,
                result.Burials.Count)} {words[open.Length == 0 ? "contribution.all-well" : "contribution.some-to-mend"]}</p>
            <p class="doors"><a class="door" href="{page.To(
                ClassSheet.FileOf(contribution.ContributionId))}">{words["contribution.sheet"]}</a></p>
            <section><h2>{words["contribution.meaning"]}</h2>
            {(result.Sites.All(s => s.RatePerDay is null) ? Markup.Of($"<p>{words["contribution.no-rate"]}</p>") : Markup.Of($"<ul "
                + $"class=\"cards\">{result.Sites.Where(s => s.RatePerDay is not null).Select(s => Card(page, s))}</ul>"))}
            {Pictures(result, words)}</section>
            <section><h2>{words["contribution.mend"]}</h2>
            {(open.Length == 0 ? Markup.Of($"<p>{words["contribution.nothing-to-mend"]}</p>") : ToMend(open, meanings, words))}
            {(notes.Length == 0 ? Markup.None
                : Markup.Of($"<details><summary>{words.Say("contribution.notes", notes.Length)}</summary>"
                + $"{ToMend(notes, meanings, words)}</details>\n"))}</section>
            <section><h2>{words["contribution.burials"]}</h2><p>{words.Rich("contribution.burials.text")}</p>
            {Frame.Table(
                [Markup.Of($"{words["site.burial"]}"), Markup.Of($"{words["word.site"]}"), Markup.Of($"{words["site.days"]}"),
                Markup.Of($"{words["contribution.loss.fast"]}"), Markup.Of($"{words["contribution.loss.slow"]}"),
                    words.Rich("contribution.k"), words.Rich("contribution.s"), Markup.Of($"{words["contribution.slower"]}"),
                        Markup.Of($"{words["word.use"]}")],
                result.Burials.Select(b => Row(page, b, result)), words["contribution.burials"], "numbers")}</section>
            <section><h2>{words["site.provenance"]}</h2><dl class="facts">{Fact(words["word.group"],
                contribution.ContributorId)}{Fact(words["word.campaign"], contribution.Campaign)}{Fact(words["contribution.protocol"],
                contribution.Protocol)}{Fact(words["contribution.created"],
                words.Day(
                    contribution.Created))}{Fact(words["contribution.licence"], contribution.Licence)}{Fact(words["contribution.content"],
                    contribution.ContentHash[..Math.Min(16, contribution.ContentHash.Length)])}</dl></section>
            """);
        return Frame.Document(page, contribution.ContributionId, body);
    }

    private static Markup Card(Page page, SiteResult s)
    {
        Language words = page.Words;
        return Markup.Of(
            $"""
            <li><p class="card-site"><a href="{page.ToSite(
                s.Site.SiteKey)}">{s.Site.SiteId}</a>{(s.Site.Ecosystem is { } ecosystem ? " · " + words.Word(ecosystem)
                    : "")}</p><p class="card-number"><b>{words.Number(s.HalfTimeDays, "0")}</b> {words["meaning.days"]}</p>
            {(s.SlowerShare is { } share && s.Beside.Count >= SimilarClimate.Fewest ? PageCharts.Gauge(share, words)
                : Markup.None)}<p>{Meaning(s, words)}</p></li>

            """);
    }

    /// <summary>What the numbers of a site mean, in one plain sentence or two.</summary>
    internal static Markup Meaning(SiteResult s, Language words)
    {
        string rate = words.Say("meaning.rate", words.Number(s.HalfTimeDays, "0"));
        string beside = s.SlowerShare is { } share && s.Beside.Count >= SimilarClimate.Fewest
            ? " " + words.Say(share >= 0.75 ? "meaning.fast" : share <= 0.25 ? "meaning.slow" : "meaning.middle",
                s.Beside.SlowerThan(s.RatePerDay!.Value), s.Beside.Count, words[$"meaning.beside.{s.Beside.Likeness}"])
            : "";
        string kept = s.Stabilisation is { } kept01
            ? " " + words.Say(kept01 < 0.05 ? "meaning.kept.none" : "meaning.kept", words.Percent(kept01)) : "";
        return Markup.Of($"{rate}{beside}{kept}");
    }

    private static Markup Pictures(GroupResult result, Language words)
    {
        double[] k = [.. result.Sites.Where(s => s.RatePerDay is not null).Select(s => s.RatePerDay!.Value)],
            s = [.. result.Sites.Where(x => x.Stabilisation is not null).Select(x => x.Stabilisation!.Value)];
        IReadOnlyList<SiteRate> others = result.Others;
        if (k.Length == 0 || others.Count < SimilarClimate.Fewest)
            return Markup.None;
        return Markup.Of(
            $"""
            <div class="pair"><figure class="figure">{PageCharts.AmongOthers(k, [.. others.Select(o => o.RatePerDay!.Value)], true,
                words["axis.rate"], "0.0000", words)}</figure>
            <figure class="figure">{PageCharts.AmongOthers(
                s, [.. others.Where(o => o.Stabilisation is not null).Select(o => o.Stabilisation!.Value)], false,
                words["axis.stabilisation"], "0.00", words)}</figure></div>
            <p class="keys-line"><span class="key own"></span>{words["beside.own"]} <span class="key half-box"></span>{words.Say(
                "beside.half", others.Count)} <span class="key wide"></span>{words["beside.most"]}</p>
            """);
    }

    private static Markup ToMend(IReadOnlyList<ReleasedFlag> flags, Dictionary<string, FlagMeaning> meanings, Language words) =>
        Markup.Each(
        flags.GroupBy(f => f.Code, StringComparer.Ordinal).OrderByDescending(g => g.Count())
            .ThenBy(g => g.Key, StringComparer.Ordinal), g => Markup.Of(
        $"""
        <div class="mend"><h3>{QualityPage.Badge(words,
            g.First().Severity)} {g.Key}</h3><p>{FlagWords.Meaning(meanings.GetValueOrDefault(g.Key),
            words)} <b>{FlagWords.Mend(meanings.GetValueOrDefault(g.Key), words)}</b></p>
        <ul>{g.Take(30)
            .Select(f =>
                Markup.Of($"<li>{words.Word(f.RecordKind)} {f.RecordId}: "
                + $"{FlagWords.Finding(f,
                    words)}{(f.OverruledBy is null ? ""
                        : $" ({words.Say("site.overruled", f.OverruledBy)})")}</li>"))}</ul>{(g.Count() > 30 ? Markup.Of($"<p "
                        + $"class=\"nothing\">{words.Say("overview.more", g.Count() - 30)}</p>") : Markup.None)}</div>

        """));

    private static IReadOnlyList<Markup> Row(Page page, ReleasedBurial b, GroupResult result)
    {
        Language words = page.Words;
        SimilarSites? others = result.BesideOf(b.SiteKey);
        string beside = b.RatePerDay is > 0 and { } k && others?.Count >= SimilarClimate.Fewest
            ? words.Say("contribution.of", others.SlowerThan(k), others.Count) : words.Missing;
        return
        [
            Markup.Of($"{b.BurialId}"), Markup.Of($"<a href=\"{page.ToSite(b.SiteKey)}\">{SiteIdOf(b)}</a>"),
            Markup.Of($"{words.Number(b.ExposureDays, "0")}"),
            Markup.Of($"{words.Percent(1 - b.FastRemainingFraction)}"), Markup.Of($"{words.Percent(1 - b.SlowRemainingFraction)}"),
            b.RatePerDay is null ? Markup.Of($"<span class=\"nothing\">{words.Word(b.RateMissingBecause)}</span>")
                : Markup.Of($"{words.Rate(b.RatePerDay)} ± {words.Rate(b.RateUncertaintyPerDay)}"),
            b.Stabilisation is null ? Markup.Of($"<span class=\"nothing\">{words.Word(b.StabilisationMissingBecause)}</span>")
                : Markup.Of($"{words.Number(b.Stabilisation, "0.00")} ± {words.Number(b.StabilisationUncertainty, "0.00")}"),
            Markup.Of($"{beside}"), Markup.Of($"<span class=\"badge {b.Use}\">{words.Word(b.Use)}</span>"),
        ];

        static string SiteIdOf(ReleasedBurial b) => b.SiteKey[(b.SiteKey.IndexOf('/', StringComparison.Ordinal) + 1)..];
    }

    private static Markup Fact(string name, string? value) => value is null ? Markup.None
        : Markup.Of($"<div><dt>{name}</dt><dd>{value}</dd></div>");
}
