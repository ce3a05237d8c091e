namespace DecayAtlas.Contributions.Layout;

/// <summary>What the looks of rows say: hidden and crossed-out rows, colours and comments that tell rows apart.</summary>
internal static class RowLooks
{
    /// <summary>Names of columns that are made here.</summary>
    public const string ColourColumn = "colour", CommentColumn = "comment";

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
        Colours(main, finders, notes);
        Comments(main, sheets, notes);
    }

    /// <summary>What colours mean, where a cell beside the table says so.</summary>
    public static SideTable? Legend(Block main, List<BlockFinder> finders)
    {
        int colour = main.Columns.FindLastIndex(column => column.Name.StartsWith(ColourColumn, StringComparison.Ordinal));
        if (colour < 0)
            return null;
        HashSet<string> fills = [.. main.Rows.Select(row => row.Cells[colour]?.Value.Text).OfType<string>()];
        (string Fill, TidyCell Text)[] entries = [.. finders.SelectMany(finder => finder.Legend).Where(entry =>
            fills.Contains(entry.Fill))];
        return entries.Length == 0 ? null : new SideTable(
            [new TidyColumn(ColourColumn, null, entries[0].Text.Place), new TidyColumn("legend", null, entries[0].Text.Place)],
            [.. entries.Select(entry => new[] { entry.Text with { Value = SheetCell.OfText(entry.Fill) }, entry.Text })]);
    }

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

    private static void Colours(Block main, List<BlockFinder> finders, LayoutNotes notes)
    {
        int width = main.Columns.Count;
        // a column in one colour from top to bottom was coloured for looks
        bool[] isUniform = [.. Enumerable.Range(0, width).Select(i => main.Rows.Select(row => FillOf(row, i)).Distinct().Count() < 2)];
        string?[] fills = [.. main.Rows.Select(row => Enumerable.Range(0, width).Where(i => !isUniform[i]).Select(i => FillOf(row, i))
            .OfType<string>().GroupBy(fill => fill).OrderByDescending(group => group.Count()).FirstOrDefault()?.Key)];
        if (Array.TrueForAll(fills, fill => fill is null))
            return;
        Dictionary<string, string> legend = [];
        foreach ((string fill, TidyCell text) in finders.SelectMany(finder => finder.Legend).Where(entry => fills.Contains(entry.Fill)))
            legend.TryAdd(fill, text.Value.Text.Trim());
        bool isZebra = legend.Count == 0 && fills.Length > 3 && fills.Distinct().Count() == 2
            && Enumerable.Range(1, fills.Length - 1).All(i => fills[i] != fills[i - 1]);
        foreach ((BlockRow row, string? fill) in main.Rows.Zip(fills))
        {
            if (fill is null)
                continue;
            string? meaning = legend.GetValueOrDefault(fill);
            notes.Tell(isZebra ? "colours-alternate" : "colours", Array.Find(row.Cells, cell => cell?.Look?.Fill == fill),
                meaning is null ? "#" + fill : $"#{fill} = {meaning}");
        }
        Dictionary<BlockRow, string?> byRow = new(ReferenceEqualityComparer.Instance);
        for (int i = 0; i < fills.Length; i++)
            byRow[main.Rows[i]] = fills[i];
        main.Add(new TidyColumn(ColourColumn, null, main.Columns[0].Place), row => byRow[row] is { } fill
            ? new TidyCell(SheetCell.OfText(fill), Array.Find(row.Cells, cell => cell?.Look?.Fill == fill)!.Place, null) : null);

        static string? FillOf(BlockRow row, int column) => row.Cells[column] is { } cell && row.Owns(cell) ? cell.Look?.Fill : null;
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
