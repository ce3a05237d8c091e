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

    // as they name bags in four languages, accents aside
    private static readonly HashSet<string> Words =
    [
        .. ("red yellow green blue orange grey gray pink violet purple white black brown "
            + "rot gelb grun blau grau rosa lila violett weiss schwarz braun "
            + "rojo roja amarillo amarilla verde azul naranja gris morado morada violeta blanco blanca negro negra marron "
            + "rouge jaune vert verte bleu bleue grise rose violette blanc blanche noir noire brun brune").Split(' '),
    ];

    /// <summary>Whether a word is a colour: azul, blanche, roter.</summary>
    /// <param name="word">In small letters without accents.</param>
    public static bool IsWord(string word) => Words.Contains(word)
        || Array.Exists(Endings, ending => word.EndsWith(ending, StringComparison.Ordinal) && Words.Contains(word[..^ending.Length]));

    private static readonly string[] Endings = ["e", "er", "es", "en", "em"];

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
