namespace DecayAtlas.Pages.Site;

/// <summary>A model's card as a page, that of k or that of S: how well it does where it has not been, what it leans on, where it learnt,
/// and what it is not for.</summary>
internal static class ModelPage
{
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
        Markup verdict = model.Verdict is { } english ? Verdict(words, english, model, winner) : Markup.None;
        bool hasClasses = model.Covariates.Any(c => c.Classes.Count > 0);
        ModelCharts charts = new(model, kind, words);
        (Markup Picture, string Caption)[] trials = [.. charts.Trials(inputs.Land)];
        return Markup.Of(
            $"""
            <h1>{words[kind.Key("model.title")]}</h1><p class="lead">{words.Rich(kind.Key("model.lead"))}</p>{Markup.If(
                kind.Other.Of(inputs) is not null,
                    $"<p><a href=\"{page.To(kind.Other.Path)}\">{words.Rich(kind.Key("model.other"))}</a></p>")}
            {Markup.If(model.Verdict is not null, $"<p class=\"hint\">{verdict}</p>\n")}{Markup.If(
                model.BeatsBaseline == false, $"<p class=\"hint warn\">{words[kind.Key("model.no-better")]}</p>\n")}{Markup.If(
                model.ReleaseId is not null && model.ReleaseId != page.ReleaseId,
                    $"<p class=\"hint\">{words.Say("model.other-release", model.ReleaseId)}</p>\n")}
            <dl class="tiles"><div><dt>{words["model.winner"]}</dt><dd class="words">{words.OfCard(
                "candidate." + model.Winner, winner?.Title ?? model.Winner ?? words.Missing)}</dd></div>{(winner?.BlockedRmse is { } rmse
                ? Tile(kind.Key("model.factor"), kind.TypicalError(rmse, words)) : Markup.None)}{(winner?.BlockedR2 is { } r2
                ? Tile(kind.Key("model.explained"), words.Percent(r2)) : Markup.None)}</dl>
            {Candidates(model, kind, words)}
            {Importance(inputs, model, kind, words)}
            {Markup.If(model.Effects.Count > 0, $"""
                <section><h2>{words["model.effects"]}</h2><p>{words["model.effects.text"]}{Markup.If(
                    hasClasses, $" {words["model.effects.classes"]}")}</p><div class="pair">{charts.Effects(c =>
                    inputs.CovariateLabel(c, words)).Select(e => Markup.Of($"<figure class=\"figure\">{e}</figure>"))}</div></section>

                """)}
            {Markup.If(model.Coverage.Count > 0, $"""
                <section><h2>{words["model.coverage"]}</h2><p>{words.Say("model.coverage.text", words.Percent(model.IntervalLevel))}</p>
                {Frame.Table(words["model.coverage"],
                    words.Texts("model.coverage.group", "data.rows", "model.coverage.share"), model.Coverage, c =>
                    [
                        words.FindText("word." + c.Group) ?? words.TextOfCard("group." + c.Group, c.Title),
                        words.Count(c.Rows), words.Percent(c.Share),
                    ], "numbers")}</section>

                """)}
            {WithoutNoted(model, kind, kind == ModelKind.Rate ? inputs.MapWithoutNoted : null, words)}
            {Markup.If(trials.Length > 0, $"""
                <section><h2>{words["model.plots"]}</h2><div class="pair">{trials.Select(t => Markup.Of(
                    $"<figure class=\"figure\">{t.Picture}<figcaption>{t.Caption}</figcaption></figure>"))}</div></section>

                """)}
            {Markup.If(model.Covariates.Count > 0, $"""
                <section><h2>{words["model.ranges"]}</h2><p>{words["model.ranges.text"]}{Markup.If(
                    hasClasses, $" {words["model.ranges.classes"]}")}</p>
                {Frame.Table(words["model.ranges"],
                    words.Texts("site.covariate", "histogram.from", "histogram.to", "site.unit"), model.Covariates,
                    c =>
                    [
                        c.Classes.Count == 0 ? words.Quote(c.Title)
                            : Markup.Of($"{words.Quote(c.Title)}{words.Colon}{string.Join(", ", c.Classes.Select(words.Word))}"),
                        c.Classes.Count == 0 ? words.Number(c.Minimum) : "", c.Classes.Count == 0 ? words.Number(c.Maximum) : "",
                        words.Unit(c.Unit),
                    ],
                    "numbers labelled")}</section>

                """)}
            {Markup.If(kind.MapOf(inputs).Folder is not null, $"""
                <section><h2>{words["model.map"]}</h2>{inputs.SaidOfMap(words)}{MapPictures(
                    page, inputs, kind)}</section>

                """)}
            {Markup.If(inputs.Joint is not null, $"{JointSection.Write(page, inputs)}")}
            {Markup.If(model.NotFor.Count > 0, $"""
                <section><h2>{words["model.not-for"]}</h2>{Frame.List(
                    model.NotFor.Select(n => words.OfCard("not-for." + n.Code, n.Sentence)))}</section>

                """)}
            <section><h2>{words["model.files"]}</h2>{Frame.List(model.Files
                .Select(f => Markup.Of($"<a href=\"{page.Root}{kind.Folder}{Uri.EscapeDataString(f)}\" download>{f}</a>")))}
            <details><summary>{words["model.lines"]}</summary><dl class="facts" lang="en">{model.Lines
                .Select(l => Markup.Of($"<div><dt><code>{l.Name}</code></dt><dd>{l.Value}</dd></div>"))}</dl></details></section>
            """);

        Markup Tile(string key, string value) => Markup.Of($"<div><dt>{words[key]}</dt><dd>{value}</dd></div>");
    }

    private static Markup Candidates(ModelFolder model, ModelKind kind, Language words)
    {
        CandidateFacts[] ranked = [.. model.Candidates.OrderBy(c => c.BlockedRmse ?? double.MaxValue)
            .ThenBy(c => c.Name, StringComparer.Ordinal)];
        BarValue[] bars = [.. ranked.Where(c => c.BlockedRmse is not null).Select(c => new BarValue(
            words.TextOfCard("candidate." + c.Name, c.Title), c.BlockedRmse!.Value, IsMarked: c.Name == model.Winner))];
        Markup leftOut = Frame.List(model.LeftOut.Select(
            l => Markup.Of($"{words.OfCard("candidate." + l.Name, l.Title)}{words.Colon}{words.OfCard(null, l.Reason)}")));
        return Markup.If(model.Candidates.Count > 0,
            $"""
            <section><h2>{words["model.candidates"]}</h2><p>{words["model.candidates.text"]}</p>
            <figure class="figure slim">{PageCharts.Bars(bars, new Axis(words[kind.Key("model.rmse")]), words, "0.000")}</figure>
            {Frame.Table(words["model.candidates"],
                words.Texts("model.candidate", "model.rmse.blocked", "model.r2.blocked", "model.rmse.random", "model.r2.random"),
                ranked, c =>
                [
                    words.OfCard("candidate." + c.Name, c.Title), words.Number(c.BlockedRmse, "0.000"), words.Number(c.BlockedR2, "0.00"),
                    words.Number(c.RandomRmse, "0.000"), words.Number(c.RandomR2, "0.00"),
                ], "numbers labelled")}
            {Markup.If(model.LeftOut.Count > 0, $"<p>{words["model.left-out"]}</p>{leftOut}")}</section>

            """);
    }

    private static Markup WithoutNoted(ModelFolder model, ModelKind kind, MapShiftFacts? map, Language words)
    {
        if (!model.SaysOfNoted)
            return Markup.None;
        string said = model.WithoutNoted is not { } noted ? words["model.noted.none"]
            : noted is { Rmse: { } rmse, RmseWithout: { } without, MedianShift: { } median, Shift95: { } most }
            ? words.Say("model.noted.text", words.Count(noted.Rows), kind.TypicalError(without, words), kind.TypicalError(rmse, words),
                kind.TypicalError(median, words), kind.TypicalError(most, words))
            : words.Missing;
        string onMap = map is null ? "" : " " + words.Say("model.noted.map", words.Number(map.MedianFactor, "0.00"),
            words.Number(map.Factor95, "0.00"), words.Count(map.Cells));
        return Markup.Of($"<section id=\"noted\"><h2>{words["model.noted"]}</h2><p>{said}{onMap}</p></section>\n");
    }

    private static Markup Importance(PagesInputs inputs, ModelFolder model, ModelKind kind, Language words)
    {
        BarValue[] bars = [.. model.Importance.Where(i => i.RmseIncrease is not null).Select(i => new BarValue(
            NameOf(i.Covariate), i.RmseIncrease!.Value, i.RmseIncrease - i.StandardDeviation, i.RmseIncrease + i.StandardDeviation))];
        return Markup.If(model.Importance.Count > 0,
            $"""
            <section><h2>{words["model.importance"]}</h2><p>{words["model.importance.text"]}</p>
            <figure class="figure slim">{PageCharts.Bars(
                bars, new Axis(words["model.increase"]), words, kind.ErrorFormat)}</figure></section>

            """);

        // a longer title leaves no room for the bar
        string NameOf(string covariate) =>
            words.Quoted(inputs.CovariateTitles.GetValueOrDefault(covariate, covariate)) is { Length: <= 42 } title ? title : covariate;
    }

    /// <summary>The card's verdict; in another language what supports the model, which says the same.</summary>
    private static Markup Verdict(Language words, string english, ModelFolder model, CandidateFacts? winner)
    {
        if (!words.IsTranslation)
            return english;
        string name = winner is null ? "" : words.TextOfCard("candidate." + winner.Name, winner.Title);
        string key = "card.support." + model.Support;
        // what is predicted may have no published response
        bool hasPublished = model.Candidates.Any(c => c.Name.StartsWith("warmth", StringComparison.Ordinal));
        if (hasPublished && words.FindText(key + ".published") is not null)
            key += ".published";
        return words.FindText(key) is null ? Language.English(english) : words.Say(key, name);
    }

    private static Markup MapPictures(Page page, PagesInputs inputs, ModelKind kind)
    {
        Language words = page.Words;
        (string? folder, MapRaster? raster) = kind.MapOf(inputs);
        double[] values = Quantiles.Sort((raster?.Predicted ?? []).Where(double.IsFinite));
        double[] applies = [.. (raster?.Applies ?? []).Where(double.IsFinite)];
        bool isKnown = values.Length > 0 && applies.Length > 0;
        object[] numbers = isKnown
            ? [kind.Value(values[0], words), kind.Value(values[^1], words),
                words.Percent(applies.Count(a => a >= 0.5) / (double)applies.Length)] : [];
        string alt = isKnown ? words.Say(kind.Key("model.map.alt.numbers"), numbers) : words[kind.Key("model.map.alt")];
        Markup caption = Markup.If(isKnown, $"<figcaption>{words.Rich(kind.Key("model.map.caption"), numbers)}</figcaption>");
        IEnumerable<string> pictures = Directory.EnumerateFiles(folder!, "*.png").Order(StringComparer.Ordinal);
        return Markup.Of($"{pictures.Select(path => MapPicture(page.Root + kind.MapFolder, path, alt, caption))}");
    }

    /// <summary>A picture of a map that opens large.</summary>
    internal static Markup MapPicture(string address, string path, string alt, Markup caption)
    {
        string file = address + Uri.EscapeDataString(Path.GetFileName(path));
        return Markup.Of(
            $"""
            <figure class="figure paper wide-picture"><a href="{file}"><img src="{file}" alt="{alt}"{PictureSize.Of(
                path)} loading="lazy"></a>{caption}</figure>
            """);
    }
}
