using System.Text;

namespace DecayAtlas.Contributions;

/// <summary>A text with names of columns in braces, from which ids are made: {plot}-{number}-F.</summary>
internal static class RowPattern
{
    public static string? WhyBroken(string pattern)
    {
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

    /// <summary>The text for one row; empty when a column in it is empty, so that no half id arises.</summary>
    public static string Fill(string pattern, Func<string, string> valueOf)
    {
        StringBuilder text = new();
        foreach ((string part, bool isColumn) in Parts(pattern))
        {
            string filled = isColumn ? valueOf(part) : part;
            if (filled.Length == 0)
                return "";
            text.Append(filled);
        }
        return text.ToString();
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
