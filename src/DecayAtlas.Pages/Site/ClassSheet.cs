namespace DecayAtlas.Pages.Site;

/// <summary>Rates against warmth over all sites, and what the release answers of it; made once for all sheets.</summary>
/// <param name="Points">Sites with a rate and a temperature.</param>
/// <param name="Best">The response that the release tells first; missing where it has no answer.</param>
/// <param name="Bare">That of warmth alone where the first holds moisture equal.</param>
internal sealed record WarmthLesson(
    IReadOnlyList<ResponsePoint> Points, IReadOnlyDictionary<string, double> TemperatureOf, ReleasedWarmth? Best, ReleasedWarmth? Bare)
{
    public static WarmthLesson Of(PagesInputs inputs, ClimateNames names)
    {
        ReleasedWarmth[] told = [.. inputs.Answers.Warmth.Where(w => w.Of == "k" && w.Contrast is not null).OrderBy(w => w.Rank)];
        ReleasedWarmth? best = told.FirstOrDefault();
        IReadOnlyDictionary<string, double> temperature = inputs.Data.Covariate(best?.Temperature ?? names.Temperature);
        ResponsePoint[] points = [.. inputs.Data.ResponsesTo(temperature).Where(p => p.RatePerDay > 0)];
        return new WarmthLesson(points, temperature, best, best?.IsBare == false ? told.FirstOrDefault(w => w.IsBare) : null);
    }
}

/// <summary>One A4 page for a class: what was done, what the soil did, how warmth bears on it over all sites, and something to do and to
/// ask. It says only what the data show: where they show no effect of warmth, it says that.</summary>
internal static class ClassSheet
{
    // a class would take the line of fewer for more than it is (common practice, no source)
    private const int FewestSites = 10;

    public const string GeneralFile = "class/index.html";

    public static string FileOf(string contributionId) => $"class/{FileNames.Of(contributionId)}.html";

    public static string Write(Page page, WarmthLesson lesson, GroupResult? result, PagesInputs inputs)
    {
        Language words = page.Words;
        GivenTitles titles = inputs.Titles;
        double scatter = inputs.ScatterOfLnK.GetValueOrDefault(result?.Contribution.Campaign ?? "", HolesOfTwoPlaces.UsualScatter);
        Markup forWhom = result?.Contribution is not { } own ? words["sheet.for-all"]
            : GivenTitles.Over(words.Say("sheet.for", titles.Group(own.ContributorId), titles.Campaign(own.Campaign, words)),
                own.ContributionId);
        Markup body = Markup.Of(
            $"""
            <article class="sheet">
            <header><img class="sheet-picture" src="{page.Root}assets/profile.svg" alt="" width="168" height="120">
            <p class="over">{page.Title}</p><h1>{words["sheet.title"]}</h1>
            <p class="for">{forWhom}</p>
            <button type="button" id="print">{words["sheet.print"]}</button></header>
            <div class="halves"><section><h2>{words["sheet.did"]}</h2><p>{words["sheet.did.text"]}</p></section>
            <section><h2>{words["sheet.found"]}</h2>{Found(result, scatter, words)}{Left(result, words)}</section></div>
            <section><h2>{words["sheet.warm"]}</h2>
            {Warm(lesson, result, words)}</section>
            <section class="safe"><h2>{words["sheet.safe"]}</h2><p>{words["sheet.safe.text"]}</p></section>
            <section class="task"><h2>{words["sheet.do"]}</h2><p>{words["sheet.do.question"]}</p><ol><li>{words["sheet.do.1"]}</li>
            <li>{words["sheet.do.2"]}</li><li>{words[HasPicture(lesson) ? "sheet.do.3" : "sheet.do.3.plain"]}</li></ol>
            <p class="lines"><span>{words["sheet.do.guess"]}</span><span>{words["sheet.do.because"]}</span></p></section>
            <footer><p>{words.Say("foot.release", page.ReleaseId)} {words[
                HasPicture(lesson) ? "sheet.foot" : "sheet.foot.plain"]}</p></footer>
            </article>
            """);
        return Frame.Document(page, words["sheet.title"], body, "sheet-page", ["assets/print.js"]);
    }

    /// <param name="scatter">Standard deviation of ln k between holes of a place that is known of the campaign, or usual.</param>
    private static Markup Found(GroupResult? result, double scatter, Language words)
    {
        if (result is null)
            return Markup.Of($"<p>{words["sheet.found.general"]} {words.Rich("sheet.found.kept.general")}</p>");
        SiteResult[] told = [.. result.Sites.Where(s => s.RatePerDay is not null)];
        if (told.Length == 0)
            return Markup.Of($"<p>{words["sheet.found.none"]}</p>");
        double half = Math.Log(2) / Math.Exp(told.Average(s => Math.Log(s.RatePerDay!.Value)));
        SiteResult fastest = told.MaxBy(s => s.RatePerDay)!, slowest = told.MinBy(s => s.RatePerDay)!;
        bool areApart = told.Length > 1
            && HolesOfTwoPlaces.AreApart(fastest.Holes, slowest.Holes, scatter, told.Length * (told.Length - 1) / 2);
        string range = areApart
            ? words.Say("sheet.found.range", Quoted(fastest), words.Number(fastest.HalfTimeDays, "0"),
                Quoted(slowest), words.Number(slowest.HalfTimeDays, "0"))
            : words.Say("sheet.found.alike", string.Join(", ", told.Select(s => PlaceName.Of(s.Site, words))));
        string still = string.Join(", ", result.Sites.Where(s => s.IsTooSlowToTell).Select(s => PlaceName.Of(s.Site, words)));
        double? kept = told.Average(s => s.Stabilisation);
        string text = words.Say("sheet.found.text", result.Counted, result.Burials.Length, words.Number(half, "0"));
        return Markup.Of($"<p>{text}{Markup.If(told.Length > 1, $" {range}")}{Markup.If(still.Length > 0,
            $" {words.Say("sheet.found.still", still)}")} {(kept is > 0.05
                ? words.Rich("sheet.found.kept", words.Percent(kept)) : words.Rich("sheet.found.kept.general"))}</p>");

        // a name within a sentence
        string Quoted(SiteResult of) => words.Say("gate.named", PlaceName.Of(of.Site, words));
    }

    /// <summary>How much of each litter was left, as two bags that are not full any more.</summary>
    private static Markup Left(GroupResult? result, Language words)
    {
        ReleasedBurial[] counted = [.. (result?.Burials ?? [])
            .Where(b => b is { GivesResult: true, FastRemainingFraction: not null, SlowRemainingFraction: not null })];
        return counted.Length == 0 ? Markup.None : PageCharts.BagsLeft(
            [(words["sheet.left.fast"], counted.Average(b => b.FastRemainingFraction!.Value)),
            (words["sheet.left.slow"], counted.Average(b => b.SlowRemainingFraction!.Value))], words);
    }

    private static bool HasPicture(WarmthLesson lesson) => lesson is { Best.Sites: >= FewestSites, Points.Count: > 0 };

    private static Markup Warm(WarmthLesson lesson, GroupResult? result, Language words)
    {
        if (lesson.Best is not { Sites: >= FewestSites } best || SpanOf(best) is not { } span
            || best.RatioBetween(span.Colder, span.Warmer) is not { } between)
        {
            return Markup.Of($"<p>{words["sheet.warm.unknown"]}</p>");
        }
        (string times, string lower, string upper) = (Times(between.Value), Times(between.Lower95), Times(between.Upper95));
        string held = best.IsBare ? "alone" : "held", colder = words.Number(span.Colder, "0"), warmer = words.Number(span.Warmer, "0");
        ReleasedWarmth? other = lesson.Bare is { } bare && Times(bare.Contrast) != Times(best.Contrast) ? bare : null;
        string said = best.Side > 0
            ? words.Say("sheet.warm.faster." + held, best.Sites, times, lower, upper, colder, warmer) + " " + words["sheet.warm.why"]
            : words.Say("sheet.warm.unclear." + held, best.Sites, lower, upper, colder, warmer);
        ResponsePoint[] own = [.. (result?.Sites ?? [])
            .Where(s => s.RatePerDay is not null && lesson.TemperatureOf.ContainsKey(s.Site.SiteKey))
            .Select(s => new ResponsePoint(lesson.TemperatureOf[s.Site.SiteKey], s.RatePerDay!.Value))];
        bool hasHidden = result?.Sites.Any(s => s is { RatePerDay: not null, Site.IsGeneralised: true }
            && !lesson.TemperatureOf.ContainsKey(s.Site.SiteKey)) == true;
        return Markup.Of(
            $"""
            <p>{said}{Markup.If(HasPicture(lesson) && own.Length > 0, $" {words["sheet.warm.own"]}{Markup.If(
                hasHidden, $" {words["sheet.warm.own.hidden"]}")}")} {words["sheet.warm.rate"]}</p>
            {Markup.If(HasPicture(lesson), $"{PageCharts.Lesson(lesson.Points, own, best, other, words)}")}
            """);

        string Times(double? ratio) => words.Number(ratio, "0.0");
    }

    /// <summary>Ten degrees within those that were measured, as near to 10 and 20 °C as they allow; where the sites do not reach so far,
    /// as many whole degrees as they do; missing where these are too few to tell (common practice, no source).</summary>
    private static (double Colder, double Warmer)? SpanOf(ReleasedWarmth best)
    {
        const int Usual = 10, Step = 5, Fewest = 3;
        if ((best.ColdestCelsius, best.WarmestCelsius) is not ({ } coldest, { } warmest))
            return null;
        int least = (int)Math.Ceiling(coldest), most = (int)Math.Floor(warmest);
        int[] begins = [.. Enumerable.Range(least, Math.Max(0, most - least - Usual + 1))];
        if (begins.Length > 0)
        {
            int colder = begins.OrderBy(c => c % Step == 0 ? 0 : 1).ThenBy(c => Math.Abs(c - Usual)).First();
            return (colder, colder + Usual);
        }
        return most - least >= Fewest ? (least, most) : null;
    }
}
