namespace DecayAtlas.Contributions.Vocabularies;

/// <summary>Finds what was meant where a word is misspelt.</summary>
public static class Nearest
{
    // A longer text is no misspelt name; neither is one of so many characters, whatever they are.
    private const int LongestName = 64, LongestText = 2000;

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
        return nearest;
    }

    // Levenshtein distance: insertions, deletions and replacements.
    private static int Distance(string a, string b)
    {
        int[] above = [.. Enumerable.Range(0, b.Length + 1)];
        for (int i = 1; i <= a.Length; i++)
        {
            int diagonal = above[0];
            above[0] = i;
            for (int j = 1; j <= b.Length; j++)
            {
                int replaced = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
                diagonal = above[j];
                above[j] = Math.Min(replaced, Math.Min(above[j], above[j - 1]) + 1);
            }
        }
        return above[b.Length];
    }
}
