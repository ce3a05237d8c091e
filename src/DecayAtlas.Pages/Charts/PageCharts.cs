namespace DecayAtlas.Pages.Charts;

/// <summary>The charts of the pages: what of a release goes into which, and how each is told to those who don't see it. Their titles are
/// the headings of the page, and their colours the page's own, by day, by night and on paper.</summary>
internal static class PageCharts
{
    private const int MostDots = 800;

    /// <summary>The widest that is drawn for a phone: there letters of charts are then not below 9 pixels.</summary>
    internal const int Phone = 400;

    /// <summary>Draws a chart; one that is wider than a phone a second time, as narrow as that, of which the page shows either.</summary>
    internal static Markup Draw(Chart chart, Language words)
    {
        Chart told = chart with { Number = (value, format) => words.Number(value, format) };
        return Markup.Trusted(told.Width <= Phone ? Inline(told, "") : Inline(told, "wide") + Inline(told.Narrow(Phone), "slender"));

        static string Inline(Chart drawn, string kind) => drawn.Draw().Inline(text => ((Markup)text).ToString(), kind);
    }

    /// <summary>A drawing with its caption and the numbers behind it.</summary>
    private static Markup WithNumbers<T>(
        Markup drawing, Markup caption, Language words, string[] head, IEnumerable<T> rows, Func<T, string[]> cells) => Markup.Of(
        $"""
        <figure class="figure">
        {drawing}
        <figcaption>{caption}</figcaption>
        <details><summary>{words["figure.numbers"]}</summary><div class="scroll" tabindex="0" role="region"
          aria-label="{words["figure.numbers"]}"><table><thead><tr>{head.Select(h => Markup.Of($"<th scope=\"col\">{h}</th>"))}</tr></thead>
        <tbody>{rows.Select(cells).Select(r =>
            Markup.Of($"<tr>{r.Select(c => Markup.Of($"<td>{c}</td>"))}</tr>\n"))}</tbody></table></div></details>
        </figure>

        """);

    /// <summary>How often values fall where, with the numbers.</summary>
    public static Markup Spread(IReadOnlyList<double> values, Markup caption, string name, string format, Language words)
    {
        double[] sorted = Quantiles.Sort(values);
        if (sorted.Length == 0)
            return Markup.Of($"<p class=\"nothing\">{words["nothing.drawn"]}</p>");
        string At(double share) => words.Number(Quantiles.Of(sorted, share), format);
        string alt = words.Say("histogram.name", words.Count(sorted.Length), At(0.5), At(0.25), At(0.75));
        Histogram chart = new("", $"{Plain(name)}: {alt}", new Axis(name), values)
        {
            Width = Phone,
            Height = 220,
            Counted = words["histogram.count"],
            Median = (words["histogram.median"], format)
        };
        return WithNumbers(Draw(chart, words), caption, words, [words["histogram.from"], words["histogram.to"], words["histogram.count"]],
            chart.Bars(), b => [words.Number(b.From, format), words.Number(b.To, format), words.Count(b.Count)]);
    }

    /// <summary>Named bars side by side, one marked where there is a winner.</summary>
    public static Markup Bars(IReadOnlyList<BarValue> bars, Axis axis, Language words, string format)
    {
        string alt = $"{Plain(axis.Label)}: {string.Join("; ", bars.Select(b => $"{b.Name} {words.Number(b.Value, format)}"))}";
        return Draw(new BarChart("", alt, axis, bars) { Width = 620, Height = 54 + 30 * bars.Count, NumberFormat = format },
            words);
    }

    /// <summary>What was left of the litter in each bag, drawn as a bag that is filled so far; the fast litter first.</summary>
    public static Markup BagsLeft(IReadOnlyList<(string Name, double Share)> bags, Language words)
    {
        string alt = string.Join("; ", bags.Select(b => $"{b.Name}: {words.Say("sheet.left.share", words.Percent(b.Share))}"));
        return Draw(new BarChart("", alt, new Axis("") { From = 0, To = 1 },
            [.. bags.Select((b, i) => new BarValue(b.Name, Math.Clamp(b.Share, 0, 1), IsMarked: i == 0))])
        { Width = 340, Height = 2 + 30 * bags.Count, AreBags = true, NumberFormat = "0" + words["number.percent"] }, words);
    }

    /// <summary>A mean ratio with its interval, over the wider range in which single cases lie, against a line at 1.</summary>
    public static Markup Ratio(double ratio, double lower, double upper, double from, double to, Language words)
    {
        string Number(double value) => words.Number(value, "0.00");
        string name = words["agreement.axis"], between = $"{Number(lower)} – {Number(upper)}", most = $"{Number(from)} – {Number(to)}";
        return Draw(new StripChart("", $"{Plain(name)}: {Number(ratio)} ({between}); {words["agreement.limits"]}: {most}",
            new Axis(name) { IsLogarithmic = true, From = Math.Min(from, 0.8) / 1.05, To = Math.Max(to, 1.25) * 1.05 }, [ratio])
        { Width = 560, Height = 94, Most = (from, to), Interval = (lower, upper), Reference = 1 }, words);
    }

    /// <summary>Means of groups with their intervals, the highest first.</summary>
    public static Markup Groups(IReadOnlyList<ReleasedGroup> groups, string name, string format, bool isLog, Language words)
    {
        string alt = $"{Plain(name)}: " + string.Join("; ", groups.Select(g => words.Word(g.Group) + " " + words.Number(g.Mean, format)
            + (g.Lower95 is null ? "" : $" ({words.Number(g.Lower95, format)} – {words.Number(g.Upper95, format)})")));
        return Draw(new ForestChart("", alt, new Axis(name) { IsLogarithmic = isLog },
            [.. groups.Select(g => new ForestRow($"{words.Word(g.Group)} ({words.Count(g.Sites)})", g.Mean!.Value, g.Lower95, g.Upper95))])
        {
            Width = 640,
            Height = ForestChart.HeightFor(groups.Count) - 36,
            NumberFormat = format,
            NumbersHeading = words["answers.interval"],
        }, words);
    }

    /// <summary>A group's own values, each with the name of its place, over the middle half and the middle 90 % of others.</summary>
    public static Markup AmongOthers(IReadOnlyList<(string Place, double Value)> named, IReadOnlyList<double> others, bool isLog,
        string name, string format, Language words)
    {
        double[] own = [.. named.Select(n => n.Value)];
        double[] sorted = Quantiles.Sort(others), all = Quantiles.Sort(others.Concat(own));
        double At(double share) => Quantiles.Of(sorted, share);
        double low = Math.Min(Quantiles.Of(all, 0.01), own.DefaultIfEmpty(all[0]).Min()),
            high = Math.Max(Quantiles.Of(all, 0.99), own.DefaultIfEmpty(all[^1]).Max()), margin = 0.03 * (high - low);
        string alt = words.Say("beside.name", Plain(name),
            string.Join(", ", named.Select(n => $"{n.Place} {words.Number(n.Value, format)}")),
            words.Number(At(0.25), format), words.Number(At(0.75), format));
        Axis axis = isLog ? new(name) { IsLogarithmic = true, From = low / 1.08, To = high * 1.08 }
            : new(name) { From = low - margin, To = high + margin };
        StripChart chart = new("", alt, high > low ? axis : new Axis(name) { IsLogarithmic = isLog }, own)
        {
            Width = Phone,
            Height = 96,
            Names = [.. named.Select(n => n.Place)],
        };
        if (sorted.Length > 0)
            chart = chart with { Most = (At(0.05), At(0.95)), Half = (At(0.25), At(0.75)), Middle = At(0.5) };
        return Draw(chart.WithRoom(), words);
    }

    /// <summary>Where one value stands among others, from the slowest to the fastest; the sentence beside it says the same.</summary>
    public static Markup Gauge(double share, Language words) => Draw(
        new StripChart("", "", new Axis("") { From = 0, To = 1 }, [share])
        { Width = 300, Height = 42, Most = (0, 1), Half = (0.25, 0.75), Ends = (words["meaning.slowest"], words["meaning.fastest"]) },
        words);

    /// <summary>Rate against a covariate: the sites as dots, medians and middle halves of stretches on them.</summary>
    private static Markup Response(IReadOnlyList<ResponsePoint> points, string xName, Language words)
    {
        IReadOnlyList<ResponseBin> bins = ResponseBin.Of(points);
        string alt = words.Say("response.name", Plain(xName), words.Number(bins[0].Middle), words.Rate(bins[0].Median),
            words.Number(bins[^1].Middle), words.Rate(bins[^1].Median));
        return Draw(new XyChart("", alt, new Axis(xName), RateAxis(points, words),
        [
            Dots(points),
            new Line([.. bins.Select(b => (b.Middle, b.Median))]) { Series = Layer.Summary, IsDashed = true },
            new Points([.. bins.Select(b => new ChartPoint(b.Middle, b.Median, b.Lower, b.Upper))]) { Series = Layer.Summary, Size = 11 },
        ])
        { Width = Phone, Height = 280 }, words);
    }

    private static Points Dots(IReadOnlyList<ResponsePoint> points)
    {
        int every = (points.Count + MostDots - 1) / MostDots;
        return new([.. points.Where((_, i) => i % every == 0).Select(p => new ChartPoint(p.X, p.RatePerDay))]) { Series = 0 };
    }

    private static Axis RateAxis(IEnumerable<ResponsePoint> points, Language words)
    {
        double[] rates = Quantiles.Sort(points.Select(p => p.RatePerDay));
        return new(words["axis.rate"])
        {
            IsLogarithmic = true,
            From = Quantiles.Of(rates, 0.005) / 1.1,
            To = Quantiles.Of(rates, 0.995) * 1.1
        };
    }

    /// <summary>Rate against temperature for a class: the sites as dots, its own as diamonds, and the curves that the release
    /// tells.</summary>
    /// <param name="bare">Of warmth alone, where the best holds moisture equal.</param>
    public static Markup Lesson(IReadOnlyList<ResponsePoint> points, IReadOnlyList<ResponsePoint> own, ReleasedWarmth best,
        ReleasedWarmth? bare, Language words)
    {
        (double coldest, double warmest) = (best.ColdestCelsius!.Value, best.WarmestCelsius!.Value);
        string name = words["sheet.warm.axis"];
        string alt = words.Say("sheet.warm.picture", Plain(name), words.Number(coldest), words.Rate(best.At(coldest)),
            words.Number(warmest), words.Rate(best.At(warmest)));
        Layer[] alone = bare is null ? []
            : [CurveOf(bare) with { Series = Layer.Summary, IsDashed = true, Label = words["sheet.warm.line.bare"] }];
        return Draw(new XyChart("", alt, new Axis(name), RateAxis(points.Concat(own), words),
        [
            Dots(points), .. alone,
            CurveOf(best) with { Series = Layer.Summary, Label = words[best.IsBare ? "sheet.warm.line.bare" : "sheet.warm.line.held"] },
            new Points([.. own.Select(p => new ChartPoint(p.X, p.RatePerDay))]) { Series = HouseColours.Own, Form = 1, Size = 13 },
        ])
        { Width = 640, Height = 170 }, words);

        Line CurveOf(ReleasedWarmth of) => new([.. Enumerable.Range(0, 41).Select(i => coldest + (warmest - coldest) * i / 40)
            .Select(t => (t, of.At(t)!.Value))]);
    }

    /// <summary>What the told forms of a response to warmth say, with their intervals, the best first.</summary>
    /// <param name="hasMoisture">Whether a form says how it takes moisture.</param>
    public static Markup Warmth(IReadOnlyList<ReleasedWarmth> told, string name, string format, bool hasMoisture, Language words)
    {
        string alt = $"{Plain(name)}: " + string.Join("; ", told.Select(w => $"{NameOf(w)} {words.Number(w.Contrast, format)} "
            + $"({words.Number(w.Lower95, format)} – {words.Number(w.Upper95, format)})"));
        bool isRate = told[0].Of == "k";
        return Draw(new ForestChart("", alt, new Axis(name) { IsLogarithmic = isRate },
            [.. told.Select((w, i) => new ForestRow(NameOf(w), w.Contrast!.Value, w.Lower95, w.Upper95, i == 0))])
        {
            Width = 640,
            Height = ForestChart.HeightFor(told.Count) - 36,
            Reference = isRate ? 1 : 0,
            NumberFormat = format,
            NumbersHeading = words["answers.interval"],
        }, words);

        string NameOf(ReleasedWarmth w) =>
            hasMoisture ? words.Say("warmth.moisture." + w.MoistureTerm, words.Word(w.Form)) : words.Word(w.Form);
    }

    public static Markup ResponseWithNumbers(IReadOnlyList<ResponsePoint> points, string xName, Markup caption, Language words) =>
        WithNumbers(Response(points, xName, words), caption, words,
            [words["histogram.from"], words["histogram.to"], words["response.sites"], words["response.lower"], words["response.median"],
            words["response.upper"]],
            ResponseBin.Of(points), b => [words.Number(b.From), words.Number(b.To), words.Count(b.Sites), words.Rate(b.Lower),
            words.Rate(b.Median), words.Rate(b.Upper)]);

    // letters that stand for quantities, for a name that is read out
    internal static string Plain(string text) => text.Replace("*", "", StringComparison.Ordinal);
}
