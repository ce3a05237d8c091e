namespace DecayAtlas.Figures.Drawing;

/// <summary>Every colour of figures and pages: paper and soil by day, soil and lamplight by night.</summary>
public static class HouseColours
{
    /// <summary>The series of slow and of fast litter, in every chart that has both.</summary>
    public const int Slow = 0, Fast = 1;

    /// <summary>Titles, names, and what is summed up of a series.</summary>
    public static readonly Tone Ink = new("ink", "#2b231a", "#f0e8da");

    /// <summary>Axes, notes, reference lines.</summary>
    public static readonly Tone Soft = new("soft", "#65574a", "#bdae9b");

    internal static readonly Tone Grid = new("line", "#ddd1bd", "#40362b");
    internal const string Ground = "#ffffff";

    private static readonly Tone[] OfPages =
    [
        Ink, Soft, Grid, new("paper", "#f7f2e8", "#181410"), new("card", "#fffdf8", "#221c17"),
        new("moss", "#35622f", "#a9d29c"), new("moss-deep", "#284c24", "#c4e3ba"), new("on-moss", "#fffdf8", "#17220f"),
        new("land", "#e9dfca", "#3a3127"), new("sea", "#dbe5e3", "#12181b"), new("coast", "#a89779", "#75674f"),
        new("shallow", "#b4cfd3", "#1f3a43"), new("shore", "#5d4f3b", "#a8987c"), new("graticule", "#6d7f86", "#7f959d"),
        new("hint", "#f3e6c4", "#3a3016"), new("warn", "#f6d9c8", "#46281a"), new("shade", "#3c28141a", "#00000059"),
    ];

    /// <summary>Categories in order of use, the first two also the litters; a test holds them apart for every colour vision.</summary>
    public static IReadOnlyList<Tone> Series { get; } =
    [
        new("blue", "#2a6877", "#7cc0cf"), new("rust", "#a1430d", "#f3a06b"), new("green", "#8fae5e", "#5f9a3c"),
        new("violet", "#a94fc4", "#b876d8"), new("sky", "#7fcbe6", "#4f6fe8"), new("ochre", "#f1a30f", "#fff1a8"),
        new("yellow", "#f2ee85", "#b9ccb4"), new("brown", "#40241a", "#86765c"),
    ];

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
        {{string.Concat(OfPages.Take(3).Concat(Series).Select(ClassOf))}}{{string.Concat(Look.All.Select(l => l.Css))}}
        """;

    private static string Dark => Properties(t => t.Dark);

    private static string ClassOf(Tone tone) => $".chart .{tone.Name} {{ color: var(--{tone.Name}) }}\n";

    private static string Properties(Func<Tone, string> shade) =>
        string.Concat(OfPages.Concat(Series).Select(t => $"--{t.Name}: {shade(t)}; ")
            .Concat(Ramp.Rates.Stops.Select((stop, i) => $"--rate-{i}: {stop}; "))
            .Concat(Joint.Select((colour, i) => $"--joint-{i + 1}: {colour}; ")));
}
