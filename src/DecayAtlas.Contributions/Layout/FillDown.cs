namespace DecayAtlas.Contributions.Layout;

/// <summary>Gives each row what was written once for several: merged cells, ditto marks, and labels that are left out while they stay the
/// same. A value that is filled down keeps the place at which it stands.</summary>
internal static class FillDown
{
    public static void In(Block block, LayoutNotes notes)
    {
        if (block.Rows.Count == 0)
            return;
        Marks(block, notes);
        int firstNumber = Enumerable.Range(0, block.Columns.Count).FirstOrDefault(i => Share(block, i, CellNature.Number) > 0.5,
            block.Columns.Count);
        List<bool[]> filled = [];
        for (int column = 0; column < block.Columns.Count; column++)
        {
            if (IsLeftOutWhileSame(block, column, firstNumber, notes))
            {
                filled.Add(Filled(block, column));
                Fill(block, column, notes);
            }
        }
        // days that stand only where the label does belong to it
        for (int column = 0; column < block.Columns.Count; column++)
        {
            bool[] there = Filled(block, column);
            bool isLike = there.Contains(false) && (filled.Exists(label => label.AsSpan().SequenceEqual(there)) || StandOnceInEach(block,
                there));
            if (isLike && Share(block, column, CellNature.Date) > 0.9)
                Fill(block, column, notes);
        }
    }

    // Once in the first row of each run of rows with the same label, as the day of a burial over both of its bags.
    private static bool StandOnceInEach(Block block, bool[] there)
    {
        for (int column = 0; column < block.Columns.Count && there[0]; column++)
        {
            bool fits = true, hasRuns = false;
            string? above = null;
            for (int i = 0; i < there.Length && fits; i++)
            {
                string? label = block.Rows[i].Cells[column]?.Value.Text.Trim();
                bool isSame = i > 0 && label is { Length: > 0 } && label == above;
                fits = isSame || there[i] || i == 0;
                hasRuns |= isSame && !there[i];
                above = label;
            }
            if (fits && hasRuns)
                return true;
        }
        return false;
    }

    private static void Marks(Block block, LayoutNotes notes)
    {
        for (int column = 0; column < block.Columns.Count; column++)
        {
            MergedMasses(block, column, notes);
            TidyCell? above = null;
            foreach (BlockRow row in block.Rows)
            {
                TidyCell? cell = row.Cells[column];
                if (cell is { Value.Kind: SheetCellKind.Text } && above is not null && LayoutWords.IsDitto(cell.Value.Text.AsSpan().Trim()))
                {
                    notes.Tell("ditto-filled", cell, block.Columns[column].Name);
                    row.Cells[column] = above;
                    continue;
                }
                if (cell is not null && ReferenceEquals(above, cell) && !row.Owns(cell))
                    notes.Tell("merged-filled", cell, block.Columns[column].Name);
                if (cell is not null && cell.Value.Kind != SheetCellKind.Empty)
                    above = cell;
            }
        }
    }

    // what several bags weighed together is the mass of none; what each of them should weigh is
    private static void MergedMasses(Block block, int column, LayoutNotes notes)
    {
        TidyColumn name = block.Columns[column];
        if (!LayoutWords.IsUnitOfMass(name.Unit) && !LayoutWords.IsOfMass(name.Name))
            return;
        TidyCell[] merged = [.. block.Rows.Select(row => row.Cells[column]).OfType<TidyCell>()
            .GroupBy(cell => cell, ReferenceEqualityComparer.Instance).Where(cells => cells.Count() > 1)
            .Select(cells => cells.First()).Where(cell => CellNumber.Of(cell.Value) is not null)];
        if (merged.Length == 0 || notes.Ask("merged-mass", name.Name, merged.Length, merged, "leave", "fill") == "fill")
            return;
        foreach (BlockRow row in block.Rows)
        {
            if (row.Cells[column] is { } cell && merged.Contains(cell, ReferenceEqualityComparer.Instance))
                row.Cells[column] = null;
        }
        foreach (TidyCell cell in merged)
            notes.Tell("merged-masses-left", cell, name.Name);
    }

    private static bool[] Filled(Block block, int column) =>
        [.. block.Rows.Select(row => row.Cells[column] is { } cell && cell.Value.Kind != SheetCellKind.Empty)];

    private static double Share(Block block, int column, CellNature nature)
    {
        int seen = 0, like = 0;
        foreach (BlockRow row in block.Rows.Take(2000))
        {
            CellNature one = row.Cells[column] is { } cell ? CellNatures.Of(cell.Value) : CellNature.Empty;
            seen += one is CellNature.Empty or CellNature.Missing ? 0 : 1;
            like += one == nature ? 1 : 0;
        }
        return seen == 0 ? 0 : like / (double)seen;
    }

    private static bool IsLeftOutWhileSame(Block block, int column, int firstNumber, LayoutNotes notes)
    {
        bool[] filled = Filled(block, column);
        int blanks = filled.Count(there => !there), labels = filled.Length - blanks;
        string name = block.Columns[column].Name;
        if (blanks == 0 || !filled[0] || blanks < 0.2 * filled.Length || LayoutWords.IsOfRemarks(name)
            || (column > 0 && Share(block, column, CellNature.Label) < 0.9))
        {
            return false;
        }
        // who writes a label in each of its rows leaves none out: a blank is another thing, as untouched ground beside what was mown
        int again = Enumerable.Range(1, filled.Length - 1).Count(i => filled[i] && filled[i - 1]
            && TextAt(block, i, column) == TextAt(block, i - 1, column));
        if (again > 0 && again * 2 >= labels)
            return notes.Ask("fill-down", name, blanks, block.Rows.Take(3).Select(row => row.First), "leave", "fill") == "fill";
        // labels that stand before the first number; a column of numbers only where it is the first and numbers sites or pairs
        if (column > 0 && column > firstNumber && !IsRegular(filled))
            return false;
        if (column == 0 && Share(block, column, CellNature.Label) < 0.9 && !IsRegular(filled))
            return false;
        if (labels == 1 && column > 0 && filled.Length > 2)
            return notes.Ask("fill-down", name, blanks, block.Rows.Take(3).Select(row => row.First), "fill", "leave") == "fill";
        bool isSure = IsRegular(filled) || column == 0 || column < firstNumber;
        return isSure ? notes.Wishes.Choice($"layout.fill-down:{name}", "fill", "leave") == "fill"
            : notes.Ask("fill-down", name, blanks, block.Rows.Take(3).Select(row => row.First), "leave", "fill") == "fill";
    }

    private static string? TextAt(Block block, int row, int column) => block.Rows[row].Cells[column]?.Value.Text.Trim();

    // The same number of rows below each label, as two bags of a burial have, with a few that are lost.
    private static bool IsRegular(bool[] filled)
    {
        List<int> lengths = [];
        foreach (bool there in filled)
        {
            if (there)
                lengths.Add(1);
            else if (lengths.Count > 0)
                lengths[^1]++;
        }
        return lengths.Count > 1 && lengths.GroupBy(length => length).Max(group => group.Count()) >= 0.8 * lengths.Count
            && lengths.Max() > 1;
    }

    private static void Fill(Block block, int column, LayoutNotes notes)
    {
        TidyCell? above = null;
        foreach (BlockRow row in block.Rows)
        {
            if (row.Cells[column] is { } cell && cell.Value.Kind != SheetCellKind.Empty)
            {
                above = cell;
            }
            else if (above is not null)
            {
                notes.Tell("blank-filled", above, block.Columns[column].Name);
                row.Cells[column] = above;
            }
        }
    }
}
