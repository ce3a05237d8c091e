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

    private static readonly HashSet<string> Dry =
    [
        "dry", "dried", "drying", "getrocknet", "getrocknete", "trocknen", "trocknung", "trocken", "seche", "sechee", "seches", "sechees",
        "secher", "sechage", "secar", "secado", "secada", "secados", "secadas", "secamos", "secaron", "seco", "seca",
    ];

    private static readonly HashSet<string> Not =
    [
        "not", "never", "no", "without", "forgot", "forgotten", "nicht", "nie", "ohne", "vergessen", "vergass", "vergassen", "keine", "sin",
        "nunca", "olvidamos", "olvido", "olvidaron", "sans", "non", "pas", "jamais", "oublie", "oublies",
    ];

    private static readonly HashSet<string> Before = ["before", "vor", "antes", "avant"];

    private static readonly HashSet<string> Wet =
    [
        "undried", "fresh", "moist", "wet", "damp", "ungetrocknet", "frisch", "feucht", "nass", "frais", "fraiche", "humide", "humides",
        "mouille", "mouillee", "fresco", "fresca", "frescos", "frescas", "humedo", "humeda", "humedos", "humedas",
    ];

    // that need no word of a weighing beside them
    private static readonly HashSet<string> WetMasses =
    [
        "frischgewicht", "frischgewichte", "frischmasse", "frischmassen", "feuchtgewicht", "feuchtmasse", "nassgewicht", "ungetrocknet",
        "undried",
    ];

    private static readonly string[] AsItCame =
    [
        "as delivered", "as supplied", "as received", "straight from the soil", "straight out of the soil", "straight from the ground",
        "wie geliefert", "direkt aus dem boden", "direkt aus der erde", "tal como llego", "recien desenterrad", "tel que livre",
        "telle quelle", "tels quels", "telles quelles", "au sortir du sol",
    ];

    private static readonly HashSet<string> Weighing =
    [
        "weighed", "weighing", "weight", "weights", "mass", "masses", "litter", "bags", "gewogen", "gewicht", "gewichte", "masse", "massen",
        "streu", "beutel", "wiegen", "wagung", "pese", "pesee", "pesees", "peses", "poids", "litiere", "sachets", "peso", "pesos",
        "pesada", "pesadas", "pesaron", "masa", "masas", "hojarasca", "bolsas",
    ];

    private static readonly char[] Ends = [',', ';', '.', ':', '!', '?', '\n', '(', ')'];

    private static readonly char[] Signs = [' ', '-', '/', '=', '"', '\'', '’', '„', '“', '”', '«', '»', '\u00a0'];

    /// <summary>What of a line says that litter was weighed without having been dried: the words between two commas; null where none
    /// does. A meadow may be wet, and a bag that came up wet was dried where the line says so.</summary>
    public static string? UndriedIn(string line)
    {
        string[] parts = Identifier.Folded(line).Split(Ends, StringSplitOptions.RemoveEmptyEntries);
        if (Array.Find(parts, IsNotDried) is { } said)
            return said;
        if (parts.Any(part => WordsOf(part).Any(Dry.Contains)) || StateWords.IsOfGround(line))
            return Array.Find(parts, part => Array.Exists(AsItCame, came => part.Contains(came, StringComparison.Ordinal)));
        return Array.Find(parts, part => Array.Exists(AsItCame, came => part.Contains(came, StringComparison.Ordinal))
            || WordsOf(part).Any(WetMasses.Contains) || (WordsOf(part).Any(Wet.Contains) && WordsOf(part).Any(Weighing.Contains)));
    }

    /// <summary>Whether a remark says that litter was weighed without having been dried, or before it was.</summary>
    public static bool IsUndried(string remark) => Array.Exists(Identifier.Folded(remark).Split(Ends,
        StringSplitOptions.RemoveEmptyEntries), IsNotDried);

    // not ... dried, forgot to dry, zu trocknen vergessen, weighed before drying
    private static bool IsNotDried(string part)
    {
        string[] words = WordsOf(part);
        return words.Index().Any(word => Dry.Contains(word.Item)
            && (words[Math.Max(0, word.Index - 4)..word.Index].Any(IsNot)
                || words[(word.Index + 1)..Math.Min(words.Length, word.Index + 3)].Any(IsNot)
                || (words[Math.Max(0, word.Index - 2)..word.Index].Any(Before.Contains) && words.Any(Weighing.Contains)
                    && !words[..word.Index].Any(Wet.Contains) && !words.Any(IsAfter))));
    }

    // wasn't is split at its sign
    private static bool IsNot(string word) => Not.Contains(word) || word is "wasn" or "weren" or "isn" or "didn" or "haven" or "hasn";

    private static bool IsAfter(string word) => word is "after" or "nach" or "nachher" or "despues" or "apres" or "were" or "wurden";

    private static string[] WordsOf(string text) => text.Split(Signs, StringSplitOptions.RemoveEmptyEntries);

    private static string? First((string Drying, string[] Words)[] among, string text)
    {
        string folded = Identifier.Folded(text);
        return among.FirstOrDefault(entry => entry.Words.Any(word => folded.Contains(word, StringComparison.Ordinal))).Drying;
    }
}
