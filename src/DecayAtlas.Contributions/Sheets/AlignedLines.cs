namespace DecayAtlas.Contributions.Sheets;

/// <summary>A table that was lined up with spaces, as in a mail: columns are where no line of it has anything, so that an empty cell moves
/// none of the others. Lines around it are cells of their own.</summary>
internal static class AlignedLines
{
    // Letters of a line that are looked at.
    private const int Longest = 2000;

    public static bool HasRun(ReadOnlySpan<char> line) => line.Trim().IndexOf("  ", StringComparison.Ordinal) > 0
        || (line.StartsWith("  ", StringComparison.Ordinal) && !line.Trim().IsEmpty);

    public static List<SheetRow>? Rows(string text, string path, IntakeLimits limits, FindingList findings)
    {
        string[] lines = text.Split('\n');
        if (lines.Length > limits.MaxRows)
        {
            findings.Add(FindingCode.TooManyRows, path, Invariant($"{lines.Length} lines"), Invariant($"at most {limits.MaxRows} rows"),
                "split the contribution");
            return null;
        }
        List<SheetRow> rows = [];
        for (int from = 0; from < lines.Length;)
        {
            findings.Time.Ask();
            lines[from] = lines[from].TrimEnd('\r').Replace('\t', ' ');
            int end = from;
            while (end < lines.Length && HasRun(lines[end].AsSpan().TrimEnd()))
                end++;
            if (end - from > 2)
            {
                Block(lines, from, end, rows, findings.Time);
                from = end;
                continue;
            }
            if (lines[from].AsSpan().Trim().Length > 0)
                rows.Add(new SheetRow(from + 1, [SheetCell.OfText(HalfLetter.Replaced(lines[from].Trim()))]));
            from++;
        }
        return rows;
    }

    private static void Block(string[] lines, int from, int end, List<SheetRow> rows, ReadingTime time)
    {
        int width = Math.Min(Longest, lines[from..end].Max(line => line.TrimEnd().Length));
        bool[] isFilled = new bool[width];
        for (int i = from; i < end; i++)
        {
            time.Ask();
            for (int at = 0; at < Math.Min(width, lines[i].Length); at++)
                isFilled[at] |= !char.IsWhiteSpace(lines[i][at]);
        }
        // one blank between a number and its unit is none between columns
        List<int> starts = [0];
        for (int at = 2; at < width; at++)
        {
            if (isFilled[at] && !isFilled[at - 1] && !isFilled[at - 2])
                starts.Add(at);
        }
        for (int i = from; i < end; i++)
        {
            string line = lines[i].TrimEnd();
            SheetCell[] cells = [.. starts.Select((start, n) => start >= line.Length ? SheetCell.Empty
                : SheetCell.OfText(HalfLetter.Replaced(
                    (n + 1 < starts.Count ? line[start..Math.Min(line.Length, starts[n + 1])] : line[start..]).Trim())))];
            rows.Add(new SheetRow(i + 1, cells));
        }
    }
}
