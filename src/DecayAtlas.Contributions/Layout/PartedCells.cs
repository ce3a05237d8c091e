namespace DecayAtlas.Contributions.Layout;

/// <summary>Columns whose cells hold two things become two columns: a mean and how far it scatters, 1.69 ± 0.11, and a first and a last
/// day, 12.05. – 14.08.2025.</summary>
internal static class PartedCells
{
    private const int Looked = 50;

    /// <returns>The block as it was where no column is so.</returns>
    public static Block In(Block block, LayoutNotes notes, ReadingTime time)
    {
        CellParts?[][] parts = [.. Enumerable.Range(0, block.Columns.Count).Select(column => Parts(block, column, time))];
        int[] bracketed = [.. Enumerable.Range(0, parts.Length).Where(i => parts[i].Any(cell => cell is { IsInBrackets: true }))];
        bool areScatter = bracketed.Length == 0 || Array.Exists(bracketed, i => LayoutWords.IsOfScatter(block.Columns[i].Name))
            || block.LinesAbove.Any(line => line.Value.Text.Contains('±', StringComparison.Ordinal))
            || notes.Ask("brackets", "", bracketed.Length, [.. bracketed.Select(i => block.Rows.Select(row => row.Cells[i])
                .FirstOrDefault(cell => cell is not null))], "spread", "keep") == "spread";
        if (!areScatter)
            parts = [.. parts.Select(cells => cells.Any(cell => cell is { IsInBrackets: true }) ? [] : cells)];
        if (Array.TrueForAll(parts, cells => cells.Length == 0))
            return block;
        List<TidyColumn> columns = [];
        List<Func<int, TidyCell?>> cells = [];
        for (int i = 0; i < parts.Length; i++)
        {
            int at = i;
            TidyColumn column = block.Columns[i];
            if (parts[i].Length == 0)
            {
                columns.Add(column);
                cells.Add(row => block.Rows[row].Cells[at]);
                continue;
            }
            bool areDays = parts[i].Any(cell => cell is { AreDays: true });
            notes.Tell(areDays ? "parted-days" : "parted-means", block.Rows.Select(row => row.Cells[at]).First(cell => cell is not null),
                column.Name);
            string? unit = parts[i].Select(cell => cell?.Unit).FirstOrDefault(own => own is not null) ?? column.Unit;
            columns.Add(column with { Unit = unit, Part = areDays ? CellPart.FirstDay : CellPart.Mean });
            cells.Add(row => Of(block.Rows[row].Cells[at], parts[at][row]?.First));
            columns.Add((column with
            {
                Name = column.Name + (areDays ? " –" : " ±"),
                Unit = unit,
                Part = areDays ? CellPart.LastDay : CellPart.Spread,
            }).Beside(block.Columns));
            cells.Add(row => parts[at][row] is { } both ? Of(block.Rows[row].Cells[at], both.Second) : null);
            if (parts[i].Any(cell => cell?.Count is not null))
            {
                columns.Add((column with { Name = column.Name + " n", Unit = null, Part = CellPart.Count }).Beside(block.Columns));
                cells.Add(row => parts[at][row]?.Count is { } count ? Of(block.Rows[row].Cells[at], count) : null);
            }
        }
        return new Block(block.Sheet, block.IsOfHiddenSheet, columns)
        {
            LinesAbove = block.LinesAbove,
            PairsAbove = block.PairsAbove,
            Rows = block.Rows.Select((row, at) => row with { Cells = [.. cells.Select(cell => cell(at))] }).ToList(),
        };
    }

    // what is no such cell stays whole
    private static TidyCell? Of(TidyCell? cell, string? text) => text is null ? cell : cell! with { Value = SheetCell.OfText(text) };

    // empty where the column is none of these
    private static CellParts?[] Parts(Block block, int column, ReadingTime time)
    {
        string name = block.Columns[column].Name;
        if (RowLooks.IsMade(name) || LayoutWords.IsOfRemarks(name))
            return [];
        TidyCell[] filled = [.. block.Rows.Select(row => row.Cells[column]).OfType<TidyCell>()
            .Where(cell => CellNatures.Of(cell.Value) is not (CellNature.Empty or CellNature.Missing))];
        time.Ask();
        foreach (Func<SheetCell, CellParts?> way in new[] { CellParts.MeanIn, CellParts.DaysIn })
        {
            // none among the first is none among most
            if (filled.Take(Looked).All(cell => way(cell.Value) is null))
                continue;
            CellParts?[] parts = [.. block.Rows.Select(row => row.Cells[column] is { } cell ? way(cell.Value) : null)];
            // 1.69 ± 7 % of a mass is in per cent of it
            if (LayoutWords.IsInGrams(name) || block.Columns[column].Unit is "g" or "mg" or "oz")
                parts = Array.ConvertAll(parts, cell => cell is { MayBeRelative: true } ? cell.OfItself() : cell);
            CellParts[] found = [.. parts.OfType<CellParts>()];
            // days of burial alone, over a few days, are no first and last day in the soil
            bool isMeant = found.Length > 0 && found.Length * 2 > filled.Length
                && found.Select(cell => cell.Unit).Distinct().Count() == 1
                && !(found[0].AreDays && LayoutWords.WeighingIn(name) is not null);
            if (isMeant)
                return parts;
        }
        return [];
    }
}
