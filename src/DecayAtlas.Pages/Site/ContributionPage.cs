using System.Text.RegularExpressions;

namespace DecayAtlas.Pages.Site;

/// <summary>For the people who dug: was it accepted, what is there to mend, what did each burial give, and what does that mean.</summary>
internal static partial class ContributionPage
{
    private const int LongestWholeId = 18;

    public static string Write(Page page, PagesInputs inputs, GroupResult result)
    {
        Language words = page.Words;
        ReleasedContribution contribution = result.Contribution;
        GivenTitles titles = inputs.Titles;
        string name = titles.OfGroup(contribution.ContributorId) ?? contribution.ContributionId;
        GroupFlags flags = GroupFlags.Of(result.Flags, result.Burials, inputs.FlagMeanings);
        Markup? ownWords = GuessedSection.Words(inputs, contribution.ContributionId, words);
        SiteResult[] told = [.. result.Sites.Where(s => s.RatePerDay is not null)];
        bool weighed = result.Burials.Length > 0;
        Markup burials = Frame.Table(words["contribution.burials"],
            words.Texts("site.burial", "word.site", "site.days", "contribution.loss.fast", "contribution.loss.slow",
                "contribution.k", "contribution.s", "contribution.slower", "word.use"),
            result.Burials.OrderBy(b => AsCounted(b.BurialId), StringComparer.Ordinal), b => Row(page, b, result),
            "numbers labelled dense");
        Markup[] facts =
        [
            Told(words["word.group"], GivenTitles.Beside(titles.Group(contribution.ContributorId), contribution.ContributorId)),
            Told(words["word.campaign"], GivenTitles.Beside(titles.Campaign(contribution.Campaign, words), contribution.Campaign)),
            Fact(words["contribution.protocol"], contribution.Protocol),
            Fact(words["contribution.created"], contribution.Created is { } made ? words.Day(made) : null),
            Fact(words["contribution.licence"], contribution.Licence),
            Fact(words["contribution.content"], contribution.ContentHash[..Math.Min(16, contribution.ContentHash.Length)]),
        ];
        Markup results = Frame.Table(words["site.results"],
            words.Texts("word.result", "word.site", "site.treatment", "site.evidence", "site.burials", "site.days", "contribution.k",
                "contribution.s", "contribution.harmonised", "word.use"),
            result.Results, r => Row(page, r, result), "numbers labelled dense");
        string accepted = words.Say("contribution.accepted", contribution.Revision)
            + (weighed ? " " + words.Say("contribution.accepted.burials", result.Counted, result.Burials.Length) : "")
            + (result.Results.Length > 0 ? " " + words.Say("contribution.accepted.results",
                result.Results.Count(r => r.Use == "accepted"), result.Results.Length) : ""),
            mend = words[flags.Mend.Length > 0 || ownWords is not null ? "contribution.some-to-mend"
                : flags.Check.Length > 0 ? "contribution.some-to-check" : "contribution.all-well"];
        Markup body = Markup.Of(
            $"""
            <p class="over"><a href="{page.To(ContributionsPage.Path)}">{words["nav.contributions"]}</a></p>
            <h1>{name}</h1>
            {Markup.If(name != contribution.ContributionId, $"""
                <p class="nothing">{contribution.ContributionId}</p>

                """)}            <p class="lead verdict">{QualityPage.Badge(words, "accepted")} {accepted} {mend}</p>
            {inputs.SetAside.Where(s => s.ContributionId == contribution.ContributionId).Select(s => Markup.Of(
                $"<p class=\"hint warn\">{words["contribution.waits"]} <a href=\"{page.To(WaitingPage.FileOf(s))}\">{words[
                    "contribution.waits.see"]}</a></p>\n"))}{Markup.If(weighed, $"""
                <p class="doors"><a class="door" href="{page.To(
                    ClassSheet.FileOf(contribution.ContributionId))}">{words["contribution.sheet"]}</a> {CheckBody.Door(
                    page.To(CheckBody.Path), words)}</p>

                """)}
            <section><h2>{words["contribution.meaning"]}</h2>
            {(told.Length == 0 ? Markup.Of($"<p>{NoRate(result, words)}</p>")
                : Markup.Of($"<p>{Explained(told, words)}</p>\n<ul class=\"cards\">{told.Select(s => Card(page, s))}</ul>"))}
            {result.Sites.Where(s => told.Length > 0 && s is { RatePerDay: null, Burials.All: > 0 }).Select(s => Markup.Of(
                $"<p>{PlaceName.Over(s.Site, words)}{words.Colon}{Markup.If(s.Untreated > 0, $"{words.Say(
                    "contribution.site.none", s.Untreated)} ")}{Treated(s, words)}</p>"))}
            {Pictures(result, words)}</section>
            {Markup.If(flags.Check.Length > 0 || ownWords is not null, $"""
                <section><h2>{words["contribution.check"]}</h2><p>{words["contribution.check.text"]}</p>{ownWords ?? Markup.None}{ToMend(
                    flags.Check, inputs, words)}</section>

                """)}{GuessedSection.Of(inputs, contribution.ContributionId, words)}{Markup.If(flags.Told.Length > 0, $"""
                <section><h2>{words["contribution.told"]}</h2>{ToMend(flags.Told, inputs, words)}</section>

                """)}<section><h2>{words[flags.Mend.Length > 0 ? "contribution.mend"
                    : ownWords is not null || flags.Check.Length > 0 ? "contribution.nothing-else" : "contribution.nothing-to-mend"]}</h2>
            {ToMend(flags.Mend, inputs, words)}
            {Markup.If(flags.Planned.Length > 0, $"""
                <p>{words.Say("contribution.planned", flags.Planned.Select(f => (f.RecordKind, f.RecordId)).Distinct().Count())}</p>

                """)}{Markup.If(flags.Notes.Length > 0, $"""
                <details><summary>{words.Say("contribution.notes", flags.Notes.Length)}</summary>{ToMend(
                    flags.Notes, inputs, words)}</details>

                """)}</section>
            {Markup.If(weighed, $"""
                <section><h2>{words["contribution.burials"]}</h2><p>{words.Rich("contribution.burials.text")}</p>
                {burials}</section>

                """)}{Markup.If(result.Results.Length > 0, $"""
                <section><h2>{words["site.results"]}</h2><p>{words["site.results.text"]} {words.Rich("contribution.results.text")}</p>
                {results}</section>

                """)}
            <section><h2>{words["site.provenance"]}</h2><dl class="facts">{facts}</dl></section>
            """);
        return Frame.Document(page, name, body);
    }

    /// <summary>Why nothing is told of any site.</summary>
    private static string NoRate(GroupResult result, Language words) =>
        words[result.Burials.Length == 0 && result.Results.Length > 0 ? "contribution.no-rate.results" : "contribution.no-rate"];

    /// <summary>What the numbers of all cards mean, once.</summary>
    private static Markup Explained(SiteResult[] told, Language words) => Markup.Of(
        $"""
        {words.Rich("contribution.cards")}{Markup.If(told.Any(s => s.Borrowed is not null),
            $" {words.Rich("contribution.cards.borrowed")}")}{Markup.If(told.Any(s => s.Burials.Counted < s.Untreated),
            $" {words["contribution.cards.shown"]}")}{Markup.If(told.Any(s => s.Burials.Treated > 0),
            $" {words["contribution.cards.treated"]}")}
        """);

    private static Markup Card(Page page, SiteResult s)
    {
        Language words = page.Words;
        return Markup.Of(
            $"""
            <li><p class="card-site"><a href="{page.ToSite(s.Site.SiteKey)}">{PlaceName.Over(s.Site, words)}</a>{(
                s.Site.Ecosystem is { } ecosystem ? " · " + words.Word(ecosystem) : "")}</p><p class="card-number"><b>{words.Number(
                s.HalfTimeDays, "0")}</b> {words["meaning.days"]}</p>
            {(SlowerShareOf(s) is { } share ? PageCharts.Gauge(share, words) : Markup.None)}<p>{Meaning(s, words)}{Markup.If(
                s.Burials.Counted < s.Untreated,
                $" {words.Say("contribution.site.shown", s.Burials.Counted, s.Untreated)}")} {Treated(s, words)}{Markup.If(
                s.Borrowed is not null, $" {words.Rich("contribution.borrowed", words.Rate(s.RatePerDay),
                    words.Rate(s.Borrowed?.RatePerDay), words.Rate(s.Borrowed?.RateLower95PerDay),
                    words.Rate(s.Borrowed?.RateUpper95PerDay))}")}</p></li>

            """);
    }

    /// <summary>That burials of treated plots are not among those that a rate rests on.</summary>
    private static string Treated(SiteResult s, Language words) =>
        s.Burials.Treated == 0 ? "" : words.Say("contribution.site.treated", s.Burials.Treated, s.Burials.All);

    /// <summary>How a site stands among others, and what it kept.</summary>
    private static Markup Meaning(SiteResult s, Language words)
    {
        string beside = SlowerShareOf(s) is { } share
            ? words.Say(Standing(share, s.Beside.SlowerThan(s.RatePerDay!.Value)),
                s.Beside.SlowerThan(s.RatePerDay.Value), s.Beside.Count, words[$"meaning.beside.{s.Beside.Likeness}"])
            : "";
        Markup kept = s.Stabilisation is { } share01
            ? words.Rich(share01 < 0.05 ? "meaning.kept.none" : "meaning.kept", words.Percent(share01)) : Markup.None;
        return Markup.Of($"{beside} {kept}");
    }

    private static string Standing(double share, int slower) => share switch
    {
        1 => "meaning.fast.all",
        >= 0.75 => "meaning.fast",
        > 0.25 => "meaning.middle",
        _ => slower switch
        {
            0 => "meaning.slow.none",
            1 => "meaning.slow.one",
            _ => "meaning.slow",
        },
    };

    /// <summary>Share of the sites beside that are slower; missing where too few stand beside to say.</summary>
    private static double? SlowerShareOf(SiteResult s) => s.Beside.Count >= SimilarClimate.Fewest ? s.SlowerShare : null;

    private static Markup Pictures(GroupResult result, Language words)
    {
        (string, double)[] k = Own(s => s.RatePerDay), s = Own(s => s.Stabilisation);
        IReadOnlyList<SiteRate> others = result.Others;
        double[] otherK = [.. others.Select(o => o.RatePerDay).OfType<double>()],
            otherS = [.. others.Select(o => o.Stabilisation).OfType<double>()];
        return Markup.If(k.Length > 0 && others.Count >= SimilarClimate.Fewest,
            $"""
            <div class="pair"><figure class="figure">{PageCharts.AmongOthers(
                k, otherK, true, words["axis.rate"], "0.0000", words)}</figure>
            <figure class="figure">{PageCharts.AmongOthers(s, otherS, false, words["axis.stabilisation"], "0.00", words)}</figure></div>
            <p class="keys-line"><span class="key own"></span>{words["beside.own"]} <span class="key half-box"></span>{words.Say(
                "beside.half", others.Count)} <span class="key wide"></span>{words["beside.most"]}</p>
            """);

        (string, double)[] Own(Func<SiteResult, double?> of) =>
            [.. result.Sites.Where(x => of(x) is not null).Select(x => (PlaceName.Of(x.Site, words), of(x)!.Value))];
    }

    private static Markup ToMend(IReadOnlyList<ReleasedFlag> flags, PagesInputs inputs, Language words) => Markup.Of($"{flags
        .GroupBy(f => f.Code).OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal)
        .Select(g => ToMend(g.Key, [.. g], inputs.MeaningOf(g.Key), words))}");

    private static Markup ToMend(string code, ReleasedFlag[] flags, FlagMeaning? meaning, Language words)
    {
        // what is found of a whole lot stands once, and not beside each of its bags
        AlikeFlags[] alike = [.. AlikeFlags.Of(flags, _ => meaning)];
        Markup places = Frame.List(alike.Take(30).Select(a => Markup.Of(
            $"{words.Word(a.First.RecordKind)} {Ids(a)}{FlagWords.Beside(a.First, words)}{(
                a.First.OverruledBy is null ? "" : $" ({words.Say("site.overruled", a.First.OverruledBy)})")}")));
        return Markup.Of(
            $"""
            <div class="mend"><h3>{QualityPage.Badge(words, flags[0].Severity)} {FlagWords.TitleBeside(
                code, words)}</h3><p>{FlagWords.Meaning(meaning, words)} <b>{FlagWords.Mend(meaning, words)}</b></p>
            {places}{Frame.More(alike.Length - 30, words)}</div>

            """);

        static Markup Ids(AlikeFlags of) =>
            Markup.Of($"{of.All.Select((f, i) => Markup.Of($"{(i == 0 ? "" : ", ")}{Id(f.RecordId)}"))}");
    }

    // 2 stands before 10; the digits of an id are few
    private static string AsCounted(string id) => Digits().Replace(id, number => number.Value.PadLeft(20, '0'));

    private static IReadOnlyList<Markup> Row(Page page, ReleasedBurial b, GroupResult result)
    {
        Language words = page.Words;
        SimilarSites? others = result.BesideOf(b.SiteKey);
        return
        [
            Id(b.BurialId), Markup.Of($"<a href=\"{page.ToSite(b.SiteKey)}\">{PlaceName.Over(b.SiteKey, result.Sites, words)}</a>"),
            words.Number(b.ExposureDays, "0"), words.Percent(1 - b.FastRemainingFraction), words.Percent(1 - b.SlowRemainingFraction),
            b.RatePerDay is not null ? Held(words.Rate(b.RatePerDay), End(b.RateLower95PerDay, words), End(b.RateUpper95PerDay, words))
                : b.RateAtLeastPerDay is { } least ? words.Say("site.least", words.Rate(least), words.Word(b.RateMissingBecause))
                : Missing(result.Because(b, b.RateMissingBecause), words),
            b.Stabilisation is null ? Missing(result.Because(b, b.StabilisationMissingBecause), words)
                : Markup.Of($"<span class=\"whole\">{words.Number(b.Stabilisation, "0.00")} ± {words.Number(
                    b.StabilisationUncertainty, "0.00")}</span>"),
            b.RatePerDay is > 0 and { } k && others?.Count >= SimilarClimate.Fewest
                ? words.Say("contribution.of", others.SlowerThan(k), others.Count) : words.Missing,
            // the summary counts results, so that one without k is none here either
            QualityPage.Badge(words, b is { IsAccepted: true, GivesResult: false } ? "no-k" : b.Use),
        ];
    }

    private static IReadOnlyList<Markup> Row(Page page, ReleasedResult r, GroupResult result)
    {
        Language words = page.Words;
        (double? k, SiteMean? interval) = (r.LnRateMean is { } mean ? Math.Exp(mean) : null, r.LnRateInterval);
        return
        [
            Id(r.ResultId), Markup.Of($"<a href=\"{page.ToSite(r.SiteKey)}\">{PlaceName.Over(r.SiteKey, result.Sites, words)}</a>"),
            r.Treatment is { } treatment ? words.Word(treatment) : words.Missing, words.Word(r.Evidence), words.Count(r.Burials),
            words.Number(r.ExposureDays, "0"),
            k is null ? Missing(r.RateMissingBecause, words) : interval is null ? words.Rate(k)
                : Held(words.Rate(k), words.Rate(Math.Exp(interval.Lower95)), words.Rate(Math.Exp(interval.Upper95))),
            r.StabilisationMean is null ? Missing(r.StabilisationMissingBecause, words) : words.Number(r.StabilisationMean, "0.00"),
            words[r.IsHarmonised ? "contribution.harmonised.yes" : "contribution.harmonised.no"], QualityPage.Badge(words, r.Use),
        ];
    }

    // an id breaks nowhere where it is as short as most
    private static Markup Id(string id) => id.Length > LongestWholeId ? id : Markup.Of($"<span class=\"whole\">{id}</span>");

    // a number and its interval break between them alone
    private static Markup Held(string number, string lower, string upper) =>
        Markup.Of($"<span class=\"whole\">{number}</span> <span class=\"whole\">({lower} – {upper})</span>");

    // an end that the weighings do not set stays open
    private static string End(double? perDay, Language words) => perDay is null ? "…" : words.Rate(perDay);

    private static Markup Missing(string? because, Language words) => Markup.Of($"<span class=\"nothing\">{words.Word(because)}</span>");

    private static Markup Fact(string name, string? value) => value is null ? Markup.None : Told(name, value);

    private static Markup Told(string name, Markup value) => Markup.Of($"<div><dt>{name}</dt><dd>{value}</dd></div>");

    [GeneratedRegex("[0-9]+", RegexOptions.NonBacktracking)]
    private static partial Regex Digits();
}
