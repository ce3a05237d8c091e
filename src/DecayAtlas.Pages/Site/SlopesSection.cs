namespace DecayAtlas.Pages.Site;

/// <summary>How k and S go with warmth, and how they changed over campaigns; as far as the release answers that.</summary>
internal static class SlopesSection
{
    public static Markup Write(PagesInputs inputs, Language words) =>
        Markup.Of($"{Warmth(inputs, words)}{Trend(inputs.Answers, words)}");

    private static Markup Warmth(PagesInputs inputs, Language words)
    {
        ReleasedAnswers answers = inputs.Answers;
        string? temperature = answers.Warmth.Select(w => w.Temperature).FirstOrDefault(t => t is not null),
            moisture = answers.Warmth.Select(w => w.Moisture).FirstOrDefault(m => m is not null);
        string covariates = (temperature is null ? "" : " " + words.Say("warmth.is", inputs.CovariateLabel(temperature, words)))
            + (moisture is null ? "" : " " + words.Say("warmth.and", inputs.CovariateLabel(moisture, words)));
        return Markup.If(answers.Warmth.Count > 0,
            $"""
            <section id="warmth"><h2>{words["warmth.title"]}</h2><p>{words.Rich("warmth.text")}{covariates}</p>
            {answers.Warmth.GroupBy(w => w.Of).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => Response(
                words, inputs, [.. g.OrderBy(w => w.Rank)], moisture is not null))}
            {Markup.If(temperature is not null, $"{NotConcluded(words, [.. NotOfWarmth(answers, moisture is not null)])}")}
            </section>

            """);
    }

    private static IEnumerable<string> NotOfWarmth(ReleasedAnswers answers, bool hasMoisture) =>
    [
        "warmth.not.space", .. hasMoisture ? (string[])["warmth.not.moisture"] : [],
        .. answers.Warmth.GroupBy(w => w.Of).Any(g => g.Count() > 1) ? (string[])["warmth.not.form"] : [],
    ];

    private static Markup Response(Language words, PagesInputs inputs, ReleasedWarmth[] told, bool hasMoisture)
    {
        ReleasedAnswers answers = inputs.Answers;
        (ReleasedWarmth best, string of) = (told[0], told[0].Of);
        if (best.Contrast is null)
            return None(words, of, best.Sentence);
        string format = FormatOf(of);
        Markup said = words.Rich($"warmth.{of}.{(best.Side == 0 ? "unclear" : "shown")}",
            [words.Count(best.Sites!.Value), .. Numbers(words, best.Contrast, best.Lower95, best.Upper95, format)]);
        ReleasedWarmth? bare = best.IsBare ? null : told.FirstOrDefault(w => w.IsBare);
        ReleasedWarmth? without = !answers.ChangesWithoutNoted("warmth", of) ? null
            : answers.WithoutNoted?.Warmth.FirstOrDefault(w => w.Of == of && w.Rank == 1);
        string beyond = best.ColdestCelsius > 10 || best.WarmestCelsius < 20
            ? " " + words.Say("warmth.reach", words.Number(best.ColdestCelsius, "0.0"), words.Number(best.WarmestCelsius, "0.0")) : "";
        return Markup.Of(
            $"""
            <h3>{words.Rich("answers." + of)}</h3>
            <p>{said} {Held()}{OverForms()}{Bare()}{Corrected()}{beyond}{Noted(
                words, without?.Contrast, without?.Lower95, without?.Upper95, format)}</p>
            {SetAside()}
            <figure class="figure wide-picture">{PageCharts.Warmth(told, words["warmth.axis." + of], format, hasMoisture, words)}
            <figcaption>{words.Rich((hasMoisture ? "warmth.forms." : "warmth.forms.bare.") + of)}</figcaption></figure>

            """);

        string Held() => best.HeldEqual is null ? words[best.IsBare ? "warmth.alone" : "warmth.held"]
            : words.Say("warmth.held.all", string.Join(", ", new[] { best.Moisture }.OfType<string>().Concat(best.HeldEqual.Split(", "))
                .Select(name => words.Say("warmth.quoted", inputs.CovariateLabel(name, words)))));

        Markup SetAside()
        {
            ReleasedSensitivity? taken = Supposed("plateau-taken"), corrected = Supposed("plateau-taken-corrected");
            return Markup.If(best.SetAsideBurials > 0,
                $"<p>{words.Say("warmth.set-aside", words.Count(best.SetAsideBurials ?? 0), words.Count(best.SetAsideSites ?? 0))}{Markup
                    .If(best.SetAsideMeanCelsius is not null, $" {words.Say("warmth.set-aside.where",
                        words.Number(best.SetAsideMeanCelsius, "0.0"), words.Number(best.MeanCelsius, "0.0"))}")}{Markup.If(
                    taken is not null && corrected is not null, $" {words.Rich("warmth.taken",
                    [
                        words.Number(taken?.WarmthAsReleased, format),
                        .. Numbers(words, taken?.WarmthAsSupposed, taken?.WarmthLower95, taken?.WarmthUpper95, format),
                        .. Numbers(words, corrected?.WarmthAsSupposed, corrected?.WarmthLower95, corrected?.WarmthUpper95, format),
                    ])}")}</p>");
        }

        ReleasedSensitivity? Supposed(string supposition) => answers.Sensitivity.FirstOrDefault(s =>
            s.Supposition == supposition && s.Quantity == ReleasedSensitivity.WarmthOf(of) && s.WarmthAsSupposed is not null);

        Markup Bare() => Markup.If(bare is not null, $" {words.Say(best.HeldEqual is null ? "warmth.bare" : "warmth.bare.held",
            Numbers(words, bare?.Contrast, bare?.Lower95, bare?.Upper95, format))}");

        Markup OverForms() => Markup.If(best.OverForms is not null, $" {words.Rich("warmth.over-forms",
            Numbers(words, best.OverForms, best.OverFormsLower95, best.OverFormsUpper95, format))}");

        Markup Corrected() => Markup.If(best.Corrected is not null, $" {words.Rich("warmth.corrected",
            Numbers(words, best.Corrected?.Value, best.Corrected?.Lower95, best.Corrected?.Upper95, format))}");
    }

    private static Markup Trend(ReleasedAnswers answers, Language words)
    {
        bool isFew = answers.Trend.Any(t => t.IsOfTwoSeasons);
        return Markup.If(answers.Trend.Count > 0,
            $"""
            <section id="trend"><h2>{words["trend.title"]}</h2>
            {answers.Trend.Select(t => Change(words, t, !answers.ChangesWithoutNoted("trend", t.Of) ? null
                : answers.WithoutNoted?.Trend.FirstOrDefault(w => w.Of == t.Of)))}
            {Markup.If(answers.Trend.Any(t => t.Contrast is not null),
                $"{NotConcluded(words, isFew ? "trend.not.two" : "trend.not.few", "trend.not.sites")}")}</section>

            """);
    }

    private static Markup Change(Language words, ReleasedTrend trend, ReleasedTrend? without)
    {
        if (trend.Contrast is null)
            return None(words, trend.Of, trend.Sentence);
        string format = FormatOf(trend.Of);
        object[] numbers =
        [
            words.Count(trend.Campaigns), .. Numbers(words, trend.Contrast, trend.Lower95, trend.Upper95, format), words.Count(trend.Sites),
            words.Count(trend.SitesDugAgain),
        ];
        return Markup.Of(
            $"""
            <p>{words.Rich($"trend.{trend.Of}.{(trend.Side == 0 ? "unclear" : "shown")}", numbers)}{Noted(
                words, without?.Contrast, without?.Lower95, without?.Upper95, format)}</p>

            """);
    }

    private static Markup Noted(Language words, double? value, double? lower, double? upper, string format) => Markup.If(value is not null,
        $" {words.Say("warmth.noted", Numbers(words, value, lower, upper, format))}");

    private static Markup NotConcluded(Language words, params string[] keys) =>
        Markup.Of($"<h3>{words["answers.not"]}</h3>\n{Frame.List(keys.Select(key => words.Rich(key)))}");

    private static Markup None(Language words, string of, string sentence) =>
        Markup.Of($"<p>{words.Rich("slope.none." + of)} {FlagWords.Said("unanswered", sentence, words)}</p>\n");

    private static string FormatOf(string of) => of == "k" ? "0.00" : "0.000";

    private static string[] Numbers(Language words, double? value, double? lower, double? upper, string format) =>
        [words.Number(value, format), words.Number(lower, format), words.Number(upper, format)];
}
