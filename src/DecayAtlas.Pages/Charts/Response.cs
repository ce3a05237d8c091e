namespace DecayAtlas.Pages.Charts;

/// <summary>One site in a response: what it lies in, and its rate.</summary>
/// <param name="X">The covariate.</param>
/// <param name="RatePerDay">k (d⁻¹), above 0.</param>
public readonly record struct ResponsePoint(double X, double RatePerDay);

/// <summary>Sites whose covariate lies in one stretch, with the middle half of their rates.</summary>
internal sealed record ResponseBin(double From, double To, double Middle, int Sites, double Lower, double Median, double Upper)
{
    /// <summary>Stretches of equal numbers of sites.</summary>
    public static IReadOnlyList<ResponseBin> Of(IReadOnlyList<ResponsePoint> points)
    {
        ResponsePoint[] sorted = [.. points.OrderBy(p => p.X).ThenBy(p => p.RatePerDay)];
        int bins = Math.Clamp(sorted.Length / 12, 1, 8);
        return
        [
            .. Enumerable.Range(0, bins).Select(b => sorted[(b * sorted.Length / bins)..((b + 1) * sorted.Length / bins)]).Where(s => s.Length > 0).Select(s =>
            {
                double[] rates = Quantiles.Sort(s.Select(p => p.RatePerDay));
                return new ResponseBin(s[0].X, s[^1].X, Quantiles.Of(Quantiles.Sort(s.Select(p => p.X)), 0.5), s.Length,
                    Quantiles.Of(rates, 0.25), Quantiles.Of(rates, 0.5), Quantiles.Of(rates, 0.75));
            }),
        ];
    }
}

/// <summary>Rate against a covariate: the sites as dots, medians and middle halves of stretches on them, a group's own sites as diamonds.</summary>
internal static class Response
{
    private const int MostDots = 800;

    public static Markup Draw(IReadOnlyList<ResponsePoint> points, IReadOnlyList<ResponsePoint> own, string xName, Language words, double width = 520, double height = 300)
    {
        double left = 58, right = width - 12, top = 36, bottom = height - 46;
        IReadOnlyList<ResponseBin> bins = ResponseBin.Of(points);
        double[] rates = Quantiles.Sort(points.Concat(own).Select(p => p.RatePerDay)), values = Quantiles.Sort(points.Concat(own).Select(p => p.X));
        var x = Axis.Linear(values[0], values[^1], left + 6, right - 6, 6);
        var y = Axis.Log(Quantiles.Of(rates, 0.005) / 1.1, Quantiles.Of(rates, 0.995) * 1.1, bottom, top);
        int every = (points.Count + MostDots - 1) / MostDots;
        string format = Histogram.TickFormat(x);
        return Figure.Svg(width, height, NameOf(bins, Figure.Plain(xName), words), Markup.Of(
            $"""
            {Figure.Left(y, left, right, top, t => words.Number(t), Figure.Slanted(words["axis.rate"]))}
            {points.Where((_, i) => i % every == 0).Select(p => Markup.Of($"""<circle class="dot" r="2.6" cx="{x.At(p.X)}" cy="{y.At(p.RatePerDay)}"/>"""))}
            <polyline class="trend" points="{string.Join(' ', bins.Select(b => Markup.Of($"{x.At(b.Middle)},{y.At(b.Median)}").ToString()))}"/>
            {bins.Select(b => Markup.Of($"""<line class="half" x1="{x.At(b.Middle)}" x2="{x.At(b.Middle)}" y1="{y.At(b.Lower)}" y2="{y.At(b.Upper)}"/><circle class="middle" r="5" cx="{x.At(b.Middle)}" cy="{y.At(b.Median)}"/>"""))}
            {own.Select(p => Markup.Of($"""<path class="own" d="M{x.At(p.X)} {y.At(p.RatePerDay) - 8}l8 8l-8 8l-8 -8z"/>"""))}
            {Figure.Bottom(x, bottom, left, right, t => words.Number(t, format), Markup.Of($"{xName}"))}
            """));
    }

    public static Markup WithNumbers(IReadOnlyList<ResponsePoint> points, string xName, Markup caption, Language words)
    {
        IReadOnlyList<ResponseBin> bins = ResponseBin.Of(points);
        return Figure.WithNumbers(Draw(points, [], xName, words), caption, words["figure.numbers"],
            [words["histogram.from"], words["histogram.to"], words["response.sites"], words["response.lower"], words["response.median"], words["response.upper"]],
            bins.Select(b => (IReadOnlyList<string>)[words.Number(b.From), words.Number(b.To), words.Count(b.Sites), words.Rate(b.Lower), words.Rate(b.Median), words.Rate(b.Upper)]));
    }

    private static string NameOf(IReadOnlyList<ResponseBin> bins, string xName, Language words) =>
        words.Say("response.name", xName, words.Number(bins[0].Middle), words.Rate(bins[0].Median), words.Number(bins[^1].Middle), words.Rate(bins[^1].Median));
}
