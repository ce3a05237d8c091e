namespace DecayAtlas.Contributions.Layout;

/// <summary>Names of columns from one to three rows.</summary>
internal static class HeaderName
{
    /// <summary>Whether a row right above one of names belongs to it: groups that go over several columns, or halves of names.</summary>
    public static bool IsUpper(GridRow upper, GridRow lower, int left, int right)
    {
        int filled = upper.Filled(left, right);
        if (filled == 0 || upper.Values(left, right) > 0 || filled != upper.Labels(left, right) || BlockFinder.IsUnits(upper, left, right))
            return false;
        int groups = 0, over = 0, first = -1, last = -1, spread = 0, width = 0, down = 0;
        for (int i = left; i <= right; i++)
        {
            if (lower.Natures[i] != CellNature.Empty)
                width++;
            if (upper.Natures[i] == CellNature.Empty)
                continue;
            if (i > left && ReferenceEquals(upper.Cells[i], upper.Cells[i - 1]))
            {
                spread++;
                continue;
            }
            if (upper.Cells[i]!.Value.Text.TrimEnd().EndsWith(':') || upper.Cells[i]!.Value.Text.Length > 60)
                return false;
            // the name of a column of its own, with nothing below it
            if (i == left && lower.Natures[i] == CellNature.Empty)
            {
                down++;
                continue;
            }
            groups++;
            over += lower.Natures[i] != CellNature.Empty ? 1 : 0;
            first = first < 0 ? i : first;
            last = i;
        }
        if (down > 0 && groups < 2 && spread == 0)
            return false;
        // one merged cell over a part of the table is a group, over all of it a title
        if (groups == 1)
            return spread > 0 && spread + 1 < width;
        if (spread > 0)
            return true;
        bool areHalves = groups * 2 >= width;
        // a pair of name and value stands in neighbouring cells at the left; groups have columns between them
        return areHalves && down == 0 ? groups > 2 : over == groups && last - first >= groups;
    }

    /// <summary>The name of each column between left and right.</summary>
    public static string[] Of(ReadOnlySpan<GridRow> rows, int left, int right)
    {
        string[] names = new string[right - left + 1];
        TidyCell?[][] texts = new TidyCell?[rows.Length][];
        for (int r = 0; r < rows.Length; r++)
            texts[r] = r == rows.Length - 1 ? rows[r].Cells[left..(right + 1)] : Spread(rows[r], rows[(r + 1)..], left, right);
        for (int i = 0; i < names.Length; i++)
        {
            List<TidyCell> parts = [];
            foreach (TidyCell?[] row in texts)
            {
                if (row[i] is { } cell && cell.Value.Text.Trim().Length > 0 && !parts.Exists(part => ReferenceEquals(part, cell)))
                    parts.Add(cell);
            }
            names[i] = string.Join(' ', parts.Select(part => string.Join(' ',
                part.Value.Text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries))));
        }
        return names;
    }

    /// <summary>For each row of names but the last: the name in it over each column between left and right, and what the other rows say of
    /// that column.</summary>
    public static IReadOnlyList<(TidyCell? Name, string Others)[]> GroupsOf(GridRow[] rows, int left, int right)
    {
        List<(TidyCell?, string)[]> levels = [];
        for (int level = 0; level < rows.Length - 1; level++)
        {
            TidyCell?[] own = Spread(rows[level], rows.AsSpan(level + 1), left, right);
            string[] others = Of([.. rows[..level], .. rows[(level + 1)..]], left, right);
            GridRow below = rows[level + 1];
            // a name that goes down over all rows is that of its column alone
            levels.Add([.. own.Select((cell, i) => (others[i].Length == 0 || ReferenceEquals(cell, below.Cells[left + i]) ? null : cell,
                others[i]))]);
        }
        return levels;
    }

    // What stands over the first of several columns stands over all of them; merged cells say themselves how far they go. The last group
    // goes no farther than the widest of the others.
    private static TidyCell?[] Spread(GridRow upper, ReadOnlySpan<GridRow> below, int left, int right)
    {
        TidyCell?[] cells = upper.Cells[left..(right + 1)];
        for (int i = 1; i < cells.Length; i++)
        {
            if (cells[i] is not null && ReferenceEquals(cells[i], cells[i - 1]) && upper.Natures[left + i] != CellNature.Empty)
                return cells;
        }
        int[] starts = [.. Enumerable.Range(0, cells.Length).Where(i => upper.Natures[left + i] != CellNature.Empty)];
        int widest = 1;
        for (int group = 0; group < starts.Length; group++)
        {
            int end = group + 1 < starts.Length ? starts[group + 1] : Math.Min(cells.Length, starts[group] + (starts.Length > 1 ? widest
                : 99));
            widest = Math.Max(widest, end - starts[group]);
            for (int i = starts[group] + 1; i < end; i++)
            {
                if (AreEmpty(below, left + i))
                    break;
                cells[i] = cells[starts[group]];
            }
        }
        return cells;
    }

    private static bool AreEmpty(ReadOnlySpan<GridRow> rows, int column)
    {
        foreach (GridRow row in rows)
        {
            if (row.Natures[column] != CellNature.Empty)
                return false;
        }
        return true;
    }
}
