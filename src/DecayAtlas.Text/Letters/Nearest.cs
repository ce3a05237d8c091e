namespace DecayAtlas.Text.Letters;

/// <summary>Finds what was meant where a word is misspelt: columns, words, commands, options, settings.</summary>
public static class Nearest
{
    // A longer text is no misspelt name; neither is one of so many characters, whatever they are.
    private const int LongestName = 64, LongestText = 2000;

    /// <summary>A question to add to a sentence about a word that is not known; empty where none is close.</summary>
    public static string Question(ReadOnlySpan<char> text, IEnumerable<string> candidates) =>
        Of(text, candidates) is { } near ? $" Did you mean {near}?" : "";

    /// <summary>The closest of <paramref name="candidates"/>, or null when none is close: at most one edit in four letters, capitals and
    /// separators aside.</summary>
    public static string? Of(ReadOnlySpan<char> text, IEnumerable<string> candidates)
    {
        if (text.Length > LongestText)
            return null;
        string plain = WordSpelling.Plain(text.ToString());
        if (plain.Length is 0 or > LongestName)
            return null;
        int most = Math.Max(1, plain.Length / 4);
        (int least, string? nearest) = (most + 1, null);
        foreach (string candidate in candidates)
        {
            // letters that one has more than the other are edits already, so that most need no closer look
            if (candidate.Length <= LongestText && WordSpelling.Plain(candidate) is { } other
                && Math.Abs(other.Length - plain.Length) < least && Distance(plain, other) is var distance && distance < least)
            {
                (least, nearest) = (distance, candidate);
            }
        }
        return nearest ?? Begun(text.ToString(), candidates);
    }

    // country for country_code: the first words of one name alone
    private static string? Begun(string text, IEnumerable<string> candidates) => text.Length < 3 ? null
        : candidates.Where(candidate => candidate.Length > text.Length && candidate[text.Length] == '_'
            && candidate.StartsWith(text, StringComparison.OrdinalIgnoreCase)).Take(2).ToArray() is [var only] ? only : null;

    // Edits as people make them: insertions, deletions, replacements, and two neighbours that changed places (optimal string alignment).
    private static int Distance(string a, string b)
    {
        int[] twoAbove = new int[b.Length + 1], above = [.. Enumerable.Range(0, b.Length + 1)], row = new int[b.Length + 1];
        for (int i = 1; i <= a.Length; i++)
        {
            row[0] = i;
            for (int j = 1; j <= b.Length; j++)
            {
                row[j] = Math.Min(above[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1), Math.Min(above[j], row[j - 1]) + 1);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    row[j] = Math.Min(row[j], twoAbove[j - 2] + 1);
            }
            (twoAbove, above, row) = (above, row, twoAbove);
        }
        return above[b.Length];
    }
}
