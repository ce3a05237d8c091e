namespace DecayAtlas.Figures.Tests;

/// <summary>One small chart of each kind.</summary>
internal static class ExampleCharts
{
    private static readonly double[] Wave = [.. Enumerable.Range(0, 90).Select(i => 0.012 * Math.Exp(0.9 * Math.Sin(i * 2.399)))];

    public static XyChart EqualAxes { get; } = new(
        "Predicted k holds on sites left out", "Scatter of predicted against measured k with the line of equal values.",
        new Axis("k measured (per day)") { IsLogarithmic = true }, new Axis("k predicted (per day)") { IsLogarithmic = true },
        [new Points([.. Wave.Select((k, i) => new ChartPoint(k, k * Math.Exp(0.25 * Math.Cos(i * 1.7))))]) { Label = "site left out" }])
    { HasEqualAxes = true, Note = "90 sites, blocks of 200 km left out in turn.", Height = 560 };

    public static XyChart Curves { get; } = new(
        "Mass left falls fast, then slowly", "Two decay curves with bands.",
        new Axis("days in the soil") { From = 0 }, new Axis("share of mass left") { From = 0, To = 1.05 },
        [
            .. Litter(HouseColours.Fast, "fast litter", 0.03, 0.35),
            .. Litter(HouseColours.Slow, "slow litter", 0.009, 0.55),
            new Rule(90, IsVertical: true) { IsDashed = true, Label = "usual exposure" },
        ])
    { Note = "Bands: 95 % of the curve." };

    public static ForestChart Forest { get; } = new(
        "Management: k against conventional", "Ratios of k with intervals; organic above 1.",
        new Axis("ratio of k") { IsLogarithmic = true },
        [new("organic / conventional", 1.31, 1.08, 1.6), new("none / conventional", 0.94, 0.71, 1.25, false),
            new("a rather long name of a group / conventional", 0.5, null, null, false)])
    { Reference = 1, Height = ForestChart.HeightFor(3) };

    public static BarChart Bars { get; } = new(
        "Most variance lies between sites", "Shares of variance.", new Axis("share of variance") { To = 1 },
        [new("ecosystem", 0.21, 0.05, 0.6), new("site", 0.55, 0.3, 0.75), new("burial", 0.24)])
    { Height = BarChart.HeightFor(3) };

    public static Histogram Counts { get; } = new("k spreads over a decade", "Histogram of k.",
        new Axis("k (per day)") { IsLogarithmic = true }, Wave)
    { Counted = "sites" };

    public static PanelChart Panels { get; } = new(
        "Four sites", "Decay curves of four sites.", [.. Enumerable.Range(1, 4).Select(i => Curves with { Title = $"site {i}" })],
            2)
    { Height = 700 };

    public static StripChart Strip { get; } = new("Three sites among others", "Three values over the middle half of others.",
        new Axis("k (per day)") { IsLogarithmic = true }, [0.009, 0.012, 0.02])
    { Most = (0.006, 0.03), Half = (0.009, 0.016), Middle = 0.012, Reference = 0.01, Height = 180 };

    public static BarChart Bags { get; } = new("What was left", "Two bags, filled to 0.4 and 0.75.", new Axis("") { From = 0, To = 1 },
        [new("fast litter", 0.4, IsMarked: true), new("slow litter", 0.75)])
    { AreBags = true, Height = 140 };

    public static IReadOnlyDictionary<string, Chart> All { get; } = new Dictionary<string, Chart>
    {
        ["equal-axes"] = EqualAxes,
        ["curves"] = Curves,
        ["forest"] = Forest,
        ["bars"] = Bars,
        ["histogram"] = Counts,
        ["panels"] = Panels,
        ["strip"] = Strip,
        ["bags"] = Bags,
    };

    private static Layer[] Litter(int series, string name, double rate, double rest)
    {
        double[] days = [.. Enumerable.Range(0, 61).Select(i => 3.0 * i)];
        double At(double t) => rest + (1 - rest) * Math.Exp(-rate * t);
        return
        [
            new Band([.. days.Select(t => (t, At(t) - 0.0004 * t, At(t) + 0.0004 * t))]) { Series = series },
            new Line([.. days.Select(t => (t, At(t)))]) { Series = series },
            new Points([.. Enumerable.Range(1, 6)
                .Select(i => new ChartPoint(28 * i, At(28 * i) + 0.02 * Math.Cos(i * 2.1)))]) { Series = series, Label = name },
        ];
    }
}
