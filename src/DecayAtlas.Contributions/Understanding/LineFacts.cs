using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Understanding;

/// <summary>What a title, remark or footnote says of the bags: days and a position.</summary>
/// <param name="Place">Both coordinates as they are written.</param>
/// <param name="Name">What stands before them, as the name of the place.</param>
internal sealed partial record LineFacts(string? Buried, string? Retrieved, string? Place, string? Name)
{
    private static readonly HashSet<string> From = ["du", "from", "von", "vom", "desde", "del"],
        To = ["au", "to", "bis", "hasta", "al", "until", "–", "-"];

    public static LineFacts Of(string line)
    {
        string? buried = null, retrieved = null;
        int last = 0;
        foreach (Match day in Days().Matches(line))
        {
            string written = day.Value.Trim(' ', ',', '.', ';');
            if (MonthNames.Read(written) is not { } read)
                continue;
            // from 26 May to 31 August 2025: the year stands behind the last
            if (read.Year is null && Year().Match(line, day.Index + day.Length) is { Success: true } year)
                written += " " + year.Value;
            string before = line[last..day.Index];
            last = day.Index + day.Length;
            HeaderSense sense = HeaderWords.Read(before, null);
            string[] words = Identifier.Folded(before).Split([' ', ':', ',', ';', '.'], StringSplitOptions.RemoveEmptyEntries);
            string end = words.LastOrDefault() ?? "";
            bool isRetrieved = sense.Has(Concept.Retrieving) || (sense.Has(Concept.Last) && !sense.Has(Concept.First))
                || (To.Contains(end) && buried is not null);
            bool isBuried = !isRetrieved && (sense.HasAny(Concept.Burying, Concept.First) || From.Contains(end));
            if (isRetrieved)
                retrieved ??= written;
            else if (isBuried)
                buried ??= written;
        }
        (string? name, string? place) = Split(line);
        return new LineFacts(buried, retrieved, place, name);
    }

    /// <summary>The days in a text, as they are written.</summary>
    public static string[] DaysIn(string text) => [.. Days().Matches(text).Select(day => day.Value.Trim(' ', ',', '.', ';'))
        .Where(day => MonthNames.Read(day) is { Year: not null })];

    /// <summary>All positions that stand in a line.</summary>
    public static IEnumerable<Match> PositionsIn(string line) => (Minutes().Count(line) > 0 ? Minutes() : Decimals()).Matches(line)
        .Where(match => PlaceText.PairOf(match.Value) is not null);

    /// <summary>All masses that stand in a line with their unit.</summary>
    public static double[] GramsIn(string line) => [.. Grams().Matches(line).Select(match => double.Parse(
        match.Value.TrimEnd('g', ' ', '\u00A0').Replace(',', '.'), CultureInfo.InvariantCulture)).Distinct()];

    /// <summary>A text that holds a position, as its words before it and the position.</summary>
    public static (string? Name, string? Place) Split(string text)
    {
        // of several positions in one line nobody knows which one is meant
        if (Minutes().Count(text) > 1 || Decimals().Count(text) > 1)
            return (null, null);
        Match match = Minutes().Match(text) is { Success: true } minutes ? minutes : Decimals().Match(text);
        if (!match.Success || PlaceText.PairOf(match.Value) is null)
            return (null, null);
        string name = text[..match.Index].Trim(' ', ',', ';', ':', '(', '-', '–', '/');
        int colon = name.LastIndexOf(':');
        return (colon >= 0 ? name[(colon + 1)..].Trim() : name, match.Value.Trim());
    }

    /// <summary>Whether a line tells what an empty bag weighs: by such a word, or as a bag with all that hangs on it.</summary>
    public static bool IsOfEmptyBag(string line)
    {
        string[] words = Identifier.Folded(line).Split([' ', ',', '.', '(', ')', ';', ':', '=', '/'],
            StringSplitOptions.RemoveEmptyEntries);
        return HeaderWords.Read(line, null).Has(Concept.Tare) || (words.Any(BagWords.Contains) && words.Any(OnBags.Contains));
    }

    private static readonly HashSet<string> BagWords =
        ["bag", "bags", "beutel", "bolsa", "bolsas", "bolsita", "bolsitas", "sachet", "sachets"];

    private static readonly HashSet<string> OnBags =
    [
        "empty", "string", "thread", "label", "tag", "leer", "leere", "leerer", "leeren", "faden", "schnur", "etikett", "schild", "vacia",
        "vacias", "hilo", "cuerda", "cordel", "etiqueta", "vide", "vides", "ficelle", "fil", "etiquette",
    ];

    [GeneratedRegex(
        @"\d{4}-\d{2}-\d{2}|\d{1,2}[./-]\d{1,2}[./-]\d{2,4}|\d{1,2}(st|nd|rd|th|er"
        + @"|\.)? (de )?\p{L}{3,10}\.?,?(( de)? \d{4})?|\p{L}{3,10} \d{1,2},? \d{4}",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Days();

    [GeneratedRegex(@"\b\d{1,3}([.,]\d{1,4})?[ \u00A0]?g\b",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Grams();

    [GeneratedRegex(@"\b(19|20)\d{2}\b", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Year();

    // one optional group in front, not several optional signs: with those the engine passes over matches that are there
    [GeneratedRegex("""([NSEWO]\s?)?\d{1,3}\s?[°º][\d\s.,'"′″’]*[NSEWO]?[\s,;/]+[NSEWO]?\s?\d{1,3}\s?[°º][\d\s.,'"′″’]*[NSEWO]?""",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Minutes();

    [GeneratedRegex(@"([NSEWO]\s?)?-?\d{1,2}[.,]\d{2,}\s?°?\s?[NSEWO]?[\s,;/]+([NSEWO]\s?)?-?\d{1,3}[.,]\d{2,}(\s?°?\s?[NSEWO]\b)?",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Decimals();
}
