using System.Buffers;
using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Contributions.Findings;

/// <summary>
/// Received text on its way into a report, a record or a log: names of files and folders, and what stood in a cell. Nobody's address
/// goes with it, and nothing in it can forge a line or turn the direction of writing.
/// </summary>
public static partial class ReceivedText
{
    private const int LongestName = 120;

    // Letters of a text of ours with received text in it, such as what a finding expects; far more than any needs.
    private const int LongestSentence = 2000;

    // An address is 64 letters, the sign and 255 at most (RFC 5321, 4.5.3.1): this far from a cut, no half is left.
    private const int LongestAddress = 320;

    // Without one of these no address is there, and most text has none.
    private static readonly SearchValues<char> TellingEmail = SearchValues.Create("@\uFF20\uFE6B%([{");
    private static readonly SearchValues<char> Telling = SearchValues.Create("@\uFF20\uFE6B%([{+0");

    /// <summary>The text with e-mail addresses and telephone numbers in international form left out, and cut where it is a novel.</summary>
    public static string Masked(string text) =>
        text.Length <= LongestSentence && !text.AsSpan().ContainsAny(Telling) ? text : Masked(text, LongestSentence);

    /// <summary>The same, cut to so many letters. Cut first, so that work does not grow with what was received; only then masked.</summary>
    internal static string Masked(ReadOnlySpan<char> text, int longest)
    {
        bool isCut = text.Length > longest + LongestAddress;
        string shown = (isCut ? text[..(longest + LongestAddress)] : text).ToString();
        if (shown.AsSpan().ContainsAny(Telling))
            shown = Telephone().Replace(Email().Replace(shown, "(an e-mail address)"), "${before}(a telephone number)");
        // an address that the first cut went through stands at the end, wherever that is after masking
        int end = isCut ? Math.Min(longest, Math.Max(0, shown.Length - LongestAddress)) : Math.Min(longest, shown.Length);
        return isCut || end < shown.Length ? string.Concat(shown.AsSpan(0, end), "…") : shown;
    }

    public static bool HasEmail(ReadOnlySpan<char> text) => text.ContainsAny(TellingEmail) && CertainEmail().IsMatch(text);

    /// <summary>A received name as it is shown: masked, on one line, and no novel.</summary>
    public static string Name(string name) => HalfLetter.Replaced(OneLine(Masked(name, LongestName)));

    /// <summary>The text with another in place of each letter that would break the line, or turn the direction of what follows.</summary>
    public static string OneLine(string text, char instead = '?') =>
        text.Any(IsHostile) ? string.Concat(text.Select(c => IsHostile(c) ? instead : c)) : text;

    /// <summary>Whether a letter can do more than be read: control characters, ends of lines, marks of direction, halves of a
    /// letter.</summary>
    public static bool IsHostile(char letter) => letter >= '\u007F'
        ? char.GetUnicodeCategory(letter) is UnicodeCategory.Control or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator
            || letter is (>= '\u202A' and <= '\u202E') or (>= '\u2066' and <= '\u2069') or '\u200E' or '\u200F' or '\u061C'
        : letter < ' ' || letter == '\u007F';

    // an address proper, its at-sign in any width or as a web address writes it; or written out in brackets: jane (at) example.org
    [GeneratedRegex(@"[^\s@\uFF20\uFE6B,;]+(@|\uFF20|\uFE6B|%40)[^\s@\uFF20\uFE6B,;+]+|" + WrittenOut,
        RegexOptions.CultureInvariant | RegexOptions.IgnoreCase | RegexOptions.NonBacktracking)]
    private static partial Regex Email();

    // one that ends in a domain, which a remark such as 8cm@wood does not
    [GeneratedRegex(@"[^\s@\uFF20\uFE6B,;]+(@|\uFF20|\uFE6B|%40)[^\s@\uFF20\uFE6B,;+]+\.\p{L}{2,}|" + WrittenOut,
        RegexOptions.CultureInvariant | RegexOptions.IgnoreCase | RegexOptions.NonBacktracking)]
    private static partial Regex CertainEmail();

    private const string WrittenOut = @"[^\s,;]+\s*[\(\[\{]\s*at\s*[\)\]\}]\s*[^\s,;]+\.\p{L}{2,}";

    // what stands before 00 tells it from the zeros of a number, and is put back
    [GeneratedRegex(@"(\+\d|(?<before>^|[^\w.,])00[1-9])[\d\-./() ]{6,}\d", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Telephone();
}
