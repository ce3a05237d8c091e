namespace DecayAtlas.Contributions.Layout;

/// <summary>Parts of a sheet that stand beside each other with blank columns between them.</summary>
internal static class SheetRegions
{
    public static List<(int Left, int Right)> Of(SheetGrid grid, int? headerRow)
    {
        int[] filled = new int[grid.Width];
        foreach (GridRow row in grid.Rows)
        {
            bool isLine = row.Filled(0, grid.Width - 1) < 2;
            for (int i = 0; i < grid.Width; i++)
            {
                if (row.Natures[i] != CellNature.Empty && (!isLine || i == 0 || !ReferenceEquals(row.Cells[i], row.Cells[i - 1])))
                    filled[i]++;
            }
        }
        List<(int Left, int Right)> regions = [];
        for (int i = 0; i < filled.Length; i++)
        {
            if (filled[i] == 0)
                continue;
            int right = i;
            while (right + 1 < filled.Length && filled[right + 1] > 0)
                right++;
            regions.Add((i, right));
            i = right;
        }
        for (int i = regions.Count - 1; i > 0; i--)
        {
            if (AreOne(grid, regions[i - 1], regions[i], headerRow))
            {
                regions[i - 1] = (regions[i - 1].Left, regions[i].Right);
                regions.RemoveAt(i);
            }
        }
        return regions;
    }

    // A blank column for looks, or remarks beside the table that no name stands over.
    private static bool AreOne(SheetGrid grid, (int Left, int Right) one, (int Left, int Right) other, int? headerRow)
    {
        (int header, HashSet<string> names, HashSet<int> rows) = Main(grid, one, headerRow);
        if (header < 0)
            return false;
        if (other.Left == other.Right)
        {
            GridRow[] beside = [.. grid.Rows.Where(row => row.Natures[other.Left] != CellNature.Empty)];
            return beside.Length > 0 && Array.TrueForAll(beside, row => rows.Contains(row.Number) || row.Number == header)
                && Array.TrueForAll(beside, row => row.Cells[other.Left] is { Look.Fill: null } cell
                    && !cell.Value.Text.AsSpan().ContainsAny('=', ':'));
        }
        (int otherHeader, HashSet<string> otherNames, HashSet<int> otherRows) = Main(grid, other, headerRow);
        if (otherHeader < 0 || Math.Abs(otherHeader - header) > 1)
            return false;
        return !otherNames.IsSubsetOf(names) && !names.IsSubsetOf(otherNames) && otherRows.Count >= 0.6 * rows.Count
            && otherRows.Count(rows.Contains) >= 0.9 * otherRows.Count && otherRows.Count > 2;
    }

    private static (int Header, HashSet<string> Names, HashSet<int> Rows) Main(SheetGrid grid, (int Left, int Right) region, int? headerRow)
    {
        (int left, int right) = region;
        int widest = grid.Rows.Max(row => row.Filled(left, right));
        for (int i = 0; i < grid.Rows.Count; i++)
        {
            GridRow row = grid.Rows[i];
            bool isHeader = headerRow is { } said ? row.Number == said
                : row.Labels(left, right) >= 1 && row.Values(left, right) == 0 && row.Filled(left, right) >= Math.Max(2, 0.5 * widest);
            if (!isHeader)
                continue;
            return (row.Number, [.. BlockFinder.Cells(row, left, right).Select(cell => LayoutWords.Fold(cell.Value.Text))],
                [.. grid.Rows.Skip(i + 1).Where(below => below.Filled(left, right) >= Math.Max(1, 0.3 * widest)).Select(below =>
                    below.Number)]);
        }
        return (-1, [], []);
    }
}
