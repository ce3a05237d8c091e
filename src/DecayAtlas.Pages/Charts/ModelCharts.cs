namespace DecayAtlas.Pages.Charts;

/// <summary>The charts of a model: what it makes of each covariate, and how it did at places that were kept from it.</summary>
internal sealed class ModelCharts(ModelFolder model, ModelKind kind, Language words)
{
    private const int Width = PageCharts.Phone;

    private readonly CandidateFacts? _winner = model.Candidates.FirstOrDefault(c => c.Name == model.Winner);

    /// <summary>What the model makes of each covariate, all on one scale, so that what matters little looks so.</summary>
    public IEnumerable<Markup> Effects(Func<string, string> labelOf)
    {
        double[] all = [.. model.Effects.SelectMany(e => e.Points).Select(p => p.Y).DefaultIfEmpty(0)];
        double low = all.Min(), high = all.Max(), margin = Math.Max(0.08 * (high - low), 1e-3);
        Axis shared = new(words[kind.Key("model.effect")]) { From = low - margin, To = high + margin };
        return model.Effects.Select(e => e.Classes.Count > 0 ? OfClasses(e, labelOf(e.Covariate), shared)
            : OfNumber(e, labelOf(e.Covariate), shared));
    }

    private Markup OfClasses(EffectFacts e, string label, Axis effect)
    {
        BarValue[] bars = [.. e.Classes.Zip(e.Points, (name, p) => new BarValue(words.Word(name), p.Y))
            .OrderByDescending(b => b.Value).ThenBy(b => b.Name, StringComparer.Ordinal)];
        return PageCharts.Bars(bars, effect with { Label = $"{label}: {effect.Label}" }, words, "0.000");
    }

    private Markup OfNumber(EffectFacts e, string label, Axis effect)
    {
        string said = string.Join("; ", e.Points.Where((_, i) => i == 0 || i == e.Points.Count / 2 || i == e.Points.Count - 1)
            .Select(p => $"{words.Number(p.X)}: {words.Number(p.Y)}"));
        double[] learnt = [.. model.HeldOut.Where(r => r.Covariates.ContainsKey(e.Covariate)).Select(r => r.Covariates[e.Covariate])];
        return PageCharts.Draw(new XyChart("", $"{PageCharts.Plain(effect.Label)}: {said} ({label})", new Axis(label), effect,
            [new Rule(0), new Rug(learnt) { Series = Layer.Summary }, new Line(e.Points) { Series = 0 }])
        { Width = Width, Height = 230 }, words);
    }

    /// <summary>Each picture of how it did, with its caption; those for which the card has no numbers are left out.</summary>
    /// <param name="land">Outlines to draw beneath the sites.</param>
    public IEnumerable<(Markup Picture, string Caption)> Trials(IReadOnlyList<double[][][]> land)
    {
        // a table of an earlier form tells less
        if (model.HeldOut.Count > 1 && model.HeldOut.All(r => double.IsFinite(
            r.LatitudeDegrees + r.LongitudeDegrees + r.Observed + r.Predicted + r.Dissimilarity)))
        {
            yield return (Observed(), words["model.plot.observed-predicted"]);
            if (_winner?.BlockedRmse is { } rmse)
                yield return (Residuals(land, rmse), words["model.plot.residual-map"]);
            yield return (Unlikeness(), words["model.plot.error-by-dissimilarity"]);
        }

        if (model.Learning.Count > 1)
            yield return (Learning(), words["model.plot.learning-curve"]);
    }

    private Markup Observed() => PageCharts.Draw(new XyChart("", Told("observed-predicted"), Named("model.axis.predicted"),
        Named("model.axis.observed"),
        [new Points([.. model.HeldOut.Select(r => new ChartPoint(r.Predicted, r.Observed))]) { Series = 0 }])
    { Width = Width, Height = 400, HasEqualAxes = true }, words);

    private Markup Residuals(IReadOnlyList<double[][][]> land, double rmse)
    {
        (ChartPoint Place, double Off)[] sites = [.. model.HeldOut.GroupBy(r => r.SiteKey, StringComparer.Ordinal).Select(g =>
            (new ChartPoint(g.First().LongitudeDegrees, g.First().LatitudeDegrees), g.Average(r => r.Observed - r.Predicted)))];
        double south = sites.Min(s => s.Place.Y), north = sites.Max(s => s.Place.Y), west = sites.Min(s => s.Place.X),
            east = sites.Max(s => s.Place.X), room = Math.Max(0.06 * Math.Max(north - south, east - west), 0.05);
        double wide = (east - west + 2 * room) * Math.Cos((south + north) / 2 * Math.PI / 180), high = north - south + 2 * room;
        return PageCharts.Draw(new XyChart("", Told("residual-map"),
            new Axis("") { From = west - room, To = east + room, Mark = v => Degrees(v, "site.east", "site.west") },
            new Axis("") { From = south - room, To = north + room, Mark = v => Degrees(v, "site.north", "site.south") },
            [
                new Land(land),
                Those("model.mark.within", HouseColours.Soft, 0, r => Math.Abs(r) <= rmse) with { Size = 5 },
                Those("model.mark.above", HouseColours.Above, 3, r => r > rmse),
                Those("model.mark.below", HouseColours.Below, 5, r => r < -rmse),
            ])
        { Width = Width, Height = (int)Math.Clamp(340 * high / wide + 120, 260, 560) }, words);

        Points Those(string name, Tone colour, int form, Func<double, bool> holds) =>
            new([.. sites.Where(s => holds(s.Off)).Select(s => s.Place)]) { Label = words[name], Colour = colour, Form = form, Size = 9 };
    }

    private Markup Unlikeness()
    {
        double nearest = model.HeldOut.Min(r => r.Dissimilarity), far = model.HeldOut.Max(r => r.Dissimilarity);
        // the few far rows would press all others to the axis
        double shown = model.MostUnlike is { } most ? Math.Min(far, 2 * Math.Max(most, 1e-6)) : far;
        Layer[] interval = model.HalfInterval is not var (least, slope) ? [] :
        [
            new Line([(nearest, least + slope * nearest), (shown, least + slope * shown)])
            { Label = words.Say("model.line.interval", words.Percent(model.IntervalLevel)), Series = Layer.Summary },
        ];
        Layer[] limit = model.MostUnlike is { } at && at <= shown
            ? [new Rule(at, IsVertical: true) { Label = words["model.line.limit"], IsDashed = true }] : [];
        return PageCharts.Draw(new XyChart("", Told("error-by-dissimilarity"),
            new Axis(words["model.axis.unlike"]) { From = 0, To = shown * 1.02 }, Named("model.axis.error") with { From = 0 },
            [
                new Points([.. model.HeldOut.Where(r => r.Dissimilarity <= shown)
                    .Select(r => new ChartPoint(r.Dissimilarity, Math.Abs(r.Observed - r.Predicted)))]) { Series = 0 },
                .. interval, .. limit,
            ])
        { Width = Width, Height = 300 }, words);
    }

    private Markup Learning() => PageCharts.Draw(new XyChart("", Told("learning-curve"),
        new Axis(words["model.axis.sites"]) { From = 0 }, Named("model.rmse") with { From = 0 },
        [
            new Line([.. model.Learning.Select(p => (p.Sites, p.Rmse))]) { Series = 0 },
            new Points([.. model.Learning.Select(p => new ChartPoint(p.Sites, p.Rmse))]) { Series = 0, Size = 9 },
        ])
    { Width = Width, Height = 300 }, words);

    private Axis Named(string key) => new(words[kind.Key(key)]);

    private string Told(string plot) => words.Say($"model.plot.{plot}.alt", words.Number(_winner?.BlockedR2, "0.00"),
        words.Number(_winner?.BlockedRmse, "0.000"), kind.Quantity);

    private string Degrees(double value, string above, string below) =>
        words.Number(Math.Abs(value), "0.##") + "°" + (value > 0 ? " " + words[above] : value < 0 ? " " + words[below] : "");
}
