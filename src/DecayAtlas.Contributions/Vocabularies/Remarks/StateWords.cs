namespace DecayAtlas.Contributions.Vocabularies.Remarks;

/// <summary>Words for what became of a bag, for nothing, and for yes and no, in four languages.</summary>
internal static class StateWords
{
    private static readonly Dictionary<string, string> Conditions = Made(
        ("lost", "lost missing gone perdio perdieron verloren verlust weg fehlt vermisst perdu perdue perdus perdida perdido "
            + "manquant manquante manquants manquantes ausente faltante absent absente fehlend perdidas falta disparu "
            + "disparue introuvable "
            + "gestohlen stolen robada desaparecida not_found nicht_gefunden no_encontrada n_gefunden nicht_da no_aparece "
                + "no_aparecio nicht_auffindbar pas_trouve pas_retrouve non_retrouve unauffindbar"),
        ("torn", "torn ripped damaged hole holes gerissen riss zerrissen beschadigt kaputt loch angefressen rota roto rotura dechire "
            + "dechiree troue "
            + "abime gnawed ronge rongee danada agujero"),
        ("roots", "roots root rooted ingrown wurzeln wurzel durchwurzelt bewurzelt eingewurzelt racines raices enraizada enracine"),
        ("intact", "intact ok okay whole heil ganz unversehrt in_ordnung gut good entera intacta intacto intacte bien complete"));

    private static readonly HashSet<string> Nothing =
        ["-", "–", "—", "--", "?", "??", "na", "n/a", "n.a.", "n.a", "nd", "n.d.", "nan", "null", "x", "/", "k.a.", "s.d.", "s/d", "leer",
            "."];

    private static readonly HashSet<string> Yes = ["yes", "ja", "j", "y", "si", "s", "oui", "o", "true", "1", "x", "wahr", "vrai",
        "verdadero"];

    private static readonly HashSet<string> No = ["no", "nein", "n", "non", "false", "0", "falsch", "faux", "falso", "-", ""];

    /// <summary>The condition that a text names in whole or among other words; null for none.</summary>
    public static string? ConditionOf(string text)
    {
        string folded = Identifier.Folded(text);
        string joined = "_" + string.Join('_', folded.Split([' ', ',', '(', ')', '.', '!', '?', ';', ':', '/'],
            StringSplitOptions.RemoveEmptyEntries)) + "_";
        foreach ((string word, string condition) in Conditions)
        {
            if (joined.Contains($"_{word}_", StringComparison.Ordinal))
                return condition;
        }
        return null;
    }

    /// <summary>torn or roots where a remark tells of such a bag; null where it does not, or says that it was not so.</summary>
    public static string? DamageIn(string remark)
    {
        string[] words = [.. Identifier.Folded(remark).Split(
            [' ', ',', '(', ')', '.', '!', '?', ';', ':', '/', '-', '"', '\''], StringSplitOptions.RemoveEmptyEntries)];
        for (int i = 0; i < words.Length; i++)
        {
            if (Conditions.GetValueOrDefault(words[i]) is not ("torn" or "roots") || (i > 0 && Not.Contains(words[i - 1]))
                || (i > 1 && Not.Contains(words[i - 2])))
            {
                continue;
            }
            // hole 3 is where the bag lay, a hole is in it
            if (!AlsoPlaces.Contains(words[i]) || (i > 0 && InIt.Contains(words[i - 1])))
                return Conditions[words[i]];
        }
        return null;
    }

    /// <summary>Whether a remark tells of a bag that was lost, and not of its label.</summary>
    public static bool IsLossIn(string remark)
    {
        string[] words = [.. Identifier.Folded(remark).Split(
            [' ', ',', '(', ')', '.', '!', '?', ';', ':', '/', '-', '"', '\''], StringSplitOptions.RemoveEmptyEntries)];
        return !words.Any(Labels.Contains) && words.Index().Any(word => (Losses.Contains(word.Item)
                && !(word.Index > 0 && Not.Contains(words[word.Index - 1])))
            || (Findings.Contains(word.Item) && words[..word.Index].Any(Not.Contains)));
    }

    private static readonly HashSet<string> Losses =
    [
        "lost", "verloren", "perdu", "perdue", "perdus", "perdida", "perdido", "introuvable", "unauffindbar", "stolen", "gestohlen", "vole",
        "robada", "desaparecida", "disparu",
    ];

    private static readonly HashSet<string> Findings = ["found", "gefunden", "wiedergefunden", "trouve", "retrouve", "encontrada",
        "encontrado"];

    private static readonly HashSet<string> Labels = ["label", "tag", "etikett", "schild", "etiquette", "etiqueta"];

    /// <summary>Whether a remark says that litter was weighed while it was wet, and not that the soil was.</summary>
    public static bool IsWeighedWetIn(string remark)
    {
        string[] words = [.. Identifier.Folded(remark).Split(
            [' ', ',', '(', ')', '.', '!', '?', ';', ':', '/', '-', '"', '\''], StringSplitOptions.RemoveEmptyEntries)];
        if (words.Any(Grounds.Contains))
            return false;
        return words.Index().Any(word => Wet.Contains(word.Item) && !(word.Index > 0 && Not.Contains(words[word.Index - 1])))
            ? words.Any(word => Weighed.Contains(word) || Still.Contains(word))
            : words.Index().Any(word => Dry.Contains(word.Item) && words[..word.Index].Any(Not.Contains))
                && words.Any(Weighed.Contains);
    }

    /// <summary>Whether a remark on a weighing says wet, or a remark says nothing else.</summary>
    public static bool IsWetIn(string remark, bool isOfWeighing)
    {
        string[] words = [.. Identifier.Folded(remark).Split(
            [' ', ',', '(', ')', '.', '!', '?', ';', ':', '/', '-', '"', '\''], StringSplitOptions.RemoveEmptyEntries)];
        return !words.Any(Grounds.Contains)
            && words.Index().Any(word => Wet.Contains(word.Item) && !(word.Index > 0 && Not.Contains(words[word.Index - 1])))
            && (isOfWeighing || Array.TrueForAll(words, word => Wet.Contains(word) || HowWet.Contains(word)));
    }

    /// <summary>Whether a remark says dry and nothing else.</summary>
    public static bool IsDryIn(string remark) => Dry.Contains(Identifier.Folded(remark).Trim(' ', '.', '!'));

    private static readonly HashSet<string> HowWet =
    [
        "very", "a", "bit", "slightly", "still", "quite", "bag", "litter", "sehr", "etwas", "noch", "leicht", "ziemlich", "beutel", "streu",
        "tres", "un", "peu", "encore", "assez", "sachet", "litiere", "muy", "poco", "aun", "todavia", "algo", "bolsa", "hojarasca",
    ];

    private static readonly HashSet<string> Wet =
    [
        "wet", "damp", "moist", "undried", "feucht", "nass", "ungetrocknet", "humide", "mouille", "mouillee", "humedo", "humeda", "mojado",
        "mojada", "humedos", "humedas", "humides",
    ];

    private static readonly HashSet<string> Dry =
        ["dry", "dried", "trocken", "getrocknet", "sec", "seche", "sechee", "seco", "seca", "secado"];

    private static readonly HashSet<string> Weighed =
    [
        "weighed", "weighing", "weight", "gewogen", "wiegen", "pese", "pesee", "pesees", "peses", "pesado", "pesada", "pesados", "pesadas",
        "peso",
    ];

    private static readonly HashSet<string> Still = ["still", "noch", "encore", "aun", "todavia"];

    /// <summary>Whether a name says that it is of the ground: soil moisture, Bodenfeuchte.</summary>
    public static bool IsOfGround(string name) => Identifier.Folded(name).Split([' ', '_', '(', ')', '-', '/', '.'])
        .Any(word => Grounds.Contains(word) || word.StartsWith("boden", StringComparison.Ordinal));

    private static readonly HashSet<string> Grounds =
    [
        "soil", "ground", "field", "meadow", "boden", "erde", "wiese", "sol", "terre", "prairie", "suelo", "tierra", "prado",
    ];

    /// <summary>Whether a remark or legend says that something is not to count.</summary>
    public static bool IsNotToUse(string remark)
    {
        string folded = Identifier.Folded(remark);
        return Array.Exists(NotToUse, word => folded.Contains(word, StringComparison.Ordinal));
    }

    private static readonly HashSet<string> Not = ["not", "no", "none", "nicht", "kein", "keine", "ohne", "sin", "sans", "pas", "non"];

    private static readonly HashSet<string> AlsoPlaces = ["hole", "holes", "loch", "agujero", "root", "wurzel"];

    private static readonly HashSet<string> InIt =
    [
        "a", "has", "with", "small", "big", "ein", "mit", "hat", "kleines", "grosses", "un", "con", "tiene", "pequeno", "gran",
    ];

    private static readonly string[] NotToUse =
    [
        "nicht verwenden", "nicht benutzen", "nicht werten", "nicht mitzahlen", "ungultig", "ausgeschlossen", "verworfen", "verwerfen",
        "not use", "don't use", "dont use", "not to be used", "invalid", "excluded", "exclude", "discard", "rejected", "no usar",
        "no utilizar", "no valid", "descartad", "descartar", "anulad", "ne pas utiliser", "ne pas prendre", "a ecarter", "ecarte",
        "a rejeter", "rejete", "exclu", "gilt nicht", "gelten nicht", "zahlt nicht", "zahlen nicht", "nicht zahlen", "nicht beachten",
        "ignorieren", "annulliert", "zeile loschen", "bitte loschen", "ignore this", "ignore row", "please ignore", "does not count",
        "doesn't count", "do not count", "don't count", "not to be counted", "delete this", "please delete", "void", "no contar",
        "no cuenta", "no cuentan", "no vale", "borrar esta", "borrar fila", "ignorar", "anular", "ne pas compter", "ne compte pas",
        "ne comptent pas", "non valable", "pas valable", "non valide", "annule", "a supprimer", "a effacer", "ignorer",
    ];

    /// <summary>Whether a text stands where no value is: a sign for nothing, or a word for lost.</summary>
    public static bool IsNoValue(string text) => IsNothing(text) || (ConditionOf(text) == "lost" && !text.Any(char.IsAsciiDigit));

    public static bool IsNothing(string text) => Nothing.Contains(Identifier.Folded(text));

    /// <summary>A sign that says nothing of why there is no value.</summary>
    public static bool IsDoubtful(string text) => text.Contains('?', StringComparison.Ordinal);

    public static bool? YesOrNo(string text)
    {
        string folded = Identifier.Folded(text.Trim());
        return Yes.Contains(folded) ? true : No.Contains(folded) ? false : null;
    }

    private static Dictionary<string, string> Made(params (string Condition, string Words)[] entries) =>
        entries.SelectMany(entry => entry.Words.Split(' ').Select(word => (word, entry.Condition))).ToDictionary();
}
