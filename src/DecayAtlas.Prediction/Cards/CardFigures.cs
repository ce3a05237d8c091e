using static DecayAtlas.Prediction.Cards.CardText;

namespace DecayAtlas.Prediction.Cards;

/// <summary>The figures of a model card, as SVG files beside it.</summary>
internal static class CardFigures
{
    public const string ObservedPredicted = "observed-predicted.svg", ResidualMap = "residual-map.svg",
        ErrorByDissimilarity = "error-by-dissimilarity.svg", Learning = "learning-curve.svg", Importance = "importance.svg",
        Effects = "effects.svg";

    public static IEnumerable<(string File, Figure Figure)> Of(ModelCard card, IReadOnlyList<HeldOutRow> rows)
    {
        string unit = UnitOf(card);
        yield return (ObservedPredicted, Observed(card, rows, unit).Draw());
        yield return (ResidualMap, Residuals(card, rows, unit).Draw());
        yield return (ErrorByDissimilarity, Dissimilarity(card, rows, unit).Draw());
        if (card.Findings.LearningCurve.Count >= 2)
            yield return (Learning, Curve(card, unit).Draw());
        yield return (Importance, Drivers(card, unit).Draw());
        yield return (Effects, EffectsOf(card, rows, unit).Draw());
    }

    public static string UnitOf(ModelCard card) => card.Target == PredictionTarget.DecayRate ? "ln k" : "S";

    private static XyChart Observed(ModelCard card, IReadOnlyList<HeldOutRow> rows, string unit)
    {
        ErrorMetrics score = card.WinnerScore().Blocked.Pooled;
        return new(
            "Observed against predicted, on held-out blocks",
            $"Scatter of observed over predicted {unit} for {rows.Count} site-campaign means, each predicted while its block was held "
            + $"out, with the line of equal values. R2 is {Number(score.R2, "0.00")}.",
            new($"predicted {unit}"), new($"observed {unit}"), [new Points([.. rows.Select(r => new ChartPoint(r.Predicted, r.Observed))])])
        {
            HasEqualAxes = true,
            Height = 620,
            Width = 620,
            Note = $"R² {Number(score.R2, "0.00")}, RMSE {Number(score.Rmse)}, concordance {Number(score.Concordance, "0.00")}, "
                + $"{rows.Count} rows. The dashed line is equality.",
        };
    }

    private static XyChart Residuals(ModelCard card, IReadOnlyList<HeldOutRow> rows, string unit)
    {
        double limit = card.WinnerScore().Blocked.Pooled.Rmse;
        (ChartPoint Place, double Residual)[] sites = [.. rows.GroupBy(r => r.SiteKey, StringComparer.Ordinal).Select(g =>
            (new ChartPoint(g.First().LongitudeDegrees, g.First().LatitudeDegrees), g.Average(r => r.Observed - r.Predicted)))];
        Points Those(string label, Tone colour, int form, Func<double, bool> holds) =>
            new([.. sites.Where(s => holds(s.Residual)).Select(s => s.Place)]) { Label = label, Colour = colour, Form = form, Size = 9 };
        int above = sites.Count(s => s.Residual > limit), below = sites.Count(s => s.Residual < -limit);
        double middle = (card.Training.SouthDegrees + card.Training.NorthDegrees) / 2;
        double aspect = (card.Training.NorthDegrees - card.Training.SouthDegrees)
            / Math.Max(1e-9, (card.Training.EastDegrees - card.Training.WestDegrees) * Math.Cos(middle * Math.PI / 180));
        string pattern = card.Findings.Residuals is { } m ? $"Moran's I {Number(m.I)}, P {Number(m.P, m.P < 0.001 ? "0.0E+0" : "0.000")}."
            : "";
        return new(
            "Where the model errs: residuals of sites, on held-out blocks",
            $"Map of {sites.Length} sites in longitude and latitude: {above} have {unit} above the prediction by more than the RMSE, "
            + $"{below} below it by more, the others lie within. {pattern}",
            new("longitude") { Mark = v => Degrees(v, "E", "W") }, new("latitude") { Mark = v => Degrees(v, "N", "S") },
            [
                Those($"within the RMSE ({Number(limit)})", HouseColours.Soft, 0, r => Math.Abs(r) <= limit) with { Size = 5 },
                Those("observed above predicted", HouseColours.Above, 3, r => r > limit),
                Those("observed below predicted", HouseColours.Below, 5, r => r < -limit),
            ])
        {
            Height = (int)Math.Clamp(640 * aspect + 150, 360, 900),
            Note = pattern.Length > 0 ? pattern : null,
        };
    }

    private static XyChart Dissimilarity(ModelCard card, IReadOnlyList<HeldOutRow> rows, string unit)
    {
        ModelFindings f = card.Findings;
        double far = rows.Max(r => r.Dissimilarity);
        // The few far rows would press all others to the axis.
        double shown = Math.Min(far, 2 * Math.Max(f.Applicability.Threshold, 1e-6));
        int beyond = rows.Count(r => r.Dissimilarity > shown);
        double nearest = rows.Min(r => r.Dissimilarity);
        return new(
            "Error against dissimilarity, on held-out blocks",
            $"Absolute error of {unit} over the dissimilarity index of each held-out row, with the line that the interval follows and "
            + $"the limit of the area of applicability at {Number(f.Applicability.Threshold)}.",
            new("dissimilarity index") { From = 0, To = shown }, new($"absolute error of {unit}") { From = 0 },
            [
                new Points([.. rows.Where(r => r.Dissimilarity <= shown)
                    .Select(r => new ChartPoint(r.Dissimilarity, Math.Abs(r.Observed - r.Predicted)))]),
                new Line([(nearest, f.Interval.HalfWidthAt(nearest)), (shown, f.Interval.HalfWidthAt(shown))]) {
                    Label = $"half the {Share(f.Interval.Level)} interval", Series = Layer.Summary },
                new Rule(f.Applicability.Threshold, IsVertical: true) { Label = "limit of applicability", IsDashed = true },
            ])
        {
            Note = beyond > 0 ? $"{Counted.Of(beyond, "row")} beyond the right edge, the farthest at {Number(far, "0.00")}." : null,
        };
    }

    private static XyChart Curve(ModelCard card, string unit)
    {
        IReadOnlyList<LearningPoint> points = card.Findings.LearningCurve;
        return new(
            "Would more sites help?",
            $"RMSE of {unit} on held-out blocks over the number of sites trained on: "
            + $"{string.Join(", ", points.Select(p => $"{Number(p.Rmse)} with {Number(p.MeanSites, "0")}"))}.",
            new("sites trained on") { From = 0 }, new($"RMSE of {unit}") { From = 0 },
            [new Line([.. points.Select(p => (p.MeanSites, p.Rmse))]) { Series = 0 },
            new Points([.. points.Select(p => new ChartPoint(p.MeanSites, p.Rmse))]) { Series = 0 }])
        {
            Height = 360,
        };
    }

    private static BarChart Drivers(ModelCard card, string unit)
    {
        BarValue[] bars = [.. card.Findings.Importance.Select(i => new BarValue(
            TitleOf(card, i.Covariate), i.RmseIncrease, i.RmseIncrease - i.StandardDeviation, i.RmseIncrease + i.StandardDeviation))];
        return new(
            "What drives the prediction",
            $"Rise of the RMSE of {unit} on held-out blocks when a covariate is shuffled: "
            + $"{string.Join(", ", card.Findings.Importance.Select(i => $"{i.Covariate} {Number(i.RmseIncrease)}"))}.",
            new($"rise of RMSE of {unit} when shuffled"), bars)
        {
            Height = BarChart.HeightFor(bars.Length),
            NumberFormat = "0.000",
            Note = $"Mean and standard deviation of {card.Options.ImportanceRepeats} shuffles. Covariates that move together share "
                    + "importance.",
        };
    }

    private static PanelChart EffectsOf(ModelCard card, IReadOnlyList<HeldOutRow> rows, string unit)
    {
        double low = card.Findings.Effects.Min(e => e.Effects.Min()), high = card.Findings.Effects.Max(e => e.Effects.Max());
        double margin = Math.Max(0.06 * (high - low), 1e-3), floor = low - 1.5 * margin;
        Chart[] panels = [.. card.Findings.Effects.Select((e, c) => e.Classes is { } classes
            ? ClassPanel(e, TitleOf(card, e.Covariate), classes, new Axis($"effect on {unit}") { From = floor, To = high + margin })
            : NumberPanel(e, c))];
        const int columns = 3;
        return new(
            "How the prediction moves with each covariate",
            $"Accumulated local effects on {unit}, one panel a covariate: "
            + $"{string.Join("; ", card.Findings.Effects.Select(e => e.Classes is { } classes
                ? $"{e.Covariate} {string.Join(", ", classes.Zip(e.Effects, (name, x) => $"{name} {Number(x, "0.00")}"))}"
                : $"{e.Covariate} from {Number(e.Effects[0], "0.00")} at "
                    + $"{Number(e.Values[0], "G3")} to {Number(e.Effects[^1], "0.00")} at {Number(e.Values[^1], "G3")}"))}.",
            panels, columns)
        {
            Width = 960,
            Height = 120 + 230 * ((panels.Length + columns - 1) / columns),
            Note = "One scale for all; the ticks at the foot are the training values."
                + (card.Findings.Effects.Any(e => e.Classes is not null) ? " Bars: all rows as if of the class." : ""),
        };

        Chart NumberPanel(CovariateEffect e, int c) => new XyChart(
            TitleOf(card, e.Covariate), e.Covariate, new(card.Covariates[c].Unit is "" or "1" ? "" : card.Covariates[c].Unit),
            new($"effect on {unit}") { From = floor - margin / 2, To = high + margin },
            [
                new Line([.. e.Values.Zip(e.Effects)]) { Series = 0 },
                new Rug([.. rows.Select(r => r.Covariates[c])]) { Series = Layer.Summary, Label = "training values" },
            ]);
    }

    private static BarChart ClassPanel(CovariateEffect e, string title, IReadOnlyList<string> classes, Axis effect) => new(
        title, e.Covariate, effect, [.. classes.Zip(e.Effects, (name, x) => new BarValue(name, x))]);

    // a longer title leaves no room for the bar
    private static string TitleOf(ModelCard card, string covariate) =>
        card.Covariates.FirstOrDefault(c => c.Name == covariate) is { Title.Length: > 0 and <= 42 } known ? known.Title : covariate;

    private static string Degrees(double value, string above, string below) =>
        Number(Math.Abs(value), "0.####") + "°" + (value > 0 ? " " + above : value < 0 ? " " + below : "");
}
