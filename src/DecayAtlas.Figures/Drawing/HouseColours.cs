namespace DecayAtlas.Figures.Drawing;

/// <summary>Every colour of figures and pages: paper and soil by day, soil and lamplight by night.</summary>
public static class HouseColours
{
    /// <summary>The series of slow and of fast litter, in every chart that has both, and of what the reader's own sites are.</summary>
    public const int Slow = 0, Fast = 1, Own = 3;

    /// <summary>Titles, names, and what is summed up of a series.</summary>
    public static readonly Tone Ink = new("ink", "#2b231a", "#f0e8da");

    /// <summary>Axes, notes, reference lines.</summary>
    public static readonly Tone Soft = new("soft", "#65574a", "#bdae9b");

    /// <summary>Above and below what was expected: the ends of <see cref="Ramp.Change"/>, as far as either ground lets them be.</summary>
    public static readonly Tone Above = new("above", "#b35806", "#f2a95c"), Below = new("below", "#5e3c99", "#b7a6ea");

    internal static readonly Tone Land = new("land", "#e9dfca", "#3a3127"), Coast = new("coast", "#a89779", "#75674f");
    internal static readonly Tone Grid = new("line", "#ddd1bd", "#40362b"), Ground = new("ground", "#ffffff", "#221c17");

    private static readonly Tone[] OfPages =
    [
        Ink, Soft, Grid, new("paper", "#f7f2e8", "#181410"), new("card", "#fffdf8", "#221c17"),
        new("moss", "#35622f", "#a9d29c"), new("moss-deep", "#284c24", "#c4e3ba"), new("on-moss", "#fffdf8", "#17220f"),
        Land, new("sea", "#dbe5e3", "#12181b"), Coast,
        new("shallow", "#b4cfd3", "#1f3a43"), new("shore", "#5d4f3b", "#a8987c"), new("graticule", "#6d7f86", "#7f959d"),
        new("hint", "#f3e6c4", "#3a3016"), new("warn", "#f6d9c8", "#46281a"), new("shade", "#3c28141a", "#00000059"),
    ];

    /// <summary>Categories in order of use, the first two also the litters; a test holds them apart for every colour vision.</summary>
    public static IReadOnlyList<Tone> Series { get; } =
    [
        new("blue", "#2a6877", "#7cc0cf"), new("rust", "#a1430d", "#f3a06b"), new("green", "#7d924e", "#5f9b3c"),
        new("violet", "#a94fc4", "#b876d8"), new("indigo", "#4561e7", "#536fee"), new("ochre", "#b58222", "#f7e07a"),
        new("mauve", "#d76aaa", "#d5b2ff"), new("brown", "#40241a", "#86765c"),
    ];

    /// <summary>Steps of an ordered quantity in the hue of the first series: the more, the further from the ground.</summary>
    private static readonly Tone[] Steps =
    [
        new("step-1", "#559aad", "#3d7f92"), new("step-2", "#3f8497", "#569bae"), new("step-3", "#2a6877", "#7cc0cf"),
        new("step-4", "#1b4a57", "#a9dbe6"), new("step-5", "#0c2c36", "#dff5fa"),
    ];

    /// <summary>Colours of so many steps of an ordered quantity, as far apart as they go; of more than five, neighbours share
    /// one.</summary>
    public static IReadOnlyList<Tone> Ordered(int count) =>
        [.. Enumerable.Range(0, count).Select(i => Steps[count == 1 ? 2 : (int)Math.Round(4.0 * i / (count - 1))])];

    /// <summary>Classes of k and S together, by code: fast and little left, fast and much left, slow and little left, slow and much
    /// left. Fast is cool, much left is red and dark; a test holds them and their pale ones apart for every colour vision.</summary>
    public static IReadOnlyList<string> Joint { get; } = ["#3399c4", "#2e1a47", "#ecd35a", "#b84a2e"];

    /// <summary>The same where the class is a guess.</summary>
    public static IReadOnlyList<string> JointPale { get; } =
    [
        .. Joint.Select(c => Ramp.Mix(SKColor.Parse(c), SKColor.Parse("#f4f4f2"), 0.55))
            .Select(c => $"#{c.Red:x2}{c.Green:x2}{c.Blue:x2}"),
    ];

    /// <summary>The style of pages: every colour as a custom property, by day and by night (paper has day), and how marks of charts
    /// look.</summary>
    public static string Css { get; } = $$"""
        :root { {{Properties(t => t.Light)}} color-scheme: light }
        @media screen and (prefers-color-scheme: dark) { :root:not([data-light="bright"]) { {{Dark}} color-scheme: dark } }
        @media screen { :root[data-light="dark"] { {{Dark}} color-scheme: dark } }
        {{string.Concat(OfCharts.Select(ClassOf))}}{{string.Concat(Look.All.Select(l => l.Css))}}
        """;

    private static IEnumerable<Tone> OfCharts => [Ink, Soft, Grid, Land, Coast, Above, Below, .. Steps, .. Series];

    /// <summary>The style of a figure that stands alone, by night; what knows no styles keeps the colours of the day.</summary>
    internal static string SvgCss { get; } = $$"""
        @media screen and (prefers-color-scheme: dark) {
        {{string.Concat(OfCharts.Append(Ground).Select(t => $".f-{t.Name} {{ fill: {t.Dark} }} .s-{t.Name} {{ stroke: {t.Dark} }}\n"))}}}
        """;

    private static string Dark => Properties(t => t.Dark);

    private static string ClassOf(Tone tone) => $".chart .{tone.Name} {{ color: var(--{tone.Name}) }}\n";

    private static string Properties(Func<Tone, string> shade) =>
        string.Concat(OfPages.Concat([Above, Below, .. Steps, .. Series]).Select(t => $"--{t.Name}: {shade(t)}; ")
            .Concat(Ramp.Rates.Stops.Select((stop, i) => $"--rate-{i}: {stop}; "))
            .Concat(Joint.Select((colour, i) => $"--joint-{i + 1}: {colour}; ")));
}
