using System.Text;

namespace DecayAtlas.Contributions.Wide;

/// <summary>A text with names of columns in braces, from which ids are made: {plot}-{number}-F.</summary>
internal static class RowPattern
{
    // It is filled once a row.
    private const int Longest = 500;

    public static string? WhyBroken(string pattern)
    {
        if (pattern.Length > Longest)
            return Invariant($"which has {pattern.Length} characters, more than {Longest}");
        bool isOpen = false;
        foreach (char c in pattern)
        {
            if (c == '{' && isOpen || c == '}' && !isOpen)
                return "whose braces do not pair";
            isOpen = c == '{' || (c != '}' && isOpen);
        }
        return isOpen ? "whose braces do not pair" : pattern.Contains("{}", StringComparison.Ordinal) ? "which has empty braces" : null;
    }

    public static IEnumerable<string> Columns(string pattern) => Parts(pattern).Where(part => part.IsColumn).Select(part => part.Text);

    /// <summary>The text for one row, and its length; empty when a column is empty, so that no half id arises, and when it would be too
    /// long.</summary>
    public static (string Text, long Length) Fill(string pattern, int longest, Func<string, ReadOnlyMemory<char>> valueOf)
    {
        StringBuilder text = new();
        long length = 0;
        foreach ((string part, bool isColumn) in Parts(pattern))
        {
            ReadOnlyMemory<char> filled = isColumn ? valueOf(part) : part.AsMemory();
            if (filled.Length == 0)
                return ("", 0);
            length += filled.Length;
            if (length <= longest)
                text.Append(filled);
        }
        return length <= longest ? (text.ToString(), length) : ("", length);
    }

    private static IEnumerable<(string Text, bool IsColumn)> Parts(string pattern)
    {
        int at = 0;
        while (at < pattern.Length)
        {
            int open = pattern.IndexOf('{', at);
            if (open < 0)
            {
                yield return (pattern[at..], false);
                yield break;
            }
            if (open > at)
                yield return (pattern[at..open], false);
            int close = pattern.IndexOf('}', open);
            yield return (pattern[(open + 1)..close], true);
            at = close + 1;
        }
    }
}
