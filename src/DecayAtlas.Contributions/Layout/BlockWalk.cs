namespace DecayAtlas.Contributions.Layout;

/// <summary>Goes down the rows of a table from its header to its end, and says of each what it is.</summary>
internal sealed class BlockWalk(SheetGrid grid, int[] rows, int left, int right, LayoutNotes notes, ReadingTime time, BlockFinder finder)
{
    private readonly List<(TidyCell Cell, int Before)> _lines = [];
    private readonly List<BlockRow> _kept = [];
    private readonly HashSet<int> _repeats = [];
    private readonly List<(int Before, string?[] Units)> _units = [];
    private int[] _columns = [];
    private (int Number, int Label)[] _seen = [];
    private HashSet<string> _shapes = [];
    private int _end;

    /// <param name="header">Places in the list of rows.</param>
    /// <param name="above">The line above the header, if there is one.</param>
    /// <returns>The place behind the table.</returns>
    public int Walk((int Top, int Bottom) header, TidyCell? above)
    {
        GridRow[] names = [.. rows[header.Top..(header.Bottom + 1)].Select(i => grid.Rows[i])];
        GridRow lowest = names[^1];
        int at = header.Bottom + 1;
        GridRow? units = null;
        if (at < rows.Length && BlockFinder.IsUnits(grid.Rows[rows[at]], left, right))
            units = grid.Rows[rows[at++]];
        int body = at;
        _end = End(names, body);
        _columns = [.. Enumerable.Range(left, right - left + 1).Where(column => Enumerable.Range(header.Top, _end - header.Top)
            .Any(i => grid.Rows[rows[i]].Natures[column] != CellNature.Empty))];
        if (_columns.Length == 0)
            return _end;
        Block block = new(grid.Name, grid.IsHidden, Named(names, lowest, units))
        {
            Groups = [.. HeaderName.GroupsOf(names, left, right).Select(level => Array.ConvertAll(_columns, i => level[i - left]))],
        };
        if (units is not null)
            notes.Tell("unit-row", units.First(left, right));
        if (names.Length > 1)
            notes.Tell("header-rows", names[0].First(left, right), count: names.Length);
        _seen = new (int, int)[_columns.Length];
        _shapes = ShapesOfFirst(body);
        int last = names[^1].Number;
        for (at = body; at < _end; at++)
        {
            time.Ask();
            GridRow row = grid.Rows[rows[at]];
            if (row.Number - last > 1 && _kept.Count > 0)
                notes.Tell("blank-rows", null, count: row.Number - last - 1);
            last = row.Number;
            Take(row, names, at);
        }
        Titles(block, above);
        OwnUnits.ByRows(block, _units, notes);
        finder.Blocks.Add(block);
        return _end;
    }

    // Where the table ends: at names of other columns, or at what follows it after a blank row and is much narrower.
    private int End(GridRow[] names, int body)
    {
        int lastFull = body - 1;
        int[] filled = [.. rows.Skip(body).Take(50).Select(i => grid.Rows[i].Filled(left, right)).Order()];
        int usual = filled.Length == 0 ? 0 : filled[filled.Length / 2];
        int end = rows.Length;
        (int Number, int Label)[] seen = new (int, int)[right - left + 1];
        for (int at = body; at < rows.Length; at++)
        {
            GridRow row = grid.Rows[rows[at]];
            if (at > body && IsOtherHeader(row, names, at, seen))
            {
                end = at;
                break;
            }
            int there = row.Filled(left, right);
            if (there * 2 < usual || (there * 2 == usual && IsOfOtherKind(row, seen)))
                continue;
            lastFull = at;
            for (int i = left; i <= right; i++)
            {
                seen[i - left].Number += row.Natures[i] is CellNature.Number or CellNature.Date ? 1 : 0;
                seen[i - left].Label += row.Natures[i] == CellNature.Label ? 1 : 0;
            }
        }
        for (int at = lastFull + 1; at < end; at++)
        {
            bool isApart = grid.Rows[rows[at]].Number - grid.Rows[rows[at - 1]].Number > 1;
            GridRow row = grid.Rows[rows[at]];
            if (usual > 2 && ((isApart && !LooksLikeRow(row, body, lastFull)) || IsOfOtherKind(row, seen)))
                return at;
        }
        // a line right above other names is their title
        while (end < rows.Length && end - 1 > lastFull && grid.Rows[rows[end - 1]].Filled(left, right) == 1)
            end--;
        return end;
    }

    // A name under numbers and a number under names: a small table of its own, right below.
    private bool IsOfOtherKind(GridRow row, (int Number, int Label)[] seen)
    {
        int judged = 0;
        for (int i = left; i <= right; i++)
        {
            bool isNumber = row.Natures[i] is CellNature.Number or CellNature.Date;
            if (!isNumber && row.Natures[i] != CellNature.Label)
                continue;
            (int numbers, int labels) = seen[i - left];
            judged++;
            if (isNumber ? labels <= numbers : numbers <= labels)
                return false;
        }
        return judged > 1;
    }

    private bool LooksLikeRow(GridRow row, int body, int lastFull) =>
        row.Natures[left] != CellNature.Empty && body <= lastFull && Enumerable.Range(body, Math.Min(200, lastFull - body + 1))
            .Any(i => Shape(grid.Rows[rows[i]].Cells[left]) == Shape(row.Cells[left]) && Shape(row.Cells[left]).Contains('9',
                StringComparison.Ordinal));

    private bool IsOtherHeader(GridRow row, GridRow[] names, int at, (int Number, int Label)[] seen)
    {
        if (row.Values(left, right) > 0 || row.Labels(left, right) < 2 || IsRepeated(row, names)
            || !finder.IsHeader(rows, at, left, right))
        {
            return false;
        }
        HashSet<string> others = [];
        int mismatched = 0, known = 0;
        for (int i = left; i <= right; i++)
        {
            if (row.Natures[i] != CellNature.Label)
                continue;
            (int numbers, int labels) = seen[i - left];
            if (numbers + labels == 0)
                continue;
            known++;
            if (numbers > 2 * labels && others.Add(LayoutWords.Fold(row.Cells[i]!.Value.Text)))
                mismatched++;
        }
        bool isApart = grid.Rows[rows[at]].Number - grid.Rows[rows[at - 1]].Number > 1 || grid.Rows[rows[at - 1]].Filled(left, right) == 1;
        return mismatched >= 2 || (isApart && (mismatched >= 1 || known == 0));
    }

    private bool IsRepeated(GridRow row, GridRow[] names)
    {
        foreach (GridRow name in names)
        {
            int same = 0, filled = 0;
            for (int i = left; i <= right; i++)
            {
                if (row.Natures[i] == CellNature.Empty)
                    continue;
                filled++;
                same += name.Natures[i] != CellNature.Empty
                    && LayoutWords.Fold(name.Cells[i]!.Value.Text) == LayoutWords.Fold(row.Cells[i]!.Value.Text) ? 1 : 0;
            }
            if (same >= 2 && same >= 0.8 * filled)
                return true;
        }
        return false;
    }

    private List<TidyColumn> Named(GridRow[] names, GridRow lowest, GridRow? units)
    {
        string[] texts = HeaderName.Of(names, left, right);
        HashSet<string> taken = new(StringComparer.OrdinalIgnoreCase);
        List<TidyColumn> columns = [];
        foreach (int column in _columns)
        {
            string name = texts[column - left];
            TidyCell? at = names.Select(row => row.Cells[column]).LastOrDefault(cell => cell is not null);
            CellPlace place = at?.Place ?? (lowest.First(left, right)?.Place ?? default) with { Column = column };
            if (name.Length > FieldSchema.LongestOfAll)
                name = name[..FieldSchema.LongestOfAll];
            if (name.Length == 0)
            {
                name = "column " + CellReference.Letters(column);
                notes.Tell("unnamed-columns", null, name);
            }
            string unique = name;
            for (int i = 2; !taken.Add(unique); i++)
                unique = Invariant($"{name} {i}");
            string? unit = units is not null && units.Natures[column] != CellNature.Empty
                ? LayoutWords.UnitIn(units.Cells[column]!.Value.Text)
                : null;
            columns.Add(new TidyColumn(unique, unit, place));
        }
        return columns;
    }

    private string?[] Units(GridRow row, Func<string, string?> unitIn) => Array.ConvertAll(_columns, column =>
        row.Natures[column] == CellNature.Empty ? null : unitIn(row.Cells[column]!.Value.Text));

    private void Take(GridRow row, GridRow[] names, int at)
    {
        int filled = row.Filled(left, right);
        bool hasValues = row.Values(left, right) > 0;
        if (!hasValues && IsRepeated(row, names))
        {
            notes.Tell("header-repeated", row.First(left, right));
            _repeats.Add(_kept.Count);
            _units.Add((_kept.Count, Units(row, OwnUnits.InName)));
            return;
        }
        if (!hasValues && filled > 1 && BlockFinder.IsUnits(row, left, right))
        {
            _units.Add((_kept.Count, Units(row, LayoutWords.UnitIn)));
            notes.Tell("unit-row", row.First(left, right));
            return;
        }
        if (row.First(left, right) is { } first && LayoutWords.IsExample(first.Value.Text))
        {
            notes.Tell("example-rows", first);
            return;
        }
        // what stands above names that are said again on the next page
        if (filled > 1 && filled * 3 <= _columns.Length && at + 1 < _end && IsRepeated(grid.Rows[rows[at + 1]], names))
        {
            finder.Lines.AddRange(BlockFinder.Cells(row, left, right));
            return;
        }
        if (filled == 1 && row.First(left, right) is { } only && !IsRowOfOne(row, only))
        {
            // a blank cell in a colour, and beside it what the colour means
            if (only.Look?.Fill is null && BlockFinder.LegendOf(row, only, left, right) is { } fill)
                finder.Legend.Add((fill, only));
            _lines.Add((only, _kept.Count));
            return;
        }
        TidyCell?[] cells = new TidyCell?[_columns.Length];
        for (int i = 0; i < cells.Length; i++)
        {
            int column = _columns[i];
            if (row.Natures[column] == CellNature.Empty && row.Cells[column] is null)
                continue;
            // what is merged over several columns stands in the first of them, a row of words over all of a lost bag too
            if (column > left && row.Cells[column] is { } cell && ReferenceEquals(cell, row.Cells[column - 1]))
                continue;
            cells[i] = row.Cells[column];
        }
        _kept.Add(new BlockRow(row.Number, cells, null, grid.IsTurned));
    }

    // A row with nothing but its number, such as that of a lost bag.
    private bool IsRowOfOne(GridRow row, TidyCell only)
    {
        if (_columns.Length <= 1)
            return true;
        bool isInFirst = ReferenceEquals(row.Cells[_columns[0]], only) && (right == left || !ReferenceEquals(row.Cells[right], only));
        return isInFirst ? _shapes.Contains(Shape(only)) : only.Value.Kind is SheetCellKind.Number or SheetCellKind.Date
            || CellNatures.Of(only.Value) is CellNature.Number or CellNature.Date;
    }

    private HashSet<string> ShapesOfFirst(int body)
    {
        HashSet<string> shapes = [];
        for (int at = body; at < _end; at++)
        {
            GridRow row = grid.Rows[rows[at]];
            if (row.Natures[_columns[0]] != CellNature.Empty && row.Filled(left, right) > 1)
                shapes.Add(Shape(row.Cells[_columns[0]]));
            if (shapes.Count > 50)
                break;
        }
        shapes.RemoveWhere(shape => !shape.Contains('9', StringComparison.Ordinal));
        return shapes;
    }

    // B-12 and F-7 have the same shape.
    private static string Shape(TidyCell? cell)
    {
        if (cell is null)
            return "";
        System.Text.StringBuilder shape = new();
        foreach (char c in cell.Value.Text.Trim().AsSpan(0, Math.Min(40, cell.Value.Text.Trim().Length)))
        {
            char kind = char.IsAsciiDigit(c) ? '9' : char.IsLetter(c) ? 'a' : c;
            if (shape.Length == 0 || shape[^1] != kind || kind is not ('9' or 'a'))
                shape.Append(kind);
        }
        return shape.ToString();
    }

    // Lines between rows name those below them where the first rows have one; otherwise they are remarks.
    private void Titles(Block block, TidyCell? above)
    {
        int[] befores = [.. _lines.Select(line => line.Before)];
        bool areTitles = _lines.Count > 0 && befores[0] == 0 && befores.Distinct().Count() > 1
            && befores.Where((before, i) => i + 1 < befores.Length && befores[i + 1] == before).Count() <= befores.Length / 3
            && befores.Count(before => before < _kept.Count) > 1;
        // a line above names that are said again is the title of what follows, and that above the first of them is one too
        bool areAboveNames = _repeats.Count > 0 && befores.Count(_repeats.Contains) >= _repeats.Count;
        if (areAboveNames && above is not null)
            finder.Lines.Remove(above);
        if (!areTitles && !areAboveNames && _lines.Exists(line => line.Before > 0 && line.Before < _kept.Count)
            && _lines.TrueForAll(line => line.Before == _kept.Count || line.Cell.Value.Text.Length <= 60))
        {
            // a line right above the names is likely to be the first of them
            areTitles = notes.Ask("title-lines", "", _lines.Count, _lines.Select(line => line.Cell),
                above is null ? ["remark", "title"] : ["title", "remark"]) == "title";
            if (areTitles && above is not null)
            {
                areAboveNames = true;
                finder.Lines.Remove(above);
            }
        }
        int next = 0;
        TidyCell? title = areAboveNames ? above : null;
        List<BlockRow> titled = [];
        for (int i = 0; i <= _kept.Count; i++)
        {
            while (next < _lines.Count && _lines[next].Before == i)
            {
                if ((areTitles && i < _kept.Count) || (areAboveNames && _repeats.Contains(i)))
                {
                    title = _lines[next].Cell;
                    notes.Tell("title-lines", title);
                }
                else
                {
                    finder.Lines.Add(_lines[next].Cell);
                }
                next++;
            }
            if (i < _kept.Count)
                titled.Add(_kept[i] with { Title = title });
        }
        block.Rows = titled;
    }
}
