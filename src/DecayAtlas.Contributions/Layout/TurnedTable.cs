namespace DecayAtlas.Contributions.Layout;

/// <summary>Recognises a table that lies on its side: labels in the first column, a record in each of the others.</summary>
internal static class TurnedTable
{
    private const int MostRows = 200;

    /// <returns>Null for a table that stands; otherwise its rows, and whether it can be read in no other way.</returns>
    public static (int First, int End, bool IsCertain)? In(SheetGrid grid, int[] rows, int left, int right)
    {
        int[] wide = [.. rows.Where(i => grid.Rows[i].Filled(left, right) > 1)];
        if (wide.Length is < 3 or > MostRows || right - left < 1 || grid.IsHidden && wide.Length == 0)
            return null;
        // the corner over names of rows, and beside names of records, may be blank
        int labelled = wide.Count(i => grid.Rows[i].Natures[left] == CellNature.Label
            || (i == wide[0] && grid.Rows[i].Natures[left] == CellNature.Empty
                && Telling(grid.Rows[i].Natures.AsSpan(left + 1, right - left)) is { Count: > 1 } beside
                && beside.TrueForAll(nature => nature == CellNature.Label)));
        if (labelled < 0.9 * wide.Length)
            return null;
        HashSet<string> names = [.. wide.Select(i => grid.Rows[i].Cells[left]?.Value.Text.Trim() ?? "")];
        if (names.Count < 0.9 * wide.Length)
            return null;
        int even = 0, judged = 0;
        HashSet<CellNature> natures = [];
        foreach (int i in wide)
        {
            CellNature[] row = [.. Telling(grid.Rows[i].Natures.AsSpan(left + 1, right - left))];
            if (row.Length < 2)
                continue;
            judged++;
            int most = row.GroupBy(nature => nature).Max(group => group.Count());
            if (most >= 0.8 * row.Length)
            {
                even++;
                natures.Add(row.GroupBy(nature => nature).MaxBy(group => group.Count())!.Key);
            }
        }
        if (judged < 3 || even < 0.85 * judged || natures.Count < 2)
            return null;
        int mixed = 0, columns = 0;
        for (int column = left + 1; column <= right; column++)
        {
            CellNature[] below = [.. wide.Skip(1).Select(i => grid.Rows[i].Natures[column])
                .Where(nature => nature is not (CellNature.Empty or CellNature.Missing))];
            if (below.Length < 2)
                continue;
            columns++;
            mixed += below.GroupBy(nature => nature).Max(group => group.Count()) < 0.9 * below.Length ? 1 : 0;
        }
        return columns > 0 && mixed >= 0.8 * columns ? (wide[0], wide[^1] + 1, columns > 1 || true) : null;
    }

    private static List<CellNature> Telling(ReadOnlySpan<CellNature> natures)
    {
        List<CellNature> telling = [];
        foreach (CellNature nature in natures)
        {
            if (nature is not (CellNature.Empty or CellNature.Missing))
                telling.Add(nature);
        }
        return telling;
    }
}
