namespace DecayAtlas.Contributions;

/// <summary>Finds the name that was probably meant.</summary>
internal static class Nearest
{
    /// <summary>The closest of <paramref name="candidates"/>, or null when none is close: at most one edit in four letters, capitals and separators aside.</summary>
    public static string? Of(string text, IEnumerable<string> candidates)
    {
        string plain = Plain(text);
        if (plain.Length is 0 or > 64)
            return null;
        (int distance, string? name) = candidates.Select(candidate => (Distance(plain, Plain(candidate)), candidate))
            .DefaultIfEmpty((int.MaxValue, null!)).MinBy(pair => pair.Item1);
        return distance <= Math.Max(1, plain.Length / 4) ? name : null;
    }

    private static string Plain(string text) => string.Concat(text.Where(char.IsLetterOrDigit)).ToLowerInvariant();

    /// <summary>Levenshtein distance: insertions, deletions and replacements.</summary>
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
