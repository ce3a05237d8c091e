using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Layout.Natures;

/// <summary>What of a cell a column holds, where others of its kind hold the rest.</summary>
internal enum CellPart
{
    Whole,
    Mean,
    Spread,
    Count,
    FirstDay,
    LastDay,
}

/// <summary>The two things that one cell holds.</summary>
/// <param name="Unit">What stands behind both numbers; null where nothing does.</param>
/// <param name="IsInBrackets">The second is in brackets, and may be another number than how far the first scatters.</param>
internal sealed partial record CellParts(string First, string Second, string? Unit, bool AreDays, bool IsInBrackets)
{
    /// <summary>The second has a sign of per cent and the first has none: it is of the first where that is a mass.</summary>
    public bool MayBeRelative { get; private init; }

    /// <summary>Of how many it is the mean, where the cell says it: (n = 6).</summary>
    public string? Count { get; private init; }

    private const int Longest = 60;

    // in brackets behind a number stands rather another one of its kind where it is not much smaller (common practice, no source)
    private const double MostOfNumber = 0.5;

    private static readonly string[] Signs = ["±", "+/-", "+/−", "+-"];

    // those with blanks first: a dash may also stand within a day
    private static readonly string[] Between =
    [
        " – ", " — ", " - ", " → ", " to ", " until ", " till ", " bis ", " au ", " jusqu’au ", " al ", " hasta ", " a ", " / ", "–", "—",
        "→", "..", "-", "/",
    ];

    private static readonly HashSet<string> Before = ["from", "von", "vom", "du", "de", "del", "desde", "le"];

    /// <summary>1.69 ± 0.11, 1,69±0,11 g, 1.69 (0.11): null for anything else.</summary>
    public static CellParts? MeanIn(SheetCell cell)
    {
        if (cell.Kind != SheetCellKind.Text || cell.Text.Length > Longest)
            return null;
        string text = cell.Text.Replace('\u00A0', ' ').Replace('\u202F', ' ').Trim();
        if (OfSeveral().Match(text) is { Success: true, Index: > 0 } several)
        {
            string before = text[..several.Index];
            // 1.69 (0.11, n = 5)
            bool isInside = before.Contains('(', StringComparison.Ordinal) && !before.Contains(')', StringComparison.Ordinal);
            return MeanIn(SheetCell.OfText(isInside ? before + ")" : before)) is { } parts
                ? parts with { Count = several.Groups["n"].Value } : null;
        }
        string? sign = Array.Find(Signs, known => text.Contains(known, StringComparison.Ordinal));
        int at = sign is null ? text.IndexOf('(', StringComparison.Ordinal) : text.IndexOf(sign, StringComparison.Ordinal);
        if (at <= 0 || (sign is null && !text.EndsWith(')')))
            return null;
        (string mean, string? ofMean) = Split(text[..at].TrimStart('('));
        string behind = WithoutLetters(text[(at + (sign?.Length ?? 1))..].Replace(")", "", StringComparison.Ordinal));
        if (sign is null && Number(mean) is { } middle && HalfOf(middle, behind) is { } half)
            return new CellParts(mean, half, ofMean, false, false);
        (string spread, string? ofSpread) = Split(behind);
        if (Number(mean) is not { } value || Number(spread) is not { } scatter || (ofMean ?? ofSpread) != (ofSpread ?? ofMean)
            || (sign is null && !(scatter < MostOfNumber * Math.Abs(value))))
        {
            return null;
        }
        return new CellParts(mean, spread, ofMean ?? ofSpread, false, sign is null) { MayBeRelative = ofMean is null && ofSpread == "%" };
    }

    /// <summary>How far it scatters as a number of its kind, where it was given in per cent of it.</summary>
    public CellParts OfItself() => this with
    {
        Second = (Number(First)!.Value * Number(Second)!.Value / 100).ToString("0.########", CultureInfo.InvariantCulture),
        Unit = null,
    };

    // 1.69 (1.55–1.85): of an interval the wider half
    private static string? HalfOf(double middle, string interval) => Interval().Match(interval) is { Success: true } ends
        && Number(ends.Groups["from"].Value) is { } from && Number(ends.Groups["to"].Value) is { } to && from <= middle && middle <= to
        ? Math.Max(middle - from, to - middle).ToString("0.########", CultureInfo.InvariantCulture) : null;

    [GeneratedRegex(@"\A\s*(?<from>\d[\d.,]*)\s*(–|—|-|;|to|bis|à|a|,\s)\s*(?<to>\d[\d.,]*)\s*\z",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Interval();

    [GeneratedRegex(@"\s*[(\[,;]?\s*[nN]\s*=\s*(?<n>\d{1,3})\s*[)\]]?\z",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex OfSeveral();

    // means that do not differ have the same letters behind them
    private static string WithoutLetters(string text)
    {
        string plain = text.Trim();
        int blank = plain.LastIndexOf(' ');
        return blank > 0 && plain.Length - blank <= 4 && plain[(blank + 1)..].All(c => c is >= 'a' and <= 'f') ? plain[..blank] : plain;
    }

    /// <summary>12.05.2025 – 14.08.2025, 12 May to 14 Aug 2025: null for anything else.</summary>
    public static CellParts? DaysIn(SheetCell cell)
    {
        if (cell.Kind != SheetCellKind.Text || cell.Text.Length > Longest)
            return null;
        string text = cell.Text.Replace('\u00A0', ' ').Trim();
        if (text.IndexOf(' ', StringComparison.Ordinal) is > 0 and int blank && Before.Contains(text[..blank].ToLowerInvariant()))
            text = text[blank..].Trim();
        foreach (string sign in Between)
        {
            if (text.Split(sign, StringSplitOptions.TrimEntries) is not [string first, string last]
                || MonthNames.Read(first) is not { } from || MonthNames.Read(last) is not { } to)
            {
                continue;
            }
            // 1.5-2.3 are numbers
            bool areDays = to.Year is not null || (from.IsNamed && to.IsNamed) || (last.EndsWith('.') && first.EndsWith('.'))
                || (last.Contains('/', StringComparison.Ordinal) && first.Contains('/', StringComparison.Ordinal));
            return areDays ? new CellParts(from.Year is null && to.Year is { } year ? WithYear(first, from, to, year) : first, last, null,
                true, false) : null;
        }
        return null;
    }

    // the year stands behind the last day alone; where the first would be later than that in any order, it is of the year before
    private static string WithYear(string first, WrittenDay from, WrittenDay to, int year)
    {
        bool isLater = from.IsNamed || to.IsNamed ? IsLater(from.Second, from.First, to.Second, to.First)
            : (from.Second > 12 || to.Second > 12 || IsLater(from.Second, from.First, to.Second, to.First))
                && (from.First > 12 || to.First > 12 || IsLater(from.First, from.Second, to.First, to.Second));
        string written = Invariant($"{year - (isLater ? 1 : 0):00}");
        char sign = first.FirstOrDefault(c => c is '.' or '/' or '-', ' ');
        return from.IsNamed ? $"{first} {written}" : $"{first.TrimEnd('.', '/', '-', ' ')}{sign}{written}";

        static bool IsLater(int month, int day, int otherMonth, int otherDay) => (month, day).CompareTo((otherMonth, otherDay)) > 0;
    }

    private static (string Number, string? Unit) Split(string text)
    {
        string plain = text.Trim();
        int end = plain.Length;
        while (end > 0 && !char.IsAsciiDigit(plain[end - 1]))
            end--;
        string unit = plain[end..].Trim();
        return unit.Length == 0 ? (plain, null) : LayoutWords.IsUnit(unit) ? (plain[..end], unit) : ("", null);
    }

    private static double? Number(string text) => CellNumber.Of(SheetCell.OfText(text))?.Value;
}
