namespace DecayAtlas.Figures.Drawing;

/// <summary>How a mark is drawn in its tone: by attributes in a file, by a class and its rule in a page.</summary>
internal sealed record Look(string Name, double Fill = 0, double Stroke = 0, double Opacity = 1, string? Dash = null, bool HasHalo = false)
{
    public static readonly Look
        Bar = new("bar", 1), Wide = new("wide", 0.2), Half = new("half", 0.45), Thin = new("thin", 0, 1),
        Faint = new("faint", 0, 1, 0.65), Thick = new("thick", 0, 2.5), Curve = new("curve", 0, 2),
        Reach = new("reach", 0, 1.6, 0.85), Dashed = new("dashed", 0, 1.3, Dash: "5 4"),
        DashedCurve = new("dashed-curve", 0, 2, Dash: "7 4"), Mark = new("mark", 1, 1.2, HasHalo: true),
        Halo = new("halo", 0, 5, HasHalo: true);

    // the more points, the more transparent, so that a crowd shows as one
    private static readonly Look[] Crowds =
    [
        new("few", 0.95, 1, HasHalo: true), new("some", 0.85, 0.8, HasHalo: true), new("many", 0.7, 0.6, HasHalo: true),
        new("crowd", 0.6, 0.4, HasHalo: true),
    ];

    public static IReadOnlyList<Look> All =>
        [Bar, Wide, Half, Thin, Faint, Thick, Curve, Reach, Dashed, DashedCurve, Mark, Halo, .. Crowds];

    public string Css =>
        $".chart .{Name} {{ {string.Join("; ", Of("currentColor", "var(--card)").Select(p => $"{p.Name}: {p.Value}"))} }}\n";

    /// <summary>The look of each of many points, and how wide one is, by how many would stand on a chart of usual size.</summary>
    public static (Look Look, double Size) Crowd(double points) =>
        points switch { <= 60 => (Crowds[0], 9), <= 400 => (Crowds[1], 7), <= 1500 => (Crowds[2], 5.2), _ => (Crowds[3], 4) };

    /// <summary>For a figure of its own: colours of the day, and classes by which its style gives those of the night.</summary>
    public string Attributes(Tone tone)
    {
        string fill = Fill > 0 ? "f-" + tone.Name : "", stroke = Stroke > 0 ? "s-" + (HasHalo ? HouseColours.Ground : tone).Name : "";
        return $"class=\"{$"{fill} {stroke}".Trim()}\" "
            + string.Join(' ', Of(tone.Light, HouseColours.Ground.Light).Select(p => $"{p.Name}=\"{p.Value}\""));
    }

    private IEnumerable<(string Name, string Value)> Of(string colour, string ground)
    {
        yield return ("fill", Fill > 0 ? colour : "none");
        if (Fill is > 0 and < 1)
            yield return ("fill-opacity", Invariant($"{Fill}"));
        if (Stroke == 0)
            yield break;
        yield return ("stroke", HasHalo ? ground : colour);
        yield return ("stroke-width", Invariant($"{Stroke}"));
        if (Opacity < 1)
            yield return ("stroke-opacity", Invariant($"{Opacity}"));
        if (Dash is not null)
            yield return ("stroke-dasharray", Dash);
    }
}
