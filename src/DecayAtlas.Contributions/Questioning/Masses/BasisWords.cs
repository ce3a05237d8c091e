namespace DecayAtlas.Contributions.Questioning.Masses;

/// <summary>Whether words of people say that a bag was weighed with its litter (gross) or the litter alone (litter), and of which
/// weighing.</summary>
/// <param name="Basis">gross or litter.</param>
/// <param name="IsUnclear">It names both ways, and only the sender knows which holds.</param>
/// <param name="IsFirst">True of the weighing before burial alone, false of the last alone, null where it names neither or both.</param>
/// <param name="IsOfAll">It says so of all masses.</param>
internal sealed record BasisWords(string Basis, bool IsUnclear, bool? IsFirst, bool IsOfAll)
{
    private static readonly HashSet<string> Without =
    [
        "without", "ohne", "sin", "sans", "off", "removed", "abgenommen", "entfernt", "quitada", "retire", "enleve", "excluding", "minus",
        "abzuglich", "menos", "moins",
    ];

    // words of the trade that mean nothing else, and such as do only beside a mass: in English a net is a bag
    private static readonly HashSet<string> Net = ["netto", "neto", "neta", "netos", "netas"],
        Gross = ["brutto", "bruto", "bruta", "brutos", "brutas"], NetOfMass = ["net", "nets", "nette", "nettes"],
        GrossOfMass = ["gross", "brut", "bruts", "brute", "brutes"];

    private static readonly HashSet<string> Masses = ["pesos", "pesadas", "weighed", "gewogen", "pese", "peses", "pesees", "pesado"];

    private static readonly HashSet<string> Are = ["are", "is", "sind", "ist", "son", "es", "sont", "est"];

    private static readonly HashSet<string> All =
    [
        "all", "alle", "alles", "allen", "samtliche", "every", "jede", "todos", "todas", "todo", "tous", "toutes", "tout",
    ];

    // that mean a weighing in the name of a column, and anything in a sentence
    private static readonly HashSet<string> Little =
    [
        "in", "ein", "von", "from", "out", "aus", "desde", "hasta", "bis", "until", "de", "rein", "raus", "m", "mise", "rest", "start",
        "origin", "t0", "t1", "en", "post", "pre",
    ];

    private static readonly char[] Signs = [' ', ',', '.', '(', ')', ';', ':', '!', '?', '\n', '/', '*', '"'];

    /// <summary>Null where it says nothing of that.</summary>
    public static BasisWords? Of(string text)
    {
        string[] words = Identifier.Folded(text).Split(Signs, StringSplitOptions.RemoveEmptyEntries);
        bool isBag = words.Any(BagOrLitter.Bag.Contains), isNegated = words.Any(BagOrLitter.Not.Contains),
            isTakenOff = isBag && words.Any(BagOrLitter.TakenOff.Contains);
        bool isNet = (isBag && words.Any(Without.Contains)) || (isTakenOff && !isNegated)
            || words.Any(word => Net.Contains(word) || word.StartsWith("netto", StringComparison.Ordinal))
            || IsOfMass(NetOfMass, words) || BagOrLitter.AreLitterAlone(words);
        // a bag with a hole is none that was weighed with it
        bool isGross = (isBag && words.Any(BagOrLitter.Included.Contains)) || words.Index().Any(word => BagOrLitter.With.Contains(word.Item)
                && words.Skip(word.Index + 1).Take(3).Any(BagOrLitter.Bag.Contains)) || (isTakenOff && isNegated)
            || words.Any(word => Gross.Contains(word) || word.StartsWith("brutto", StringComparison.Ordinal))
            || IsOfMass(GrossOfMass, words);
        if (!isNet && !isGross)
            return null;
        HeaderSense sense = HeaderWords.Read(string.Join(' ', words.Where(word => !Little.Contains(word))), null);
        bool isOne = sense.Has(Concept.First) != sense.Has(Concept.Last);
        return new BasisWords(isNet ? "litter" : "gross", isNet && isGross, isOne ? sense.Has(Concept.First) : null,
            !isOne && words.Any(All.Contains));
    }

    // net weight, weights are net: beside a word of a mass, since a torn net is a bag
    private static bool IsOfMass(HashSet<string> of, string[] words) => words.Index().Any(word => of.Contains(word.Item)
        && ((word.Index > 0 && (Are.Contains(words[word.Index - 1]) || IsMass(words[word.Index - 1])))
            || (word.Index + 1 < words.Length && IsMass(words[word.Index + 1]))));

    private static bool IsMass(string word) => Masses.Contains(word) || HeaderWords.Read(word, null).Has(Concept.Mass);
}
