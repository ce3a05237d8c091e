namespace DecayAtlas.Contributions.Layout;

/// <summary>What the looks of rows say: hidden and crossed-out rows, colours and comments that tell rows apart.</summary>
internal static class RowLooks
{
    /// <summary>Names of columns that are made here.</summary>
    public const string ColourColumn = "colour", InkColumn = "colour of text", CommentColumn = "comment";

    /// <summary>Whether a column was made here, and not by the sender.</summary>
    public static bool IsMade(string name) => name.StartsWith(ColourColumn, StringComparison.Ordinal)
        || name.StartsWith(CommentColumn, StringComparison.Ordinal);

    public static void Into(Block main, SeenSheet[] sheets, List<BlockFinder> finders, LayoutNotes notes)
    {
        if (!Array.Exists(sheets, sheet => sheet.IsHidden || sheet.HiddenRows.Count + sheet.HiddenColumns.Count + sheet.Faces.Count
            + sheet.Comments.Count > 0))
        {
            return;
        }
        Unseen(main, notes, "hidden-rows", look => look.IsHidden, "read", "leave");
        Unseen(main, notes, "struck-rows", look => look.IsStruck, "leave", "read");
        HiddenColumns(main, notes);
        foreach (IGrouping<(string?, int), TidyCell> row in finders.SelectMany(finder => finder.Lines.Concat(finder.Pairs.Select(pair =>
            pair.Value))).Where(cell => cell.Look is { IsHidden: true }).GroupBy(cell => (cell.Place.Sheet, cell.Place.Row)))
        {
            notes.Tell("hidden-lines", row.First());
        }
        int width = main.Columns.Count;
        Colours(main, width, finders, notes, ColourColumn, look => look.Fill);
        Colours(main, width, finders, notes, InkColumn, look => look.Ink);
        Comments(main, sheets, notes);
    }

    /// <summary>What colours mean, where a cell beside the table says so.</summary>
    public static SideTable? Legend(Block main, List<BlockFinder> finders)
    {
        int[] colours = [.. Enumerable.Range(0, main.Columns.Count).Where(i =>
            main.Columns[i].Name.StartsWith(ColourColumn, StringComparison.Ordinal))];
        HashSet<string> there = [.. main.Rows.SelectMany(row => colours.Select(i => row.Cells[i]?.Value.Text)).OfType<string>()];
        (string Colour, TidyCell Text)[] entries = [.. Entries(finders).Where(entry => there.Contains(entry.Colour))];
        return entries.Length == 0 ? null : new SideTable(
            [new TidyColumn(ColourColumn, null, entries[0].Text.Place), new TidyColumn("legend", null, entries[0].Text.Place)],
            [.. entries.Select(entry => new[] { entry.Text with { Value = SheetCell.OfText(entry.Colour) }, entry.Text })]);
    }

    // cells beside the table that are filled or written in a colour
    private static IEnumerable<(string Colour, TidyCell Text)> Entries(List<BlockFinder> finders) => finders.SelectMany(finder =>
        finder.Legend.Concat(finder.Lines.Concat(finder.Pairs.SelectMany(pair => new[] { pair.Name, pair.Value }))
            .Where(cell => cell.Look?.Ink is not null).Select(cell => (cell.Look!.Ink!, cell))));

    private static void Unseen(Block main, LayoutNotes notes, string id, Predicate<CellLook> look, string first, string second)
    {
        List<BlockRow> rows = main.Rows.FindAll(row => row.Is(look));
        if (rows.Count == 0 || (rows.Count == main.Rows.Count && id == "hidden-rows"))
            return;
        bool leaves = notes.Ask(id, "", rows.Count, rows.Select(row => row.First), first, second) == "leave";
        foreach (BlockRow row in rows)
            notes.TellRow(leaves ? id + "-left" : id, row);
        if (leaves)
        {
            HashSet<BlockRow> left = new(rows, ReferenceEqualityComparer.Instance);
            main.Rows = main.Rows.FindAll(row => !left.Contains(row));
        }
    }

    private static void HiddenColumns(Block main, LayoutNotes notes)
    {
        for (int i = 0; i < main.Columns.Count; i++)
        {
            TidyCell[] cells = [.. main.Rows.Select(row => row.Cells[i]).OfType<TidyCell>()];
            // whole rows that are hidden were told; here it is the column
            if (cells.Length > 0 && Array.TrueForAll(cells, cell => cell.Look is { IsHidden: true })
                && !main.Rows.TrueForAll(row => row.Is(look => look.IsHidden)))
            {
                notes.Tell("hidden-columns", cells[0], main.Columns[i].Name);
            }
        }
    }

    private static void Colours(Block main, int width, List<BlockFinder> finders, LayoutNotes notes, string name,
        Func<CellLook, string?> colourOf)
    {
        // a column in one colour from top to bottom was coloured for looks
        bool[] isUniform = [.. Enumerable.Range(0, width).Select(i => main.Rows.Select(row => ColourOf(row, i)).Distinct().Count() < 2)];
        string?[] colours = [.. main.Rows.Select(row => Enumerable.Range(0, width).Where(i => !isUniform[i]).Select(i => ColourOf(row, i))
            .OfType<string>().GroupBy(colour => colour).OrderByDescending(group => group.Count()).FirstOrDefault()?.Key)];
        if (Array.TrueForAll(colours, colour => colour is null))
            return;
        Dictionary<string, string> legend = [];
        foreach ((string colour, TidyCell text) in Entries(finders).Where(entry => colours.Contains(entry.Colour)))
            legend.TryAdd(colour, text.Value.Text.Trim());
        bool isZebra = legend.Count == 0 && colours.Length > 3 && colours.Distinct().Count() == 2
            && Enumerable.Range(1, colours.Length - 1).All(i => colours[i] != colours[i - 1]);
        Dictionary<BlockRow, TidyCell> byRow = new(ReferenceEqualityComparer.Instance);
        foreach ((BlockRow row, string? colour) in main.Rows.Zip(colours))
        {
            if (colour is null)
                continue;
            TidyCell at = Array.Find(row.Cells, cell => cell?.Look is { } look && colourOf(look) == colour)!;
            string shown = colour.StartsWith(CellLook.OfInk, StringComparison.Ordinal) ? colour.Insert(CellLook.OfInk.Length, "#")
                : "#" + colour;
            notes.Tell(isZebra ? "colours-alternate" : "colours", at,
                legend.TryGetValue(colour, out string? meaning) ? $"{shown} = {meaning}" : shown);
            byRow[row] = new TidyCell(SheetCell.OfText(colour), at.Place, null);
        }
        main.Add(new TidyColumn(name, null, main.Columns[0].Place), byRow.GetValueOrDefault);

        string? ColourOf(BlockRow row, int column) =>
            row.Cells[column] is { Look: { } look } cell && row.Owns(cell) ? colourOf(look) : null;
    }

    private static void Comments(Block main, SeenSheet[] sheets, LayoutNotes notes)
    {
        HashSet<(string, string?, int, int)> seen = [];
        foreach (BlockRow row in main.Rows)
        {
            foreach (TidyCell? cell in row.Cells)
            {
                if (cell?.Look?.Comment is not null && row.Owns(cell))
                {
                    seen.Add((cell.Place.File, cell.Place.Sheet, cell.Place.Row, cell.Place.Column));
                    notes.Tell("comments", cell);
                }
            }
        }
        if (seen.Count > 0)
        {
            main.Add(new TidyColumn(CommentColumn, null, main.Columns[0].Place), row =>
            {
                TidyCell[] with = [.. row.Cells.OfType<TidyCell>().Where(cell => cell.Look?.Comment is not null && row.Owns(cell))];
                return with.Length == 0 ? null : new TidyCell(SheetCell.OfText(string.Join("; ", with.Select(cell =>
                    cell.Look!.Comment!.Trim()))),
                    with[0].Place, null);
            });
        }
        foreach (SeenSheet sheet in sheets)
        {
            foreach (((int row, int column), string comment) in sheet.Comments
                .Where(one => !seen.Contains((sheet.Sheet.File, sheet.Sheet.Name, one.Key.Row, one.Key.Column)))
                .OrderBy(one => one.Key))
            {
                notes.Tell("comments-beside", new TidyCell(SheetCell.OfText(comment), new CellPlace(sheet.Sheet.File, sheet.Sheet.Name,
                    row, column), null));
            }
        }
    }
}
