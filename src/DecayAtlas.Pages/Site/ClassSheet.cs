namespace DecayAtlas.Pages.Site;

/// <summary>Rates against warmth over all sites, and the factor for ten degrees; made once for all sheets.</summary>
/// <param name="Points">Sites with a rate and a temperature.</param>
/// <param name="Response">How k changes with warmth (van 't Hoff); missing where too few sites tell.</param>
internal sealed record WarmthLesson(
    IReadOnlyList<ResponsePoint> Points, IReadOnlyDictionary<string, double> TemperatureOf, TemperatureResponse? Response)
{
    public static WarmthLesson Of(ReleaseData data, ClimateNames names)
    {
        IReadOnlyDictionary<string, double> temperature = data.Covariate(names.Temperature);
        ResponsePoint[] points = [.. data.ResponsesTo(temperature).Where(p => p.RatePerDay > 0)];
        WarmthPoint[] warmth = [.. points.Select(p => new WarmthPoint(p.RatePerDay, p.X))];
        return new WarmthLesson(points, temperature, TemperatureResponse.Fit(warmth, WarmthForm.Q10, MoistureTerm.None).Value);
    }
}

/// <summary>One A4 page for a class: what was done, what the soil did, how warmth bears on it over all sites, and something to do and to
/// ask. It says only what the data show: where they show no effect of warmth, it says that.</summary>
internal static class ClassSheet
{
    public const string GeneralFile = "class/index.html";

    public static string FileOf(string contributionId) => $"class/{FileNames.Of(contributionId)}.html";

    public static string Write(Page page, WarmthLesson lesson, GroupResult? result)
    {
        Language words = page.Words;
        string forWhom = result is null
            ? words["sheet.for-all"] : words.Say("sheet.for", result.Contribution.ContributorId, result.Contribution.Campaign);
        Markup body = Markup.Of(
            $"""
            <article class="sheet">
            <header><img class="sheet-picture" src="{page.Root}assets/profile.svg" alt="" width="168" height="120">
            <p class="over">{page.Title}</p><h1>{words["sheet.title"]}</h1>
            <p class="for">{forWhom}</p>
            <button type="button" id="print">{words["sheet.print"]}</button></header>
            <div class="halves"><section><h2>{words["sheet.did"]}</h2><p>{words["sheet.did.text"]}</p></section>
            <section><h2>{words["sheet.found"]}</h2>{Found(result, words)}{Left(result, words)}</section></div>
            <section><h2>{words["sheet.warm"]}</h2>
            {Warm(lesson, result, words)}</section>
            <section class="task"><h2>{words["sheet.do"]}</h2><p>{words["sheet.do.question"]}</p><ol><li>{words["sheet.do.1"]}</li>
            <li>{words["sheet.do.2"]}</li><li>{words["sheet.do.3"]}</li></ol>
            <p class="lines"><span>{words["sheet.do.guess"]}</span><span>{words["sheet.do.because"]}</span></p></section>
            <section class="safe"><h2>{words["sheet.safe"]}</h2><p>{words["sheet.safe.text"]}</p></section>
            <footer><p>{words.Say("foot.release", page.ReleaseId)} {words["sheet.foot"]}</p></footer>
            </article>
            """);
        return Frame.Document(page, words["sheet.title"], body, "sheet-page", ["assets/print.js"]);
    }

    private static Markup Found(GroupResult? result, Language words)
    {
        if (result is null)
            return Markup.Of($"<p>{words["sheet.found.general"]}</p>");
        SiteResult[] told = [.. result.Sites.Where(s => s.RatePerDay is not null)];
        if (told.Length == 0)
            return Markup.Of($"<p>{ContributionPage.NoRate(result, words)}</p>");
        double half = Math.Log(2) / Math.Exp(told.Average(s => Math.Log(s.RatePerDay!.Value)));
        SiteResult fastest = told.MaxBy(s => s.RatePerDay)!, slowest = told.MinBy(s => s.RatePerDay)!;
        string range = words.Say("sheet.found.range", fastest.Site.SiteId, words.Number(fastest.HalfTimeDays, "0"), slowest.Site.SiteId,
            words.Number(slowest.HalfTimeDays, "0"));
        string still = string.Join(", ", result.Sites.Where(s => s.IsTooSlowToTell).Select(s => s.Site.SiteId));
        string text = words.Say("sheet.found.text", result.Accepted, words.Number(half, "0"));
        return Markup.Of($"<p>{text}{Markup.If(told.Length > 1, $" {range}")}{Markup.If(still.Length > 0,
            $" {words.Say("sheet.found.still", still)}")}</p>");
    }

    /// <summary>How much of each litter was left, as two bags that are not full any more.</summary>
    private static Markup Left(GroupResult? result, Language words)
    {
        ReleasedBurial[] counted = [.. (result?.Burials ?? [])
            .Where(b => b is { IsAccepted: true, FastRemainingFraction: not null, SlowRemainingFraction: not null })];
        return counted.Length == 0 ? Markup.None : PageCharts.BagsLeft(
            [(words["sheet.left.fast"], counted.Average(b => b.FastRemainingFraction!.Value)),
            (words["sheet.left.slow"], counted.Average(b => b.SlowRemainingFraction!.Value))], words);
    }

    private static Markup Warm(WarmthLesson lesson, GroupResult? result, Language words)
    {
        if (lesson.Response is not { Sensitivity: var q10 } || lesson.Points.Count < 10)
            return Markup.Of($"<p>{words["sheet.warm.unknown"]}</p>");
        (string lower, string upper) = (words.Number(q10.Lower95, "0.0"), words.Number(q10.Upper95, "0.0"));
        string said = q10.Lower95 > 1
            ? words.Say("sheet.warm.faster", lesson.Points.Count, words.Number(q10.Value, "0.0"), lower, upper)
            : words.Say("sheet.warm.unclear", lesson.Points.Count, lower, upper);
        ResponsePoint[] own = [.. (result?.Sites ?? [])
            .Where(s => s.RatePerDay is not null && lesson.TemperatureOf.ContainsKey(s.Site.SiteKey))
            .Select(s => new ResponsePoint(lesson.TemperatureOf[s.Site.SiteKey], s.RatePerDay!.Value))];
        return Markup.Of(
            $"""
            <p>{said}{Markup.If(own.Length > 0, $" {words["sheet.warm.own"]}")} {words["sheet.warm.rate"]}</p>
            {PageCharts.Response(lesson.Points, own, words["sheet.warm.axis"], words, 640, 250)}
            """);
    }
}
