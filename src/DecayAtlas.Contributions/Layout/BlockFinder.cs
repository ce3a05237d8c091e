namespace DecayAtlas.Contributions.Layout;

/// <summary>Finds the tables of a sheet, what stands beside them, and what is no table at all. Every row comes out somewhere: as a row of a
/// block, as a small table, or told.</summary>
internal sealed class BlockFinder(SheetGrid grid, LayoutNotes notes, ReadingTime time, int? headerRow)
{
    // Rows of names of columns that may stand one above another.
    private const int MostHeaderRows = 3;

    public List<Block> Blocks { get; } = [];

    /// <summary>Name and value beside each other.</summary>
    public List<NamedValue> Pairs { get; } = [];

    /// <summary>Colours with the texts that stand in or beside them, and may say what they mean.</summary>
    public List<(string Fill, TidyCell Text)> Legend { get; } = [];

    /// <summary>Lines that stand for themselves: titles, legends, remarks.</summary>
    public List<TidyCell> Lines { get; } = [];

    public void Find()
    {
        if (grid.Rows.Count == 0)
            return;
        foreach ((int left, int right) in SheetRegions.Of(grid, headerRow))
            Region(0, grid.Rows.Count, left, right);
    }

    /// <summary>Why the row that was said to hold the names of columns does not: what stands in it, and the row that seems to; null where
    /// it may.</summary>
    public (string Found, int Likely)? WhyNoHeader()
    {
        foreach ((int left, int right) in SheetRegions.Of(grid, headerRow))
        {
            int[] rows = [.. Enumerable.Range(0, grid.Rows.Count).Where(i => grid.Rows[i].Filled(left, right) > 0)];
            int said = Array.FindIndex(rows, i => grid.Rows[i].Number == headerRow);
            BlockFinder free = new(grid, notes, time, null);
            if (said < 0 || free.HeaderAt(rows, 0, left, right, isFirst: true) is not { } header || header.Bottom == said)
                continue;
            GridRow row = grid.Rows[rows[said]];
            int likely = grid.Rows[rows[header.Bottom]].Number;
            bool isData = said > header.Bottom && row.Values(left, right) > 0 && !AreDaysOfWeighing(rows, said, left, right);
            bool isAbove = said < header.Bottom && (said < header.Top || IsHeader(rows, header.Bottom, left, right));
            if (isData || isAbove)
            {
                string text = string.Join(" | ", Cells(row, left, right).Select(cell => cell.Value.Text.Trim()));
                return (text, likely);
            }
        }
        return null;
    }

    private void Region(int first, int end, int left, int right)
    {
        int[] rows = [.. Enumerable.Range(first, end - first).Where(i => grid.Rows[i].Filled(left, right) > 0)];
        if (rows.Length == 0)
            return;
        if (headerRow is null && TurnedTable.In(grid, rows, left, right) is { } lying
            && (lying.IsCertain || notes.Ask("turned", "", 1, [grid.Rows[lying.First].First(left, right)], "turn", "keep") == "turn"))
        {
            Small([.. rows.Where(i => i < lying.First)], left, right);
            notes.Tell("turned", grid.Rows[lying.First].First(left, right), grid.Name);
            SheetGrid turned = grid.Turned(lying.First, lying.End, left, right);
            BlockFinder inner = new(turned, notes, time, null);
            inner.Region(0, turned.Rows.Count, 0, turned.Width - 1);
            Blocks.AddRange(inner.Blocks);
            Pairs.AddRange(inner.Pairs);
            Lines.AddRange(inner.Lines);
            Legend.AddRange(inner.Legend);
            Small([.. rows.Where(i => i >= lying.End)], left, right);
            return;
        }
        int at = 0;
        if (HeaderAt(rows, 0, left, right, isFirst: true) is not { } header)
        {
            Small(rows, left, right);
            return;
        }
        int pairs = Pairs.Count, lines = Lines.Count;
        Small(rows.AsSpan(0, header.Top), left, right);
        while (true)
        {
            int blocks = Blocks.Count;
            (NamedValue[] pairsAbove, TidyCell[] linesAbove) = ([.. Pairs.Skip(pairs)], [.. Lines.Skip(lines)]);
            at = new BlockWalk(grid, rows, left, right, notes, time, this).Walk(header, linesAbove.LastOrDefault());
            if (Blocks.Count > blocks)
                (Blocks[^1].PairsAbove, Blocks[^1].LinesAbove) = (pairsAbove, linesAbove);
            (pairs, lines) = (Pairs.Count, Lines.Count);
            if (at >= rows.Length)
                return;
            if (HeaderAt(rows, at, left, right, isFirst: false) is not { } next)
            {
                Small(rows.AsSpan(at), left, right);
                return;
            }
            Small(rows.AsSpan(at, next.Top - at), left, right);
            header = next;
        }
    }

    /// <summary>The next rows of names of columns, by their places in the list of rows.</summary>
    public (int Top, int Bottom)? HeaderAt(int[] rows, int from, int left, int right, bool isFirst)
    {
        if (isFirst && headerRow is { } wished && Array.FindIndex(rows, i => grid.Rows[i].Number == wished) is >= 0 and int said)
            return (TopOf(rows, said, left, right), said);
        int widest = !isFirst ? 0 : rows.Skip(from).Select(i => grid.Rows[i].Filled(left, right)).DefaultIfEmpty().Max();
        foreach (double share in isFirst ? [0.5, 0.0] : new[] { 0.0 })
        {
            for (int at = from; at < rows.Length; at++)
            {
                double least = share == 0 ? 3 : Math.Max(share * widest, 2);
                int filled = grid.Rows[rows[at]].Filled(left, right);
                if (filled < least || !IsHeader(rows, at, left, right) || (filled == 2 && !IsSmallTable(rows, at, left, right)))
                    continue;
                int bottom = at > from && IsRowOfWords(rows, at, left, right) ? at - 1 : at, top = TopOf(rows, bottom, left, right);
                while (bottom - top + 1 < MostHeaderRows && bottom + 1 < rows.Length && IsBelowGroups(rows, top, bottom + 1, left, right))
                    bottom++;
                return (top, bottom);
            }
        }
        return null;
    }

    /// <summary>Whether a row names columns: words only, and rows with values below them.</summary>
    public bool IsHeader(int[] rows, int at, int left, int right)
    {
        GridRow row = grid.Rows[rows[at]];
        if (row.Labels(left, right) < 2 || IsUnits(row, left, right) || (row.Values(left, right) > 0 && !AreDaysOfWeighing(rows, at, left,
            right)))
        {
            return false;
        }
        int filled = row.Filled(left, right), seen = 0;
        for (int next = at + 1; next < rows.Length && seen < 3; next++, seen++)
        {
            GridRow below = grid.Rows[rows[next]];
            if (IsUnits(below, left, right))
                continue;
            if (below.Values(left, right) == 0)
            {
                // another row of words, which is the header rather than this one, or the first row of a table with words only
                if (below.Filled(left, right) > 1 && below.Filled(left, right) * 2 >= filled
                    && !IsBelowGroups(rows, at, next, left, right))
                {
                    return false;
                }
                continue;
            }
            int under = 0;
            for (int i = left; i <= right; i++)
            {
                if (row.Natures[i] != CellNature.Empty && below.Natures[i] != CellNature.Empty)
                    under++;
            }
            return under >= Math.Min(2, below.Filled(left, right)) && filled * 2 >= below.Filled(left, right);
        }
        return false;
    }

    // A first row of data without a number, as that of a lost bag: what stands in it stands again below it, and names stand above it.
    private bool IsRowOfWords(int[] rows, int at, int left, int right)
    {
        GridRow row = grid.Rows[rows[at]], above = grid.Rows[rows[at - 1]];
        if (row.Number - above.Number > 1 || above.Values(left, right) > 0 || above.Labels(left, right) < row.Labels(left, right))
            return false;
        for (int next = at + 1; next < Math.Min(rows.Length, at + 12); next++)
        {
            GridRow below = grid.Rows[rows[next]];
            for (int i = left; i <= right; i++)
            {
                if (row.Natures[i] == CellNature.Label && below.Natures[i] == CellNature.Label
                    && row.Cells[i]!.Value.Text.Trim() == below.Cells[i]!.Value.Text.Trim())
                {
                    return true;
                }
            }
        }
        return false;
    }

    // Names that only stand under groups, while other columns have theirs in the row of the groups: litter, and below it the weighings.
    private bool IsBelowGroups(int[] rows, int top, int at, int left, int right)
    {
        GridRow groups = grid.Rows[rows[top]], row = grid.Rows[rows[at]];
        if (row.Number - grid.Rows[rows[at - 1]].Number != 1 || row.Values(left, right) > 0 || row.Labels(left, right) < 2
            || row.Labels(left, right) != row.Filled(left, right) || IsUnits(row, left, right) || IsRowOfWords(rows, at, left, right))
        {
            return false;
        }
        for (int i = left; i <= right; i++)
        {
            bool isInGroup = groups.Natures[i] == CellNature.Empty || IsOne(i, i - 1) || IsOne(i, i + 1)
                || (i < right && groups.Natures[i + 1] == CellNature.Empty && row.Natures[i + 1] != CellNature.Empty);
            if (row.Natures[i] != CellNature.Empty && !isInGroup)
                return false;
        }
        return Enumerable.Range(left, right - left + 1).Any(i => groups.Natures[i] != CellNature.Empty
            && row.Natures[i] == CellNature.Empty);

        bool IsOne(int i, int beside) => beside >= left && beside <= right && groups.Cells[i] is { } cell
            && ReferenceEquals(cell, groups.Cells[beside]);
    }

    // Days over columns of numbers: when what is below was weighed.
    private bool AreDaysOfWeighing(int[] rows, int at, int left, int right)
    {
        if (at + 1 >= rows.Length)
            return false;
        GridRow row = grid.Rows[rows[at]], below = grid.Rows[rows[at + 1]];
        for (int i = left; i <= right; i++)
        {
            if (row.Natures[i] == CellNature.Number || (row.Natures[i] == CellNature.Date && below.Natures[i] != CellNature.Number))
                return false;
        }
        return true;
    }

    public static bool IsUnits(GridRow row, int left, int right)
    {
        bool hasUnit = false;
        int sides = 0;
        for (int i = left; i <= right; i++)
        {
            if (row.Natures[i] == CellNature.Empty)
                continue;
            string text = row.Cells[i]!.Value.Text;
            if (!LayoutWords.MayStandBesideUnits(text))
                return false;
            bool isSide = LayoutWords.IsSide(text);
            sides += isSide ? 1 : 0;
            hasUnit |= !isSide && LayoutWords.UnitIn(text) is not null;
        }
        return hasUnit || sides > 1;
    }

    // Rows of names above the last: groups of columns, or the first half of a name that was broken in two.
    private int TopOf(int[] rows, int bottom, int left, int right)
    {
        int top = bottom;
        while (top > 0 && bottom - top + 1 < MostHeaderRows && grid.Rows[rows[top]].Number - grid.Rows[rows[top - 1]].Number == 1
            && HeaderName.IsUpper(grid.Rows[rows[top - 1]], grid.Rows[rows[top]], left, right))
        {
            top--;
        }
        return top;
    }

    /// <summary>Rows that make no table: pairs of name and value, small tables, lines.</summary>
    public void Small(ReadOnlySpan<int> rows, int left, int right)
    {
        int[] list = rows.ToArray();
        for (int at = 0; at < list.Length;)
        {
            time.Ask();
            if (IsHeader(list, at, left, right) && IsSmallTable(list, at, left, right))
            {
                at = new BlockWalk(grid, list, left, right, notes, time, this).Walk((TopOf(list, at, left, right), at), null);
                continue;
            }
            PairsOf(grid.Rows[list[at++]], left, right);
        }
    }

    // Two columns are a table where the second has a unit in its name, or where what stands in the first has numbers as lots have.
    private bool IsSmallTable(int[] rows, int at, int left, int right)
    {
        GridRow header = grid.Rows[rows[at]];
        if (header.Filled(left, right) >= 3)
            return true;
        TidyCell[] names = [.. Cells(header, left, right)];
        int below = 0, withDigit = 0;
        for (int next = at + 1; next < rows.Length && grid.Rows[rows[next]].Filled(left, right) == 2; next++)
        {
            below++;
            withDigit += grid.Rows[rows[next]].First(left, right)!.Value.Text.Any(char.IsAsciiDigit) ? 1 : 0;
        }
        return below > 0 && !names[0].Value.Text.TrimEnd().EndsWith(':')
            && (names[^1].Value.Text.AsSpan().ContainsAny('(', '[') || withDigit == below);
    }

    private void PairsOf(GridRow row, int left, int right)
    {
        List<TidyCell> cells = [.. Cells(row, left, right)];
        bool isLegend = cells.Count > 0 && LayoutWords.IsLegend(cells[0].Value.Text);
        for (int i = 0; i < cells.Count; i++)
        {
            TidyCell cell = cells[i];
            if (LegendOf(row, cell, left, right) is { } fill)
                Legend.Add((fill, cell));
            string text = cell.Value.Text.Trim();
            bool isNamed = text.IndexOf(": ", StringComparison.Ordinal) is > 0 and <= 40;
            if (!isLegend && !isNamed && i + 1 < cells.Count && text.Length <= 60 && CellNatures.Of(cell.Value) == CellNature.Label
                && cells[i + 1].Place.Column - cell.Place.Column <= 3)
            {
                Pairs.Add(new NamedValue(cell with { Value = SheetCell.OfText(text.TrimEnd(':', '=', ' ')) }, cells[++i]));
                if (LegendOf(row, cells[i], left, right) is { } other)
                    Legend.Add((other, cell.Look?.Fill is null ? cell : cells[i]));
                continue;
            }
            // several in one line: Mare : du 26/05 au 16/08 ; Bois : du 26/05 au 01/09
            string[] parts = text.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
            if (parts.Length == 0 || parts.Length > 12 || Array.Exists(parts, part => part.IndexOf(": ",
                StringComparison.Ordinal) is not (> 0 and <= 40)))
            {
                parts = [text];
            }
            if (!isNamed || text.Length > 400)
            {
                Lines.Add(cell);
                continue;
            }
            foreach (string part in parts)
            {
                int colon = part.IndexOf(": ", StringComparison.Ordinal);
                Pairs.Add(new NamedValue(cell with { Value = SheetCell.OfText(part[..colon].Trim()) },
                    cell with { Value = SheetCell.OfText(part[(colon + 1)..].Trim()) }));
            }
        }
    }

    // The colour of a cell with text in it, or of a blank one beside it.
    public static string? LegendOf(GridRow row, TidyCell cell, int left, int right)
    {
        if (cell.Look?.Fill is { } own)
            return own;
        int column = cell.Place.Column;
        foreach (int beside in new[] { column - 1, column + 1 })
        {
            if (beside >= left && beside <= right && beside < row.Cells.Length && row.Natures[beside] == CellNature.Empty
                && row.Cells[beside]?.Look?.Fill is { } fill)
            {
                return fill;
            }
        }
        return null;
    }

    public static IEnumerable<TidyCell> Cells(GridRow row, int left, int right)
    {
        for (int i = left; i <= right; i++)
        {
            if (row.Natures[i] != CellNature.Empty && (i == left || !ReferenceEquals(row.Cells[i], row.Cells[i - 1])))
                yield return row.Cells[i]!;
        }
    }
}
