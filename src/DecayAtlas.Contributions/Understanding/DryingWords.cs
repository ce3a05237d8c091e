namespace DecayAtlas.Contributions.Understanding;

/// <summary>Words for how litter was dried, in four languages, each with the word of the schema.</summary>
internal static class DryingWords
{
    // a word of a column that speaks of nothing but drying
    private static readonly (string Drying, string[] Words)[] Alone =
    [
        ("oven", ["oven", "ofen", "trockenschrank", "etuve", "four", "estufa", "horno"]), ("air", ["air", "luft", "aire"]),
        ("freeze", ["freeze", "gefrier", "lyophil", "liofil"]), ("none", ["none", "keine", "aucun", "ninguno"]),
    ];

    // beside other words: air by itself may be a place or a temperature
    private static readonly (string Drying, string[] Words)[] Beside =
    [
        ("air",
        [
            "luftgetrocknet", "lufttrocken", "an der luft", "air-dr", "air dr", "airdr", "secado al aire", "secada al aire", "seco al aire",
            "seca al aire", "sechage a l'air", "seche a l'air", "sechee a l'air", "sec a l'air",
        ]),
        ("oven",
        [
            "oven-dr", "oven dr", "ovendr", "ofentrocken", "ofengetrocknet", "im ofen", "trockenschrank", "darrtrocken", "etuve", "au four",
            "estufa", "horno",
        ]),
        ("freeze", ["freeze-dr", "freeze dr", "gefriergetrocknet", "lyophil", "liofil"]),
        ("none",
        [
            "undried", "not dried", "fresh", "moist", "ungetrocknet", "frisch", "feucht", "non seche", "frais", "fraiche", "humide",
            "sin secar", "fresco", "fresca", "humedo", "humeda",
        ]),
    ];

    /// <summary>By a text that says nothing else; null where it is not understood.</summary>
    public static string? Of(string text) => First(Beside, text) ?? First(Alone, text);

    /// <summary>By the name of a column or a line that speaks of other things as well.</summary>
    public static string? In(string text) => First(Beside, text);

    private static string? First((string Drying, string[] Words)[] among, string text)
    {
        string folded = Identifier.Folded(text);
        return among.FirstOrDefault(entry => entry.Words.Any(word => folded.Contains(word, StringComparison.Ordinal))).Drying;
    }
}
