namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>Words by which the name of a mass says whether the bag is in it, in four languages.</summary>
internal static class BagOrLitter
{
    public static readonly HashSet<string> Bag =
    [
        "bag", "bags", "net", "beutel", "beutels", "netz", "bolsa", "bolsas", "bolsita", "malla", "sachet", "sachets", "filet", "mesh",
    ];

    public static readonly HashSet<string> TakenOff =
    [
        "deducted", "subtracted", "abgezogen", "subtrahiert", "descontada", "descontado", "descontadas", "restada", "restado", "deduit",
        "deduits", "deduite", "soustrait", "soustraits",
    ];

    public static readonly HashSet<string> With = ["with", "mit", "con", "avec", "incl", "inkl", "including", "samt", "inklusive"];

    public static readonly HashSet<string> Included =
    [
        "included", "mitgewogen", "dabei", "incluida", "incluido", "compris", "comprise", "inclus", "incluse", "inbegriffen",
    ];

    public static readonly HashSet<string> Not = ["not", "nicht", "no", "pas", "non", "never", "nie"];

    private static readonly HashSet<string> MoreBags =
    [
        "litterbag", "litterbags", "streubeutel", "netzbeutel", "beutelchen", "sackchen", "bolsitas", "saquito", "pochette", "pouch",
        "hulle", "hullen", "funda", "enveloppe",
    ];

    // words that stand before the bag
    private static readonly HashSet<string> Without =
        ["without", "ohne", "sin", "sans", "excl", "excluding", "exkl", "minus", "moins", "menos", "abzuglich", "outside", "hors"];

    private static readonly HashSet<string> None = ["no", "kein", "keine", "keinen"];

    private static readonly HashSet<string> Out =
        ["out", "aus", "ausserhalb", "fuera", "sorti", "sortie", "sorties", "sortis", "sacado", "sacada", "retiree", "extraite"];

    private static readonly HashSet<string> Full =
    [
        "full", "filled", "voll", "voller", "volle", "gefullt", "gefullter", "gefullte", "plein", "pleins", "rempli", "remplis", "lleno",
        "llena", "llenas", "rellena",
    ];

    private static readonly HashSet<string> Litter =
    [
        "litter", "leaf", "leaves", "straw", "hay", "streu", "blatter", "laub", "stroh", "heu", "litiere", "feuilles", "paille", "foin",
        "hojarasca", "hojas", "paja",
    ];

    private static readonly HashSet<string> Content =
        ["content", "contents", "inhalt", "contenu", "contenus", "contenido", "contenidos"];

    private static readonly HashSet<string> Only =
    [
        "only", "alone", "just", "nur", "allein", "alleine", "bloss", "reine", "seul", "seule", "seules", "seulement", "uniquement", "solo",
        "sola", "solas", "solamente", "unicamente",
    ];

    private static readonly HashSet<string> And = ["+", "&", "and", "plus", "und", "et", "y", "e"];

    private static readonly HashSet<string> Little =
        ["of", "the", "its", "their", "a", "der", "die", "das", "dem", "den", "des", "du", "de", "la", "le", "les", "las", "los", "el",
            "l", "un", "une"];

    // what a content is of, where it is no litter
    private static readonly HashSet<string> Chemistry =
    [
        "water", "moisture", "ash", "nitrogen", "carbon", "lignin", "wasser", "asche", "stickstoff", "kohlenstoff", "eau", "humidite",
        "cendres", "azote", "carbone", "agua", "humedad", "cenizas", "nitrogeno", "carbono",
    ];

    private static readonly char[] Signs = [' ', ',', '.', '(', ')', ';', ':', '!', '?', '/', '*', '"', '[', ']', '_', '-', '\'', '’'];

    /// <summary>gross where the name says that the bag was weighed with the litter, litter where it says that it was not; null where it
    /// says neither, or both.</summary>
    public static string? BasisOf(string name)
    {
        string[] words = [.. WordsOf(name).Where(word => !Little.Contains(word) || word == "of")];
        int[] bags = [.. Enumerable.Range(0, words.Length).Where(i => IsBag(words[i]))];
        bool isTakenOff = bags.Length > 0 && words.Any(TakenOff.Contains), isIncluded = bags.Length > 0 && words.Any(Included.Contains);
        bool isNegated = words.Any(Not.Contains);
        bool isGross = Array.Exists(bags, bag => IsFull(words, bag) || IsBesideLitter(words, bag)
                || Array.Exists(Before(words, bag, 1), With.Contains)) || (isIncluded && !isNegated) || (isTakenOff && isNegated);
        bool isNet = AreLitterAlone(words) || (isTakenOff && !isNegated) || (isIncluded && isNegated)
            || Array.Exists(bags, bag => IsOutOf(words, bag))
            || (!isGross && words.Any(Content.Contains) && !words.Any(Chemistry.Contains));
        return isGross == isNet ? null : isGross ? "gross" : "litter";
    }

    /// <summary>What the name of a mass calls what was weighed: a bag (gross) or litter; null for neither or both.</summary>
    public static string? NamedIn(string name)
    {
        string[] words = WordsOf(name);
        bool isBag = words.Any(IsBag), isLitter = words.Any(Litter.Contains);
        return isBag ? isLitter && !words.Zip(words.Skip(1)).Any(pair => Litter.Contains(pair.First) && IsBag(pair.Second)) ? null : "gross"
            : isLitter ? "litter" : null;
    }

    /// <summary>Whether words say that nothing but the litter was weighed: litter only, nur die Streu.</summary>
    public static bool AreLitterAlone(string[] words)
    {
        string[] telling = [.. words.Where(word => !Little.Contains(word))];
        return telling.Zip(telling.Skip(1)).Any(pair => (Only.Contains(pair.First) && IsLitter(pair.Second))
            || (IsLitter(pair.First) && Only.Contains(pair.Second)));
    }

    private static bool IsBag(string word) => Bag.Contains(word) || MoreBags.Contains(word);

    private static bool IsLitter(string word) => Litter.Contains(word) || Content.Contains(word);

    private static bool IsFull(string[] words, int bag) => (bag > 0 && Full.Contains(words[bag - 1]))
        || (bag + 1 < words.Length && Full.Contains(words[bag + 1]) && (bag + 2 == words.Length || words[bag + 2] != "in"));

    private static bool IsBesideLitter(string[] words, int bag) =>
        (bag > 1 && IsLitter(words[bag - 2]) && IsJoint(words[bag - 1]))
        || (bag + 2 < words.Length && IsLitter(words[bag + 2]) && IsJoint(words[bag + 1]));

    private static bool IsJoint(string word) => And.Contains(word) || With.Contains(word);

    // without the bag, no bag, out of the bag; dug out, bag is none of these
    private static bool IsOutOf(string[] words, int bag) => Array.Exists(Before(words, bag, 2), word => Without.Contains(word))
        || Array.Exists(Before(words, bag, 1), None.Contains)
        || (bag > 1 && words[bag - 1] == "of" && words[bag - 2] == "out")
        || (bag > 0 && words[bag - 1] is not "out" && Out.Contains(words[bag - 1]));

    private static string[] Before(string[] words, int at, int most) => words[Math.Max(0, at - most)..at];

    private static string[] WordsOf(string name) => Identifier.Folded(name.Replace("+", " + ", StringComparison.Ordinal)
        .Replace("&", " & ", StringComparison.Ordinal)).Split(Signs, StringSplitOptions.RemoveEmptyEntries);
}
