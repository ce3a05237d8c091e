namespace DecayAtlas.Pages.Site;

/// <summary>A model's card as a page, that of k or that of S: how well it does where it has not been, what it leans on, where it learnt,
/// and what it is not for.</summary>
internal static class ModelPage
{
    public const string MapFolder = "map/";

    public static string Write(Page page, PagesInputs inputs, ModelKind kind)
    {
        Language words = page.Words;
        Markup body = kind.Of(inputs) is { } model ? Card(page, inputs, model, kind)
            : Markup.Of($"<h1>{words["nav.model"]}</h1><p class=\"lead\">{words["model.none"]}</p>\n");
        return Frame.Document(page, words["nav.model"], body);
    }

    private static Markup Card(Page page, PagesInputs inputs, ModelFolder model, ModelKind kind)
    {
        Language words = page.Words;
        CandidateFacts? winner = model.Candidates.FirstOrDefault(c => c.Name == model.Winner);
        return Markup.Of(
            $"""
            <h1>{words[kind.Key("model.title")]}</h1><p class="lead">{words.Rich(
                kind.Key(
                    "model.lead"))}</p>{(kind.Other.Of(inputs) is null ? Markup.None : Markup.Of($"<p><a "
                    + $"href=\"{page.To(kind.Other.Path)}\">{words.Rich(kind.Key("model.other"))}</a></p>"))}
            {(model.Verdict is { } verdict ? Markup.Of($"<p class=\"hint\">{Verdict(words, verdict, model.Support, winner)}</p>\n")
                : Markup.None)}{(model.BeatsBaseline == false
                ? Markup.Of($"<p class=\"hint warn\">{words[kind.Key("model.no-better")]}</p>\n")
                : Markup.None)}{(model.ReleaseId is { } id && id != page.ReleaseId ? Markup.Of($"<p "
                + $"class=\"hint\">{words.Say("model.other-release", id)}</p>\n") : Markup.None)}
            <dl class="tiles"><div><dt>{words["model.winner"]}</dt><dd class="words">{words.OfCard("candidate." + model.Winner,
                winner?.Title ?? model.Winner
                ?? words.Missing)}</dd></div>{(winner?.BlockedRmse is { } rmse
                ? Markup.Of($"<div><dt>{words[kind.Key("model.factor")]}</dt><dd>{kind.TypicalError(rmse, words)}</dd></div>")
                : Markup.None)}{(winner?.BlockedR2 is { } r2
                ? Markup.Of($"<div><dt>{words[kind.Key("model.explained")]}</dt><dd>{words.Percent(r2)}</dd></div>") : Markup.None)}</dl>
            {(model.Candidates.Count == 0 ? Markup.None : Markup.Of(
                $"""
                <section><h2>{words["model.candidates"]}</h2><p>{words["model.candidates.text"]}</p>
                <figure class="figure slim">{PageCharts.Bars([.. model.Candidates.Where(c => c.BlockedRmse is not null)
                    .Select(c =>
                        new BarValue(words.TextOfCard("candidate." + c.Name, c.Title), c.BlockedRmse!.Value,
                            IsMarked: c.Name == model.Winner))], words[kind.Key("model.rmse")], words, "0.000")}</figure>
                {Frame.Table([Markup.Of($"{words["model.candidate"]}"), Markup.Of($"{words["model.rmse.blocked"]}"),
                    Markup.Of($"{words["model.r2.blocked"]}"), Markup.Of($"{words["model.rmse.random"]}"),
                        Markup.Of($"{words["model.r2.random"]}")],
                    model.Candidates
                        .Select(c =>
                            (IReadOnlyList<Markup>)[words.OfCard("candidate." + c.Name, c.Title),
                                Markup.Of($"{words.Number(c.BlockedRmse, "0.000")}"), Markup.Of($"{words.Number(c.BlockedR2, "0.00")}"),
                                    Markup.Of($"{words.Number(c.RandomRmse, "0.000")}"), Markup.Of($"{words.Number(c.RandomR2, "0.00")}")]),
                    words["model.candidates"], "numbers")}
                {(model.LeftOut.Count == 0 ? Markup.None
                    : Markup.Of($"<p>{words["model.left-out"]}</p><ul>"
                    + $"{model.LeftOut.Select(l => Markup.Of($"<li>{words.OfCard("candidate." + l.Name, l.Title)}: "
                    + $"{words.OfCard(null, l.Reason)}</li>"))}</ul>"))}</section>

                """))}
            {(model.Importance.Count == 0 ? Markup.None : Markup.Of(
                $"""
                <section><h2>{words["model.importance"]}</h2><p>{words["model.importance.text"]}</p>
                <figure class="figure slim">{PageCharts.Bars([.. model.Importance.Where(i => i.RmseIncrease is not null)
                    .Select(i =>
                        new BarValue(
                            words.Quoted(inputs.CovariateTitles.GetValueOrDefault(i.Covariate, i.Covariate)) is { Length: <= 42 } title
                            ? title : i.Covariate,
                            i.RmseIncrease!.Value, i.RmseIncrease - i.StandardDeviation, i.RmseIncrease + i.StandardDeviation))],
                            words["model.increase"], words, kind.ErrorFormat)}</figure></section>

                """))}
            {(model.Effects.Count == 0 ? Markup.None
                : Markup.Of($"<section><h2>{words["model.effects"]}</h2><p>{words["model.effects.text"]}</p><div "
                + $"class=\"pair\">{model.Effects.Select(e => Markup.Of($"<figure "
                + $"class=\"figure\">{PageCharts.Curve(e.Points, inputs.CovariateLabel(e.Covariate, words),
                    words[kind.Key("model.effect")], words)}</figure>"))}</div></section>\n"))}
            {(model.Coverage.Count == 0 ? Markup.None : Markup.Of(
                $"""
                <section><h2>{words["model.coverage"]}</h2><p>{words.Say("model.coverage.text", words.Percent(model.IntervalLevel))}</p>
                {Frame.Table([Markup.Of($"{words["model.coverage.group"]}"), Markup.Of($"{words["data.rows"]}"),
                    Markup.Of($"{words["model.coverage.share"]}")],
                    model.Coverage
                        .Select(c =>
                            (IReadOnlyList<Markup>)[
                                Markup.Of($"{words.FindText("word." + c.Group) ?? words.TextOfCard("group." + c.Group, c.Title)}"),
                                    Markup.Of($"{words.Count(c.Rows)}"), Markup.Of($"{words.Percent(c.Share)}")]), words["model.coverage"],
                                        "numbers")}</section>

                """))}
            {(model.Plots.Count == 0 ? Markup.None : Markup.Of($"<section><h2>{words["model.plots"]}</h2><div "
                + $"class=\"pair\">{model.Plots.Select(p => Plot(page, model.Folder, p, winner, kind))}</div></section>\n"))}
            {(model.Covariates.Count == 0 ? Markup.None : Markup.Of(
                $"""
                <section><h2>{words["model.ranges"]}</h2><p>{words["model.ranges.text"]}</p>
                {Frame.Table([Markup.Of($"{words["site.covariate"]}"), Markup.Of($"{words["histogram.from"]}"),
                    Markup.Of($"{words["histogram.to"]}"), Markup.Of($"{words["site.unit"]}")],
                    model.Covariates
                        .Select(c =>
                            (IReadOnlyList<Markup>)[words.Quote(c.Title), Markup.Of($"{words.Number(c.Minimum)}"),
                                Markup.Of($"{words.Number(c.Maximum)}"), Markup.Of($"{words.Unit(c.Unit)}")]),
                    words["model.ranges"], "numbers")}</section>

                """))}
            {(inputs.MapFolder is null || kind != ModelKind.Rate ? Markup.None
                : Markup.Of($"<section><h2>{words["model.map"]}</h2>{MapPicture(page, inputs.MapFolder, inputs.Raster)}</section>\n"))}
            {(model.NotFor.Count == 0 ? Markup.None
                : Markup.Of($"<section><h2>{words["model.not-for"]}</h2><ul>"
                + $"{model.NotFor.Select(n => Markup.Of($"<li>{words.OfCard("not-for." + n.Code, n.Sentence)}</li>"))}</ul></section>\n"))}
            <section><h2>{words["model.files"]}</h2><ul>{model.Files
                .Select(f => Markup.Of($"<li><a href=\"{page.Root}{kind.Folder}{Uri.EscapeDataString(f)}\" download>{f}</a></li>"))}</ul>
            <details><summary>{words["model.lines"]}</summary><dl class="facts" lang="en">{model.Lines
                .Select(l => Markup.Of($"<div><dt><code>{l.Name}</code></dt><dd>{l.Value}</dd></div>"))}</dl></details></section>
            """);
    }

    /// <summary>The card's verdict; in another language what supports the model, which says the same.</summary>
    private static Markup Verdict(Language words, string english, string? support, CandidateFacts? winner) =>
        !words.IsTranslation ? Markup.Of($"{english}")
        : words.FindText("card.support." + support) is not null
            ? Markup.Of($"{words.Say("card.support." + support, winner is null ? ""
                : words.TextOfCard("candidate." + winner.Name, winner.Title))}")
        : Markup.Of($"<span lang=\"en\">{english}</span>");

    private static Markup Plot(Page page, string folder, string file, CandidateFacts? winner, ModelKind kind)
    {
        Language words = page.Words;
        string key = "model.plot." + System.IO.Path.GetFileNameWithoutExtension(file);
        string caption = words.FindText(key) ?? PlotName(file);
        string alt = words.FindText(key + ".alt") is null ? caption
            : words.Say(key + ".alt", words.Number(winner?.BlockedR2, "0.00"), words.Number(winner?.BlockedRmse, "0.000"), kind.Quantity);
        return Markup.Of($"<figure class=\"figure paper\"><img src=\"{page.Root}{kind.Folder}{Uri.EscapeDataString(
            file)}\" alt=\"{alt}\"{PictureSize.Of(
            System.IO.Path.Combine(folder, file))} loading=\"lazy\"><figcaption>{caption}</figcaption></figure>");
    }

    private static Markup MapPicture(Page page, string folder, MapRaster? raster)
    {
        Language words = page.Words;
        string[] pictures = [.. Directory.EnumerateFiles(folder, "*.png").Select(f => System.IO.Path.GetFileName(f))
            .Order(StringComparer.Ordinal)];
        double[] rates = Quantiles.Sort((raster?.RatePerDay ?? []).Where(double.IsFinite));
        double[] applies = [.. (raster?.Applies ?? []).Where(double.IsFinite)];
        bool isKnown = rates.Length > 0 && applies.Length > 0;
        object[] numbers = isKnown
            ? [words.Rate(rates[0]), words.Rate(rates[^1]), words.Percent(applies.Count(a => a >= 0.5) / (double)applies.Length)] : [];
        return Markup.Each(pictures, p => Markup.Of(
            $"""
            <figure class="figure paper wide-picture"><a href="{page.Root}{MapFolder}{Uri.EscapeDataString(
                p)}"><img src="{page.Root}{MapFolder}{Uri.EscapeDataString(
                p)}" alt="{(isKnown ? words.Say("model.map.alt.numbers", numbers) : words["model.map.alt"])}"{PictureSize.Of(
                System.IO.Path
                    .Combine(folder,
                        p))} loading="lazy"></a>{(isKnown
                        ? Markup.Of($"<figcaption>{words.Rich("model.map.caption", numbers)}</figcaption>") : Markup.None)}</figure>
            """));
    }

    // a picture that a later card has and that has no words yet
    private static string PlotName(string file)
    {
        string name = System.IO.Path.GetFileNameWithoutExtension(file).Replace('-', ' ').Replace('_', ' ');
        return name.Length == 0 ? file : char.ToUpperInvariant(name[0]) + name[1..];
    }
}
