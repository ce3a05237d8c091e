using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Layout.Natures;

/// <summary>A day as people write it, in the order of its parts.</summary>
/// <param name="First">The day where <paramref name="IsNamed"/> or <paramref name="IsYearFirst"/>; else day or month.</param>
/// <param name="Year">Null where none is written; two digits as they stand.</param>
internal sealed record WrittenDay(int First, int Second, int? Year, bool IsNamed, bool IsYearFirst, bool IsShortYear);

/// <summary>Reads days with the names of months in four languages, whole or short: 12 mai 2025, May 19, 2025, 3. Juni, 12-oct-25, 12th
/// May.</summary>
internal static partial class MonthNames
{
    // the letters that no other month of the language begins with; longer ones first where one begins another
    private static readonly (string Start, int Month)[] Starts =
    [
        ("jan", 1), ("jän", 1), ("ene", 1), ("fe", 2), ("fé", 2), ("mär", 3), ("maer", 3), ("mrz", 3), ("mar", 3), ("apr", 4), ("avr", 4),
        ("abr", 4), ("mai", 5), ("may", 5), ("juin", 6), ("jun", 6), ("juil", 7), ("jul", 7), ("aug", 8), ("aoû", 8), ("aou", 8),
            ("ago", 8),
        ("sep", 9), ("set", 9), ("okt", 10), ("oct", 10), ("nov", 11), ("dez", 12), ("dec", 12), ("déc", 12), ("dic", 12),
    ];

    public static int? MonthOf(string word)
    {
        string small = word.ToLowerInvariant().TrimEnd('.');
        foreach ((string start, int month) in Starts)
        {
            if (small.StartsWith(start, StringComparison.Ordinal) && small.Length <= 10)
                return month;
        }
        return null;
    }

    /// <summary>A day in numbers or with a month's name; null for anything else.</summary>
    public static WrittenDay? Read(string text)
    {
        string plain = text.Trim();
        Match numbers = Numbers().Match(plain);
        if (numbers.Success)
        {
            string first = numbers.Groups["a"].Value, third = numbers.Groups["c"].Value;
            int a = Number(first), b = Number(numbers.Groups["b"].Value);
            if (first.Length == 4)
                return third.Length is 1 or 2 ? new WrittenDay(Number(third), b, a, false, true, false) : null;
            int? year = third.Length == 0 ? null : Number(third);
            return first.Length <= 2 && third.Length is 0 or 2 or 4 ? new WrittenDay(a, b, year, false, false, third.Length == 2) : null;
        }
        Match named = DayFirst().Match(plain) is { Success: true } dayFirst ? dayFirst : MonthFirst().Match(plain);
        if (!named.Success || MonthOf(named.Groups["month"].Value) is not { } month)
            return null;
        string written = named.Groups["year"].Value;
        return new WrittenDay(Number(named.Groups["day"].Value), month, written.Length == 0 ? null : Number(written), true, false,
            written.Length == 2);
    }

    private static int Number(string digits) => int.Parse(digits, NumberStyles.None, CultureInfo.InvariantCulture);

    [GeneratedRegex("""\A(?<a>\d{1,4})\s*[-/.]\s*(?<b>\d{1,2})(\s*[-/.]\s*(?<c>\d{0,4}))?([T ]\d{1,2}:\d{2}(:\d{2}(\.\d+)?)?)?\z""",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex Numbers();

    [GeneratedRegex(
        """\A(\p{L}{2,10}[.,]?\s+)?(?<day>\d{1,2})(st|nd|rd|th|er|º|ª|°|\.)?[\s-]*(de\s+|of\s+)?"""
        + """(?<month>\p{L}{3,10}\.?)([\s,-]*(de\s+|del\s+)?(?<year>\d{4}|\d{2}))?\z""",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture | RegexOptions.IgnoreCase)]
    private static partial Regex DayFirst();

    [GeneratedRegex("""\A(?<month>\p{L}{3,10}\.?)[\s-]*(?<day>\d{1,2})(st|nd|rd|th)?([\s,-]+(?<year>\d{4}|\d{2}))?\z""",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture | RegexOptions.IgnoreCase)]
    private static partial Regex MonthFirst();
}
