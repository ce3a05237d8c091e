namespace DecayAtlas.Contributions.Layout;

/// <summary>
/// Lays out what people send as one table with a row a record. Nothing is left out without being told, and what may be read in more than
/// one way is among the readings of the table, of which the first is taken where nobody says otherwise.
/// </summary>
internal static class TableLayout
{
    // Names and values of a form; more are something else.
    private const int LongestForm = 100;

    /// <param name="phrases">The language in which it is told; null where only the table is wanted.</param>
    /// <returns>Null where there is no table, and then the findings say what there is.</returns>
    public static TidyTable? Of(IReadOnlyList<PackageFile> files, LayoutWishes wishes, Phrases? phrases, IntakeLimits limits,
        FindingList findings)
    {
        int before = findings.Count;
        List<SeenFile> opened = [];
        foreach (PackageFile file in files)
        {
            if (SheetFile.Open(file, wishes.Separator, limits, findings) is { } seen)
                opened.Add(seen);
        }
        if (findings.Count > before || opened.Count == 0)
            return null;
        LayoutNotes notes = new(phrases, wishes);
        foreach (SeenFile drawn in opened.Where(file => file.Pictures > 0))
            notes.Tell("picture", null, count: drawn.Pictures);
        if (opened.Exists(file => file.IsPage && !file.Path.Contains(".htm", StringComparison.OrdinalIgnoreCase)))
            notes.Tell("web-page", null);
        foreach (SeenFile text in opened.Where(file => file.Encoding is not null))
            notes.Tell("encoding", null, text.Encoding);
        return Of(opened, notes, findings);
    }

    private static TidyTable? Of(List<SeenFile> files, LayoutNotes notes, FindingList findings)
    {
        LayoutWishes wishes = notes.Wishes;
        SeenSheet[] sheets = [.. files.SelectMany(file => file.Sheets).Where(sheet => sheet.Sheet.Rows.Count > 0)];
        string name = files[0].Path;
        if (wishes.Sheet is { } wanted)
        {
            if (Array.TrueForAll(sheets, sheet => sheet.Sheet.Name is null))
            {
                findings.Add(FindingCode.SheetMissing, name, "a table of text, which has no sheets", "a workbook, where a sheet is named",
                    "leave the name of the sheet out");
                return null;
            }
            string all = string.Join(", ", sheets.Select(sheet => FindingText.Quote(sheet.Sheet.Name)));
            sheets = [.. sheets.Where(sheet => string.Equals(sheet.Sheet.Name?.Trim(), wanted.Trim(), StringComparison.OrdinalIgnoreCase))];
            if (sheets.Length == 0)
            {
                findings.Add(FindingCode.SheetMissing, name, $"no sheet {FindingText.Quote(wanted)} with anything in it",
                    all.Length == 0 ? "a sheet with a table" : $"one of {all}", "correct the name of the sheet");
                return null;
            }
        }
        if (wishes.HeaderRow is { } row && !Array.Exists(sheets, sheet => sheet.Sheet.Rows.Any(one => one.Row == row)))
        {
            findings.Add(new Finding(FindingCode.HeaderMissing, name, row, null, "nothing in the row that was said to hold the names of "
                + "columns", "a row with the names of the columns", "correct the number of the header row, or leave it out"));
            return null;
        }
        List<Block> blocks = [];
        List<BlockFinder> finders = [];
        foreach (SeenSheet seen in sheets)
        {
            BlockFinder finder = new(SheetGrid.Of(seen, findings.Time), notes, findings.Time, wishes.HeaderRow);
            if (wishes.HeaderRow is { } said && finder.WhyNoHeader() is { } why)
            {
                findings.Add(new Finding(FindingCode.HeaderMissing, name, said, null,
                    $"{FindingText.Quote(why.Found)} in the row that was said to hold the names of columns", "the names of the columns",
                    Invariant($"take row {why.Likely}, where names seem to stand, or leave the number out"))
                { Sheet = seen.Sheet.Name });
                return null;
            }
            finder.Find();
            foreach (Block block in finder.Blocks)
                AggregateRows.TakeOut(block, notes, findings.Time);
            foreach (Block block in finder.Blocks)
                FillDown.In(block, notes);
            blocks.AddRange(finder.Blocks.Where(block => block.Rows.Count > 0).Select(block => GroupsBeside.Apart(block, finder, notes)));
            finders.Add(finder);
        }
        if (blocks.Count == 0)
            blocks.AddRange(finders.Where(finder => finder.Pairs.Count is > 2 and <= LongestForm).Select(finder => Form(finder, notes)));
        if (blocks.Count == 0)
        {
            findings.Add(NoTable(name, files, sheets, finders));
            return null;
        }
        BlockJoiner joiner = new(blocks, notes, findings.Time);
        Block main = joiner.Main();
        if (Shifted(files, main) is { } shifted)
        {
            findings.Add(shifted);
            return null;
        }
        RowLooks.Into(main, sheets, finders, notes);
        joiner.Beside(main);
        main = PartedCells.In(WeighingRows.Joined(main, notes), notes, findings.Time);
        List<SideTable> beside = [.. joiner.Left.Select(block => block.AsSide())];
        beside.AddRange(finders.SelectMany(finder => finder.Pairs).Where(pair => !joiner.UsedPairs.Contains(pair))
            .Select(pair => pair.AsSide()));
        if (RowLooks.Legend(main, finders) is { } legend)
            beside.Add(legend);
        foreach (SideTable side in beside)
            notes.Tell("side-tables", side.Rows[0][0], side.Columns.Count == 1 ? side.Columns[0].Name : null);
        TidyCell[] lines = [.. finders.SelectMany(finder => finder.Lines)
            .Where(line => !joiner.Used.Contains(line))];
        foreach (TidyCell line in lines)
            notes.Tell("lines", line);
        if (lines.Length > 0)
            beside.Add(new SideTable([new TidyColumn(SideTable.Lines, null, lines[0].Place)], [.. lines.Select(line => new[] { line })]));
        if (main.Rows.Count == 0)
        {
            findings.Add(FindingCode.TableEmpty, name, "a header without rows that count", "at least one row", "fill in the table");
            return null;
        }
        IReadOnlyList<TidyColumn> columns = WithUnits(main, sheets);
        return new TidyTable(columns, main.Cells(), beside, files.TrueForAll(file => file.IsText), files[0].IsDate1904, notes.All(),
            notes.Readings);
    }

    // A form has a name and a value a line, and is one record.
    private static Block Form(BlockFinder finder, LayoutNotes notes)
    {
        List<NamedValue> pairs = [.. finder.Pairs.DistinctBy(pair => LayoutWords.Fold(pair.Name.Value.Text))];
        notes.Tell("form", pairs[0].Name);
        TidyCell first = pairs[0].Name;
        Block block = new(first.Place.Sheet, false, [.. pairs.Select(pair => new TidyColumn(pair.Name.Value.Text, null, pair.Name.Place))])
        {
            Rows = [new BlockRow(first.Place.Row, [.. pairs.Select(pair => pair.Value)], null, false)],
        };
        finder.Pairs.RemoveAll(pairs.Contains);
        return block;
    }

    // A decimal comma in a table that is separated by commas moves all that follows by one cell.
    private static Finding? Shifted(List<SeenFile> files, Block main)
    {
        if (files is not [{ Separator: ',' }] || main.Columns.Count == 0 || main.Columns[^1].Name != "column "
            + CellReference.Letters(main.Columns[^1].Place.Column))
        {
            return null;
        }
        if (main.Rows.FirstOrDefault(row => row.Cells[^1] is not null) is not { } row)
            return null;
        return new Finding(FindingCode.RowWidth, files[0].Path, row.Number, null, "more cells than names of columns in a table that is "
            + "separated by commas", "a cell for each name", "save it with semicolons or as .xlsx, if its numbers have decimal commas; "
            + "otherwise put quotation marks round a text with a comma");
    }

    private static Finding NoTable(string name, List<SeenFile> files, SeenSheet[] sheets, List<BlockFinder> finders)
    {
        int rows = sheets.Sum(sheet => sheet.Sheet.Rows.Count), widest = sheets.SelectMany(sheet => sheet.Sheet.Rows)
            .Select(row => row.Cells.Count(cell => cell.Kind != SheetCellKind.Empty)).DefaultIfEmpty().Max();
        TidyCell? first = finders.SelectMany(finder => finder.Lines).FirstOrDefault();
        string kind = files.TrueForAll(file => file.IsText) ? "text" : "a workbook";
        int pictures = files.Sum(file => file.Pictures);
        if (pictures > 0)
        {
            kind += pictures == 1 ? " with a picture, which nothing is read from,"
                : Invariant($" with {pictures} pictures, which nothing is read from,");
        }
        string lines = rows == 1 ? "1 line" : Invariant($"{rows} lines");
        string found = rows == 0 ? kind == "text" ? "an empty file" : kind + " and with nothing in its cells"
            : widest < 2 ? Invariant($"{kind} with {lines} and no columns")
            : Invariant($"{kind} with {lines}, and none with names of columns above rows with values");
        if (first is not null)
            found += $", which begins {FindingText.Quote(first.Value.Text)}";
        return new Finding(FindingCode.HeaderMissing, name, found, "a table with a row of names and a row for each bag or burial",
            "send the table itself, or say in which row the names of its columns stand");
    }

    // Units that the format of the numbers shows behind them.
    private static List<TidyColumn> WithUnits(Block main, SeenSheet[] sheets)
    {
        Dictionary<(string File, string? Sheet), SeenSheet> byName = [];
        foreach (SeenSheet sheet in sheets.Where(sheet => sheet.Faces.Values.Any(face => face.Unit is not null || face.IsPercent)))
            byName.TryAdd((sheet.Sheet.File, sheet.Sheet.Name), sheet);
        if (byName.Count == 0)
            return main.Columns;
        return [.. main.Columns.Select((column, i) => column with { Unit = column.Unit ?? Unit(i) })];

        string? Unit(int column)
        {
            Dictionary<string, int> counts = [];
            int numbers = 0;
            foreach (TidyCell? cell in main.Rows.Select(row => row.Cells[column]))
            {
                if (cell is not { Value.Kind: SheetCellKind.Number })
                    continue;
                numbers++;
                CellFace face = byName.TryGetValue((cell.Place.File, cell.Place.Sheet), out SeenSheet? sheet)
                    ? sheet.Faces.GetValueOrDefault((cell.Place.Row, cell.Place.Column), CellFace.Plain) : CellFace.Plain;
                if ((face.IsPercent ? "%" : face.Unit) is { } shown && LayoutWords.IsUnit(shown))
                    counts[shown] = counts.GetValueOrDefault(shown) + 1;
            }
            return counts.Count == 1 && counts.Values.First() == numbers ? counts.Keys.First() : null;
        }
    }
}
