namespace DecayAtlas.Questions.Charts;

/// <summary>The figures that a release can be shown by, made from its tables alone: the same release, the same bytes.</summary>
public static class ReleaseFigures
{
    private const int MostPairs = 20;

    /// <summary>Every figure that the release has data for, by file name without ending, in order of name.</summary>
    /// <exception cref="ConfigurationException">The temperature or the moisture asked for is in the release, and is none.</exception>
    public static IReadOnlyDictionary<string, Chart> Of(ReleaseReader release, ReleasedRates rates, WarmthRequest warmth)
    {
        SortedDictionary<string, Chart> charts = new(StringComparer.Ordinal);
        IReadOnlyList<ReleasedComparison> released = release.Has(AtlasTables.Comparisons) ? release.Rows(AtlasTables.Comparisons) : [];
        FamilyOfPairs family = FamilyOfPairs.Of(released, NotedUse.All), without = FamilyOfPairs.Of(released, NotedUse.Without);
        foreach (AskedOf of in Enum.GetValues<AskedOf>())
        {
            foreach (string by in GroupQuestion.Groupings)
            {
                WithAndWithoutNoted<GroupAnswer> groups = FamilyOfPairs.Mark(
                    WithAndWithoutNoted.Ask<GroupAnswer>(rates, r => GroupQuestion.Ask(r, by, [], of), AnswerChanges.Of, of), family,
                    without);
                AddBoth($"comparison-{by.Replace('_', '-')}-{of.Code()}", groups, ComparisonOf);
                AddBoth($"groups-{by.Replace('_', '-')}-{of.Code()}", groups, GroupsOf);
            }

            AddBoth($"variance-shares-{of.Code()}", VarianceQuestion.AskBoth(rates, of), VarianceOf);
        }

        AddBoth("two-bag-agreement", WithAndWithoutNoted.Ask<ReleasedAgreement>(rates, ShortcutQuestion.Ask, AnswerChanges.Of),
            row => AgreementOf(row, ShortcutQuestion.PairsOf(rates.Curves)));
        IReadOnlyList<ReleasedSiteCampaign> campaigns = release.Rows(AtlasTables.SiteCampaigns);
        Add("rate-and-stabilisation", SiteCharts.RateAndStabilisation(campaigns));
        Add("replicate-scatter", SiteCharts.ReplicateScatter(campaigns));
        IReadOnlyList<ReleasedSeries> series = ReleasedSeries.Of(release);
        Add("decay-curves", CurveCharts.Curves(series));
        Add("curve-residuals", CurveCharts.Residuals(series));
        // a release without those covariates has no such figure, and its others are none the worse
        if (rates.KnownCovariates.Names is { } names && names.Contains(warmth.Temperature)
            && (warmth.Moisture is null || names.Contains(warmth.Moisture)))
        {
            foreach (AskedOf of in Enum.GetValues<AskedOf>())
            {
                AddBoth($"temperature-response-{of.Code()}", WithAndWithoutNoted.Ask<WarmthAnswer>(
                    rates, r => WarmthQuestion.Ask(r, warmth, of), SlopeChanges.Of, of), WarmthOf);
            }
        }

        return charts;

        void AddBoth<T>(string name, WithAndWithoutNoted<T> both, Func<T, Chart?> chartOf)
            where T : class
        {
            Chart? chart = chartOf(both.All);
            // the note grows by about two lines, which the picture must not pay for
            Add(name, chart is null ? null : chart with { Note = $"{chart.Note} {both.Without.Sentence}", Height = chart.Height + 34 });
        }

        void Add(string name, Chart? chart)
        {
            if (chart is not null)
                charts[name] = chart;
        }
    }

    /// <summary>Means of the groups of a question in their order, with their intervals; none without an answer.</summary>
    public static Chart? GroupsOf(GroupAnswer answer)
    {
        if (answer.Groups.Count == 0)
            return null;
        bool isRate = answer.Of == AskedOf.Rate.Code();
        (string most, string least) = (Named(answer, answer.Groups[0].Name), Named(answer, answer.Groups[^1].Name));
        string symbol = isRate ? "k" : "S";
        // largest first, as the title says it
        return new ForestChart(
            $"{symbol} by {answer.By.Replace('_', ' ')}: highest in {most}, lowest in {least}",
            $"Forest plot of {symbol} of {answer.Groups.Count} groups with 95 % intervals, the highest first.",
            new Axis(isRate ? "k (per day)" : "S") { IsLogarithmic = isRate },
            [
                .. answer.Groups.Select(g => new ForestRow(
                    $"{Named(answer, g.Name)} ({g.Sites} sites)", g.Value, g.Lower95, g.Upper95, false)),
            ])
        {
            NumbersHeading = $"{symbol} [95 % interval]",
            NumberFormat = isRate ? "0.0000" : "0.000",
            Height = 50 + ForestChart.HeightFor(answer.Groups.Count),
            Note = $"{answer.Burials} burials at {answer.Sites} sites. Intervals that overlap do not show that groups are alike, nor do "
                + "they say which pairs are told apart: see the pairs.",
        };
    }

    private static string Named(GroupAnswer answer, string group) => GroupQuestion.NameOf(answer.By, group);

    /// <summary>Ratios of k or differences of S of the pairs of a question, those told apart first; none without an answer.</summary>
    public static Chart? ComparisonOf(GroupAnswer answer)
    {
        // before the correction, which leaves many at 1
        GroupPair[] pairs =
        [
            .. answer.Pairs.OrderBy(p => p.PValue ?? 1).ThenBy(p => p.First, StringComparer.Ordinal)
                .ThenBy(p => p.Second, StringComparer.Ordinal)
                .Take(MostPairs)
                .OrderByDescending(p => p.IsToldApart).ThenByDescending(p => p.Contrast),
        ];
        if (pairs.Length == 0)
            return null;
        bool isRate = answer.Of == AskedOf.Rate.Code();
        (string symbol, string what, string sign) = isRate ? ("k", "ratio", "/") : ("S", "difference", "-");
        return new ForestChart(
            $"{symbol} by {answer.By.Replace('_', ' ')}: {answer.ToldApart}",
            $"Forest plot of {pairs.Length} {what}s of {symbol} with 95 % intervals. "
            + $"{string.Join(" ", pairs.Take(3).Select(p => p.Sentence))}",
            new Axis($"{what} of {symbol}, as named on the left") { IsLogarithmic = isRate },
            [
                .. pairs.Select(p => new ForestRow($"{Named(answer, p.Second)} {sign} {Named(answer, p.First)}",
                    p.Contrast, p.Lower95, p.Upper95, p.IsToldApart)),
            ])
        {
            Reference = isRate ? 1 : 0,
            NumbersHeading = $"{what} [95 % interval]",
            NumberFormat = isRate ? "0.00" : "0.000",
            Height = 50 + ForestChart.HeightFor(pairs.Length),
            Note = $"{answer.Burials} burials at {answer.Sites} sites; blue: P < 0.05 after correction for all pairs "
                + $"{(answer.Pairs.Any(p => p.FamilyPValue is not null) ? "that the release compares" : "of this question")}."
                + $"{(pairs.Length < answer.Pairs.Count ? $" The {pairs.Length} with the smallest P are shown." : "")} "
                + "Groups differ; that does not say why.",
        };
    }

    /// <summary>Shares of the variance of ln k or S; none without an answer.</summary>
    public static Chart? VarianceOf(VarianceAnswer answer)
    {
        if (answer.Shares.Count == 0)
            return null;
        string scale = answer.Of == AskedOf.Rate.Code() ? "ln k" : "S";
        VarianceShare largest = answer.Shares.MaxBy(s => s.Share)!;
        return new BarChart(
            $"{Percent(largest.Share)} of the variance of {scale} lies between "
            + largest.Level switch
            {
                "burial" => "burials of one plot",
                "campaign at site" => "campaigns at a site",
                _ => $"{largest.Level}s",
            },
            $"Bars of the shares of variance: {string.Join(", ", answer.Shares.Select(s => $"{s.Level} {Percent(s.Share)}"))}.",
            new Axis($"share of the variance of {scale}") { From = 0, To = 1 },
            [.. answer.Shares.Select(s => new BarValue($"{s.Level} ({s.Units})", s.Share, s.ShareLower95, s.ShareUpper95))])
        {
            Height = 20 + BarChart.HeightFor(answer.Shares.Count),
            Note = $"{answer.Burials} burials of untreated plots; lines are 95 % intervals. "
                + "Known errors of weighing, batch and lot are taken off.",
        };
    }

    /// <summary>Ratio of two-bag k and curve against their mean, with limits (Bland and Altman 1986); none with fewer than three
    /// series.</summary>
    public static Chart? AgreementOf(ReleasedAgreement row, IReadOnlyList<MeasuredPair> pairs)
    {
        if (row.Ratio is not { } ratio)
            return null;
        return new XyChart(
            Invariant($"The two-bag k is {ratio:0.00} times the k of a fitted curve"),
            $"Scatter of the ratio of two-bag k to curve k against their geometric mean, with the mean ratio and limits of agreement. "
            + $"{row.Sentence}",
            new Axis("geometric mean of both (per day)") { IsLogarithmic = true }, new Axis("two-bag k / curve k") { IsLogarithmic = true },
            [
                new Points([.. pairs.Select(p => new ChartPoint(Math.Sqrt(p.Shortcut * p.Reference), p.Shortcut / p.Reference))]) {
                    Series = 0, Label = "series" },
                new Rule(ratio) { Label = "mean ratio" },
                new Rule(row.LowerLimit!.Value) { IsDashed = true, Label = "limits of agreement" },
                new Rule(row.UpperLimit!.Value) { IsDashed = true },
            ])
        { Note = row.Sentence };
    }

    /// <summary>k or S against temperature with the fitted curve and its band; none without a response.</summary>
    public static Chart? WarmthOf(WarmthAnswer answer)
    {
        if (answer.LineAt is not { } lineAt)
            return null;
        FittedWarmth best = answer.Responses[0];
        bool isRate = answer.Of == AskedOf.Rate.Code();
        double low = answer.Points.Min(p => p.TemperatureCelsius), high = answer.Points.Max(p => p.TemperatureCelsius);
        (double T, IntervalEstimate At)[] line = [.. Enumerable.Range(0, 61).Select(i => low + (high - low) * i / 60)
            .Select(t => (t, lineAt(t)))];
        IntervalEstimate ten = best.PerTenKelvin;
        return new XyChart(
            isRate ? Invariant($"Where it is ten degrees warmer, k is {ten.Value:0.00} times as high")
                : Invariant($"Where it is ten degrees warmer, S is {Math.Abs(ten.Value):0.000} {(ten.Value < 0 ? "lower" : "higher")}"),
            $"Scatter of {(isRate ? "k" : "S")} of {answer.Sites} sites against temperature, with a fitted "
            + $"{(isRate ? "curve" : "line")} and its band. {answer.Sentences[0]}",
            new Axis($"{answer.Temperature.Replace('_', ' ')} (°C)"),
            isRate ? new Axis("k (per day)") { IsLogarithmic = true } : new Axis("S"),
            [
                new Band([.. line.Select(x => (x.T, x.At.Lower95, x.At.Upper95))]) { Series = Layer.Summary },
                .. ByMoisture(answer),
                new Line([.. line.Select(x => (x.T, x.At.Value))]) { Series = Layer.Summary,
                    Label = best.Moisture == ReleasedWarmth.Bare && answer.With.Count == 0 ? "fitted" : "fitted, at the mean of all else" },
                .. best.PlateauCorrected is { } corrected
                    ? [new Line([.. line.Select(x => (x.T, corrected.At(x.T)))]) { Series = Layer.Summary, IsDashed = true,
                        Label = "corrected for the fast litter's plateau" }]
                    : Array.Empty<Layer>(),
            ])
        { Note = $"{answer.Sentences[0]} {WarmthSentences.OfDashedLine(answer, AskedOfNames.Parse(answer.Of))} {answer.Sentences[1]}" };
    }

    private static IEnumerable<Layer> ByMoisture(WarmthAnswer answer)
    {
        if (answer.MoistureBy is null)
            return [Sites(answer.Points, 0, "site")];
        WarmthSite[] sorted = [.. answer.Points.OrderBy(p => p.Moisture).ThenBy(p => p.SiteKey, StringComparer.Ordinal)];
        string[] names = ["driest third of sites", "middle third", "moistest third"];
        IReadOnlyList<Tone> steps = HouseColours.Ordered(3);
        return Enumerable.Range(0, 3).Select(third =>
            Sites(sorted[(third * sorted.Length / 3)..((third + 1) * sorted.Length / 3)], 0, names[third]) with { Colour = steps[third] });
    }

    private static Points Sites(IEnumerable<WarmthSite> sites, int series, string label) =>
        new([.. sites.Select(p => new ChartPoint(p.TemperatureCelsius, p.Value))]) { Series = series, Label = label };

    private static string Percent(double share) => Invariant($"{share:P0}");
}
