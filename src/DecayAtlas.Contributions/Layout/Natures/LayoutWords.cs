using System.Globalization;
using System.Text;

namespace DecayAtlas.Contributions.Layout.Natures;

/// <summary>Words of four languages by which people mark what is no row of a table.</summary>
internal static class LayoutWords
{
    private static readonly HashSet<string> MissingSigns = new(StringComparer.OrdinalIgnoreCase)
    {
        "-", "–", "—", "--", "---", "/", "?", "??", "x", ".", "..", "…", "*", "na", "n/a", "n.a.", "nd", "n.d.", "k.a.", "k. a.", "s/d",
        "nan", "null", "#n/a",
    };

    private static readonly HashSet<string> Units = new(StringComparer.OrdinalIgnoreCase)
    {
        "g", "gr", "mg", "kg", "µg", "gramm", "gram", "grams", "gramme", "grammes", "gramo", "gramos", "cm", "mm", "m", "km", "µm", "um",
        "in", "ft", "inch", "m asl", "m a.s.l.", "msnm", "m ü. m.", "m ü. nn", "%", "percent", "prozent", "‰", "°c", "° c", "ºc", "celsius",
        "°", "º", "grad", "deg", "degrees", "grados", "degrés", "d", "day", "days", "tag", "tage", "tagen", "jour", "jours", "dia", "días",
        "día", "dias", "h", "wochen", "weeks", "semaines", "semanas", "1/d", "/d", "d-1", "d^-1", "d⁻¹", "1/day", "per day", "1/tag",
        "jour-1", "° n", "° s", "° e", "° w", "° o", "°n", "°s", "°e", "°w", "°o", "g/g", "mg/g", "g/kg", "mg/kg", "m2", "m²", "ha",
        "oz",
    };

    // Further words that stand in a row of units, but say nothing by themselves.
    private static readonly HashSet<string> BesideUnits = new(StringComparer.OrdinalIgnoreCase)
    {
        "-", "–", "text", "texte", "texto", "id", "nr", "no", "n°", "#", "date", "datum", "fecha", "ja/nein", "yes/no", "oui/non", "sí/no",
        "code", "name", "j/n", "y/n",
    };

    private static readonly string[] Months =
    [
        "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec", "jän", "mär", "mrz", "mai", "okt", "dez", "jän",
        "fév", "fev", "avr", "juin", "juil", "aoû", "aou", "déc", "ene", "abr", "ago", "dic", "set",
    ];

    private static readonly HashSet<string> Aggregates =
    [
        "mittelwert", "mittelwerte", "mittel", "mw", "durchschnitt", "schnitt", "mean", "means", "average", "averages", "avg", "total",
        "totals", "sum", "summe", "gesamt", "gesamtsumme", "insgesamt", "moyenne", "moyennes", "moy", "somme", "totaux", "media", "medias",
        "promedio", "prom", "suma", "totales", "sd", "stdev", "stddev", "std", "stabw", "standardabweichung", "ecart-type", "ecart",
        "desviacion", "desv", "de", "se", "sem", "median", "mediane", "mediana", "n", "anzahl", "count", "nombre", "numero", "min", "max",
        "minimum", "maximum", "minimo", "maximo", "zwischensumme", "subtotal", "sous-total",
    ];

    // A pupil may be called Max, and a row of one number n.
    private static readonly HashSet<string> MayBeNames = ["min", "max", "std", "moy", "nombre", "numero", "count", "anzahl"];

    private static readonly HashSet<string> Dittos = new(StringComparer.OrdinalIgnoreCase)
    {
        "\"", "''", "″", "”", "“", "„", "〃", ",,", "-\"-", "- \" -", "\"\"", "ditto", "dito", "do.", "idem", "ídem", "id.", "ebenso",
        "s.o.", "s. o.", "wie oben", "as above", "same", "igual", "↓", "’’", "´´",
    };

    private static readonly string[] Examples =
    [
        "beispiel", "bsp", "example", "exemple", "ejemplo", "muster", "sample row",
    ];

    private static readonly string[] Remarks =
    [
        "note", "remark", "comment", "bemerk", "notiz", "anmerk", "kommentar", "remarqu", "commentaire", "observ", "nota", "comentario",
        "hinweis", "status", "zustand", "condition", "etat", "estado",
    ];

    public static bool IsMissing(ReadOnlySpan<char> text) =>
        text.Length <= 5 && MissingSigns.GetAlternateLookup<ReadOnlySpan<char>>().Contains(text);

    public static bool IsUnit(ReadOnlySpan<char> text) => text.Length <= 12
        && Units.GetAlternateLookup<ReadOnlySpan<char>>().Contains(text);

    public static bool IsDitto(ReadOnlySpan<char> text) => text.Length <= 9
        && Dittos.GetAlternateLookup<ReadOnlySpan<char>>().Contains(text);

    public static bool IsMonth(ReadOnlySpan<char> word)
    {
        if (word.Length is < 3 or > 10)
            return false;
        foreach (string month in Months)
        {
            if (word.StartsWith(month, StringComparison.OrdinalIgnoreCase))
                return true;
        }
        return false;
    }

    /// <summary>The unit that a cell of a row of units names, null where it names none.</summary>
    public static string? UnitIn(string text)
    {
        string plain = text.Trim().Trim('(', ')', '[', ']').Trim();
        if (plain.StartsWith("in ", StringComparison.OrdinalIgnoreCase))
            plain = plain[3..].Trim();
        return IsUnit(plain) || IsDateForm(plain) || IsSide(plain) || RateUnits.Is(plain) ? plain : null;
    }

    /// <summary>A side of the Earth, as it stands below the name of a coordinate; alone in its row it may be anything.</summary>
    public static bool IsSide(string text) => Sides.Contains(Fold(text).Trim('°', 'º', ' ', '.'));

    private static readonly HashSet<string> Sides =
    [
        "n", "s", "e", "w", "o", "nord", "sud", "ost", "west", "norden", "suden", "osten", "westen", "north", "south", "east", "norte",
        "sur", "este", "oeste", "est", "ouest",
    ];

    /// <summary>Units that a mass of litter is written in.</summary>
    public static bool IsUnitOfMass(string? unit) => unit?.ToUpperInvariant() is "G" or "MG" or "OZ";

    public static bool MayStandBesideUnits(string text) =>
        UnitIn(text) is not null || BesideUnits.Contains(text.Trim().Trim('(', ')', '[', ']').Trim());

    // TT.MM.JJJJ, dd/mm/yyyy, jj-mm-aaaa
    private static bool IsDateForm(string text) => text.Length is >= 5 and <= 10 && text.AsSpan().ContainsAny('.', '/', '-')
        && text.All(c => "dmyjatDMYJATg./- ".Contains(c, StringComparison.Ordinal)) && text.Count(char.IsLetter) >= 5;

    /// <summary>Whether a row that begins so holds what was computed of others; weak where the row itself must bear it out.</summary>
    public static (bool Is, bool IsWeak) Aggregate(string text)
    {
        if (text.Length > 60)
            return (false, false);
        // signs that folding takes away: Ø 8a, x̄ of the class; a pot may be Ø 8 cm
        if (text.TrimStart() is ['Ø' or 'ø' or '⌀', ..] or ['x' or 'X', '\u0304' or '\u0305', ..])
            return (true, text.Trim().Length > 2);
        string folded = Fold(text).Trim(' ', ':', '=', '(', ')', '.', '*', 'x' == text[0] ? 'x' : ' ');
        int end = folded.IndexOfAny([' ', ':', '(', ',', '/', '±', '=']);
        string first = (end < 0 ? folded : folded[..end]).Trim('.', ':', '-');
        first = first is "s.d" ? "sd" : first is "s.e" ? "se" : first;
        bool isWeak = end >= 0 || first.Length < 3 || MayBeNames.Contains(first);
        if (Aggregates.Contains(first))
            return (true, isWeak && first is not ("sd" or "mw"));
        // class mean, Klassenmittel, promedio is first: the numbers must bear it out
        string last = folded[(folded.LastIndexOf(' ') + 1)..];
        return (Array.Exists(AggregateEnds, word => first.EndsWith(word, StringComparison.Ordinal)
            || last.EndsWith(word, StringComparison.Ordinal)), true);
    }

    private static readonly string[] AggregateEnds =
    [
        "mean", "means", "average", "avg", "total", "mittel", "mittelwert", "schnitt", "summe", "ges", "gesamt", "moyenne", "promedio",
        "suma",
    ];

    public static bool IsExample(string text) =>
        text.Length <= 40 && Fold(text).Trim('(', '[', ' ') is var folded && Array.Exists(Examples, word => folded.StartsWith(word,
            StringComparison.Ordinal));

    public static bool IsLegend(string text) =>
        text.Length <= 20 && Fold(text).TrimEnd(':',
            ' ') is "legende" or "legend" or "leyenda" or "key" or "farben" or "colours" or "colors"
            or "couleurs" or "colores" or "clave de colores" or "codigo de colores";

    public static bool IsOfRemarks(string name) => Fold(name) is var folded
        && Array.Exists(Remarks, word => folded.Contains(word, StringComparison.Ordinal));

    /// <summary>Whether a name is of what a table of bags is about: masses, what remained, or k and S.</summary>
    public static bool IsOfMass(string name)
    {
        string[] words = Fold(name).Split([' ', '(', ')', '[', ']', '_', '.', ',', '/', '-', ':'], StringSplitOptions.RemoveEmptyEntries);
        return Array.Exists(words, word => Masses.Contains(word) || word.EndsWith("gewicht", StringComparison.Ordinal)
            || word.EndsWith("masse", StringComparison.Ordinal) || word.StartsWith("gewicht", StringComparison.Ordinal));
    }

    private static readonly HashSet<string> Masses =
    [
        "mass", "masse", "masa", "weight", "wt", "gewicht", "poids", "peso", "g", "mg", "gramm", "grams", "gramos", "grammes", "k", "s",
        "m0", "m1", "mt", "oz", "remaining", "rest", "reste", "brutto", "netto", "gross", "net",
    ];

    /// <summary>Whether a name says that what is below it are masses by their unit.</summary>
    public static bool IsInGrams(string name) => Fold(name).Split([' ', '(', ')', '[', ']', ',', ';', ':'],
        StringSplitOptions.RemoveEmptyEntries).Any(word => word is "g" or "mg" or "oz" or "gramm" or "grams" or "gramos" or "grammes");

    /// <summary>Whether a text says that numbers are means with how far they scatter.</summary>
    public static bool IsOfScatter(string text) => text.Contains('±', StringComparison.Ordinal)
        || text.Split([' ', '(', ')', '[', ']', '_', ',', '/', ':', ';', '+'], StringSplitOptions.RemoveEmptyEntries)
            .Any(word => Scatters.Contains(Fold(word)) || word is "DE" or "EE" or "ET" or "DS" or "KI" or "CI" or "IC");

    private static readonly HashSet<string> Scatters =
    [
        "sd", "s.d.", "se", "s.e.", "sem", "stdev", "stabw", "std", "mean", "means", "mw", "mittelwert", "mittelwerte", "moyenne",
        "moyennes", "media", "medias", "promedio", "promedios", "standardfehler", "standardabweichung", "ecart-type", "desviacion",
    ];

    /// <summary>Whether a name says that something is before, or after, what is done once: buried and dug up.</summary>
    public static bool IsBeforeOrAfter(string name) => Fold(name) is var folded && Array.Exists(BeforeAndAfter,
        word => folded.Contains(word, StringComparison.Ordinal));

    private static readonly string[] BeforeAndAfter =
    [
        "vorher", "nachher", "eingrab", "vergrab", "ausgrab", "bergung", "ernte", "before", "after", "burial", "bury", "retriev", "harvest",
        "dig", "avant", "apres", "enfou", "enterr", "recolte", "recup", "deterr", "antes", "despues", "entierro", "recogida", "recuper",
        "desenter", "cosecha", "start", "end", "initial", "final", "hin", "zuruck", "einbau", "ausbau", "pesee",
    ];

    /// <summary>Of which weighing a few words speak: 0 of that before burial, 1 of that after digging up, 2 of the empty bag.</summary>
    public static int? WeighingIn(string text)
    {
        if (text.Length > 60)
            return null;
        string[] words = Fold(text).Split([' ', '(', ')', '[', ']', '_', '.', ',', '/', '-', ':'], StringSplitOptions.RemoveEmptyEntries);
        int kind = Array.FindIndex(Weighings, known => Array.Exists(words, known.Contains));
        return kind < 0 || Weighings.Count(known => Array.Exists(words, known.Contains)) > 1 ? null : kind;
    }

    private static readonly HashSet<string>[] Weighings =
    [
        ["before", "initial", "initiale", "first", "start", "begin", "beginning", "burial", "buried", "burying", "vorher", "vor", "anfang",
            "beginn", "einwaage", "erste", "eingraben", "eingegraben", "vergraben", "einbau", "avant", "debut", "depart", "premiere",
            "enfouissement", "enfoui", "antes", "inicial", "inicio", "primera", "entierro", "enterrar", "t0"],
        ["after", "final", "finale", "last", "end", "second", "retrieval", "retrieved", "dug", "digging", "harvest", "nachher", "nach",
            "ende", "auswaage", "zweite", "letzte", "ausgraben", "ausgegraben", "ausbau", "bergung", "apres", "fin", "derniere",
            "deuxieme", "deterrage", "deterre", "recolte", "despues", "ultima", "segunda", "desentierro", "desenterrar", "recogida", "t1"],
        ["empty", "leer", "leergewicht", "leerbeutel", "tara", "tare", "vide", "vacia", "vacio"],
    ];

    /// <summary>Small letters without accents and with single spaces.</summary>
    public static string Fold(string text)
    {
        StringBuilder folded = new(text.Length);
        foreach (char c in text)
        {
            // by a table of our own: where a program runs without the data of languages, as in a browser, none is taken apart
            if (CharUnicodeInfo.GetUnicodeCategory(c) == UnicodeCategory.NonSpacingMark)
                continue;
            if (!char.IsWhiteSpace(c))
                folded.Append(c < '\u0080' || c == 'ß' ? char.ToLowerInvariant(c).ToString() : Identifier.Folded(c.ToString()));
            else if (folded.Length > 0 && folded[^1] != ' ')
                folded.Append(' ');
        }
        return folded.ToString().Trim();
    }
}
