using System.Globalization;

namespace DecayAtlas.Contributions.Understanding;

/// <summary>A name for the eye of a colour of rows: the nearest of a few.</summary>
internal static class ColourName
{
    private static readonly (string Name, int R, int G, int B)[] Known =
    [
        ("red", 255, 60, 60), ("yellow", 255, 255, 60), ("green", 80, 200, 80), ("blue", 80, 130, 230), ("orange", 255, 165, 40),
        ("grey", 180, 180, 180), ("pink", 255, 180, 190), ("violet", 160, 90, 200),
    ];

    /// <summary>RRGGBB of a fill, or of what is written.</summary>
    public static bool IsColour(string text) => Rgb(text) is { Length: 6 } rgb && rgb.All(char.IsAsciiHexDigit);

    public static string Of(string colour, Phrases words)
    {
        string rgb = Rgb(colour);
        int value = int.Parse(rgb, NumberStyles.HexNumber, CultureInfo.InvariantCulture);
        int r = value >> 16, g = (value >> 8) & 255, b = value & 255;
        string name = words["ask.colour." + Known.MinBy(one => (one.R - r) * (one.R - r) + (one.G - g) * (one.G - g)
            + (one.B - b) * (one.B - b)).Name];
        return rgb == colour ? name : words.Say("ask.colour.of-text", name);
    }

    private static string Rgb(string colour) => colour.StartsWith(CellLook.OfInk, StringComparison.Ordinal)
        ? colour[CellLook.OfInk.Length..] : colour;
}
