namespace DecayAtlas.Contributions.Vocabularies.Remarks;

/// <summary>What a remark says against the cells beside it.</summary>
internal enum SaidFault
{
    Swapped,
    Day,
    Soil,
    Wrong,

    /// <summary>What stands there was not measured, or not of this bag.</summary>
    Doubt,

    /// <summary>The bag is not to count.</summary>
    Void,
}

/// <summary>Words by which people say that something is not as it stands there, in four languages. Each entry is the beginnings of words
/// that follow each other; one with a full stop is the whole word.</summary>
internal static class FaultWords
{
    private static readonly (SaidFault Fault, string[][] Entries)[] Entries =
    [
        (SaidFault.Swapped, Made(
            "swap; mixed. up.; mix. up.; exchanged; interchang; were. switched; got. switched; switched. round; "
            + "confused; vertausch; verwechsel; verdreht; invers; interverti; echange; confondu; melanges.; melangees.; "
            + "intercambi; confundi; invertid; permut; trocad; cruzad")),
        (SaidFault.Day, Made(
            "later. than.; earlier. than.; spater. als.; fruher. als.; erst. am.; plus. tard. qu; plus. tot. qu; "
            + "mas. tarde.; antes. de. lo.; despues. de. lo.")),
        (SaidFault.Wrong, Made(
            "wrong; incorrect; mistak; inaccurate; not. right.; not. correct; not. true.; uncorrected; not. adjusted; "
            + "broken; faulty; defect; malfunction; error.; errors.; falsch; stimmt. nicht.; stimmen. nicht.; "
            + "stimmt. so. nicht.; nicht. richtig; nicht. korrekt; nicht. korrigiert; unkorrigiert; fehler.; fehlerhaft; "
            + "messfehler; wiegefehler; schreibfehler; tippfehler; ablesefehler; irrtum; defekt; waage. kaputt; "
            + "waage. war. kaputt; waage. ist. kaputt; faux.; fausse; errone; erreur.; erreurs.; pas. bon; pas. juste; "
            + "pas. correct; pas. corrige; pas. ete. corrige; non. corrige; inexact; en. panne.; balance. cassee; "
            + "equivocad; erron; errores.; no. es. correct; no. correct; no. corregi; sin. corregir.; averiad; estropead; "
            + "mal. pesad; mal. escrit; mal. anotad; mal. medid; mal. pese; mal. note; mal. mesure; "
            + "forgot; vergessen; olvid; oublie.; oublies.; oubliee.; oublions.")),
        // what was not measured, or not of this bag
        (SaidFault.Doubt, Made(
            "estimat; guess; copied. from; same. value. as; not. weighed; never. weighed; never. buried; not. buried; spilled; spilt; "
            + "for. both. bags; both. bags. together; in. ounces; not. zeroed; not. tared; no. tare.; dummy.; typo; should. be.; "
            + "filled. twice; into. a. new. bag; into. a. different. bag; illegible; unreadable; by. heart; average. of; made. up.; "
            + "geschatzt; schatzwert; abgeschrieben; nicht. gewogen; nie. gewogen; nie. vergraben; nicht. vergraben; verschuttet; "
            + "beide. beutel. zusammen; in. unzen; nicht. tariert; nicht. genullt; ohne. tara.; umgefullt; unleserlich; unlesbar; "
            + "mittelwert. der; musste. 1.; musste. 2.; musste. 3.; musste. 4.; erfunden; "
            + "estimad; copiad; no. pesad; no. se. peso.; nunca. enterrad; no. enterrad; derram; se. cayo; dos. bolsas. juntas; "
            + "en. onzas; sin. tarar; otra. bolsa.; ilegible; promedio. de; deberia. ser; inventad; "
            + "estime.; estimee.; recopi; copie. sur; non. pese; pas. pese; pas. ete. pese; jamais. enterr; non. enterr; renverse; "
            + "deux. sachets. ensemble; en. onces; non. tare.; non. taree.; autre. sachet; illisible; moyenne. de; devrait. etre; "
            + "invente")),
    ];

    private static readonly string[][] Soil = Made(
        "soil.; earth.; dirt; mud.; muddy; sand.; clay.; erde.; erdreste; erdig; dreck; schmutz; lehm; terre.; boue.; "
        + "tierra.; barro.; lodo.");

    private static readonly string[][] Bags = Made(
        "bag.; bags.; litter.; mesh.; net.; beutel; streu.; netz; sachet; litiere; filet.; bolsa; hojarasca; malla.");

    private static readonly HashSet<string> On =
    [
        "on", "in", "inside", "at", "to", "stuck", "sticking", "am", "an", "im", "auf", "sur", "dans", "collee", "adherente", "en",
        "pegada", "adherida", "a",
    ];

    private static readonly HashSet<string> With =
        ["with", "full", "mit", "voll", "voller", "avec", "plein", "pleine", "con", "lleno", "llena"];

    // said of what was wrong, and is no more
    private static readonly string[][] Mended = Made(
        "corrected; fixed.; korrigiert; berichtigt; behoben; corrige.; corrigee.; corriges.; corrigees.; rectifi; "
        + "corregid");

    private static readonly string[][] Cleaned = Made(
        "removed; brushed; cleaned; washed; entfernt; abgeburstet; gereinigt; gesaubert; abgewaschen; retire; enleve; "
        + "brosse; nettoy; quitad; limpi; lavad; cepillad");

    private static readonly HashSet<string> Not =
    [
        "not", "no", "none", "nothing", "never", "without", "nicht", "nichts", "kein", "keine", "nie", "ohne", "sin", "sans", "pas", "non",
        "rien", "nada", "standard", "std",
    ];

    private static readonly HashSet<string> If = ["if", "when", "please", "falls", "wenn", "bitte", "bei", "si", "cas", "cuando", "caso"];

    /// <summary>What it says is not as it stands there; null where it says none, or that it was set right.</summary>
    public static SaidFault? In(string remark)
    {
        string[] words = WordsOf(remark);
        if (Stands(words, Mended))
            return null;
        foreach ((SaidFault fault, string[][] entries) in Entries)
        {
            if (fault == SaidFault.Wrong && IsSoilOn(words))
                return SaidFault.Soil;
            if (Stands(words, entries) || (fault == SaidFault.Wrong && IsOffBalance(words)))
                return fault;
        }
        return StateWords.IsNotToUse(remark) ? SaidFault.Void : null;
    }

    private static readonly string[][] Off = Made(
        "too. much.; too. high.; too. little.; too. low.; zu. viel.; zu. hoch.; zu. wenig.; zu. niedrig.; zuviel.; zuwenig.; "
        + "de. mas.; de. menos.; de. trop.; trop. haut; trop. bas; en. trop.");

    private static readonly string[][] Balances = Made(
        "balance.; scale.; scales.; waage.; waagen.; balanza; bascula; weighing; weight; masses.; wagung; gewicht; peso.; pesos.; pesad; "
        + "pesee; poids.");

    // the balance shows 0.3 g too much; too much rain is nothing
    private static bool IsOffBalance(string[] words) => Stands(words, Off) && Stands(words, Balances);

    /// <summary>Whether a line beside a table tells what to do in some case, and nothing of what was done.</summary>
    public static bool IsRule(string line) => WordsOf(line).Any(If.Contains);

    // soil on the bag, a bag full of soil; not a bag in the soil
    private static bool IsSoilOn(string[] words)
    {
        if (Stands(words, Cleaned))
            return false;
        for (int i = 0; i < words.Length; i++)
        {
            if (!Array.Exists(Soil, entry => IsAt(words, i, entry)) || IsDenied(words, i))
                continue;
            string[] after = words[(i + 1)..Math.Min(words.Length, i + 6)], before = words[Math.Max(0, i - 4)..i];
            int on = Array.FindIndex(after, On.Contains), with = Array.FindIndex(before, With.Contains);
            if ((on is 0 or 1 && IsAnyBag(after[on..])) || (with >= 0 && IsAnyBag(words[..i])))
                return true;
        }
        return false;
    }

    private static bool IsAnyBag(string[] words) => Enumerable.Range(0, words.Length).Any(i => Array.Exists(Bags, entry =>
        IsAt(words, i, entry)));

    private static bool Stands(string[] words, string[][] entries) => Enumerable.Range(0, words.Length).Any(i =>
        Array.Exists(entries, entry => IsAt(words, i, entry)) && !IsDenied(words, i));

    private static bool IsDenied(string[] words, int at) =>
        (at > 0 && Not.Contains(words[at - 1])) || (at > 1 && Not.Contains(words[at - 2]));

    private static bool IsAt(string[] words, int at, string[] entry)
    {
        if (at + entry.Length > words.Length)
            return false;
        for (int i = 0; i < entry.Length; i++)
        {
            if (entry[i].EndsWith('.') ? words[at + i] != entry[i][..^1] : !words[at + i].StartsWith(entry[i], StringComparison.Ordinal))
                return false;
        }
        return true;
    }

    // the standard error of a mean is no error that somebody made
    private static string[] WordsOf(string text) => Identifier.Folded(text).Replace("erreur-type", "", StringComparison.Ordinal)
        .Replace("erreur type", "", StringComparison.Ordinal).Replace("error estandar", "", StringComparison.Ordinal)
        .Split([' ', ',', '(', ')', '.', '!', '?', ';', ':', '/', '-', '"', '\'', '’', '„', '“', '”', '«', '»', '\n', '\u00a0'],
            StringSplitOptions.RemoveEmptyEntries);

    private static string[][] Made(string entries) => [.. entries.Split("; ").Select(entry => entry.Split(' '))];
}
