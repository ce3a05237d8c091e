namespace DecayAtlas.Contributions.Layout;

/// <summary>A row with all its cells; merged cells stand in each of the places that they cover, as the same object.</summary>
internal sealed class GridRow(int number, TidyCell?[] cells)
{
    public int Number => number;

    public TidyCell?[] Cells => cells;

    public CellNature[] Natures { get; } = Array.ConvertAll(cells, cell => cell is null ? CellNature.Empty : CellNatures.Of(cell.Value));

    /// <summary>Cells between two columns that are not blank; one that goes over several counts once.</summary>
    public int Filled(int left, int right)
    {
        int filled = 0;
        for (int i = left; i <= right; i++)
        {
            if (Natures[i] != CellNature.Empty && (i == left || !ReferenceEquals(cells[i], cells[i - 1])))
                filled++;
        }
        return filled;
    }

    public int Count(int left, int right, Predicate<CellNature> nature)
    {
        int count = 0;
        for (int i = left; i <= right; i++)
        {
            if (nature(Natures[i]) && (i == left || !ReferenceEquals(cells[i], cells[i - 1])))
                count++;
        }
        return count;
    }

    public int Values(int left, int right) => Count(left, right, nature => nature is CellNature.Number or CellNature.Date);

    public int Labels(int left, int right) => Count(left, right, nature => nature == CellNature.Label);

    public TidyCell? First(int left, int right)
    {
        for (int i = left; i <= right; i++)
        {
            if (Natures[i] != CellNature.Empty)
                return cells[i];
        }
        return null;
    }
}

/// <summary>The rows of a sheet that are not blank, as wide as the widest.</summary>
internal sealed record SheetGrid(string? Name, bool IsHidden, IReadOnlyList<GridRow> Rows, int Width)
{
    // Places that merged cells may cover; a few bytes can ask for a whole sheet, again and again.
    private const int MostCovered = 4_000_000;

    public bool IsTurned { get; init; }

    public static SheetGrid Of(SeenSheet seen, ReadingTime time)
    {
        Sheet sheet = seen.Sheet;
        int width = sheet.Rows.Count == 0 ? 0 : sheet.Rows.Max(row => row.Cells.Length);
        Dictionary<CellFace, CellLook?[]> looks = [];
        GridRow[] rows = new GridRow[sheet.Rows.Count];
        TidyCell?[][] cells = new TidyCell?[sheet.Rows.Count][];
        bool hasMerged = seen.Merged.Count > 0, hasComments = seen.Comments.Count > 0, hasFaces = seen.Faces.Count > 0;
        for (int i = 0; i < rows.Length; i++)
        {
            time.Ask();
            SheetRow row = sheet.Rows[i];
            cells[i] = new TidyCell?[width];
            bool isHidden = seen.IsHidden || seen.HiddenRows.Contains(row.Row);
            for (int column = 0; column < width; column++)
            {
                if (row[column].Kind != SheetCellKind.Empty || (hasComments && seen.Comments.ContainsKey((row.Row, column)))
                    || (hasFaces && seen.Faces.TryGetValue((row.Row, column), out CellFace? face) && face.Fill is not null))
                {
                    cells[i][column] = Cell(row, column, isHidden || seen.HiddenColumns.Contains(column));
                }
            }
            if (!hasMerged)
                rows[i] = new GridRow(row.Row, cells[i]);
        }
        if (hasMerged)
        {
            Cover(seen, cells, width, time);
            for (int i = 0; i < rows.Length; i++)
                rows[i] = new GridRow(sheet.Rows[i].Row, cells[i]);
        }
        return new SheetGrid(sheet.Name, seen.IsHidden, rows, width);

        TidyCell Cell(SheetRow row, int column, bool isHidden)
        {
            CellFace face = seen.Faces.GetValueOrDefault((row.Row, column), CellFace.Plain);
            SheetCell value = row[column];
            if (face.IsPercent && value.Kind == SheetCellKind.Number)
                value = value with { Text = TimesHundred(value.Text) };
            string? comment = seen.Comments.GetValueOrDefault((row.Row, column));
            return new TidyCell(value, new CellPlace(sheet.File, sheet.Name, row.Row, column), comment is null ? Look(face, isHidden)
                : new CellLook(face.Fill, comment, isHidden, face.IsStruck, Ink(face)));
        }

        CellLook? Look(CellFace face, bool isHidden)
        {
            if (face is { Fill: null, Ink: null, IsStruck: false } && !isHidden)
                return null;
            if (!looks.TryGetValue(face, out CellLook?[]? pair))
                looks[face] = pair = new CellLook?[2];
            return pair[isHidden ? 1 : 0] ??= new CellLook(face.Fill, null, isHidden, face.IsStruck, Ink(face));
        }

        static string? Ink(CellFace face) => face.Ink is null ? null : CellLook.OfInk + face.Ink;
    }

    /// <summary>Rows as columns and columns as rows, each cell with the place that it has.</summary>
    public SheetGrid Turned(int firstRow, int endRow, int left, int right)
    {
        GridRow[] rows = new GridRow[right - left + 1];
        for (int column = left; column <= right; column++)
        {
            TidyCell?[] cells = new TidyCell?[endRow - firstRow];
            for (int i = firstRow; i < endRow; i++)
                cells[i - firstRow] = Rows[i].Cells[column];
            rows[column - left] = new GridRow(column + 1, cells);
        }
        GridRow[] filled = [.. rows.Where(row => Array.Exists(row.Cells, cell => cell is not null))];
        return this with { Rows = filled, Width = endRow - firstRow, IsTurned = true };
    }

    private static void Cover(SeenSheet seen, TidyCell?[][] cells, int width, ReadingTime time)
    {
        int covered = 0;
        int[] numbers = [.. seen.Sheet.Rows.Select(row => row.Row)];
        foreach (MergedArea area in seen.Merged)
        {
            time.Ask();
            int first = Array.BinarySearch(numbers, area.Top);
            if (first < 0 || area.Left >= width || cells[first][area.Left] is not { } cell)
                continue;
            for (int i = first; i < numbers.Length && numbers[i] <= area.Bottom && covered < MostCovered; i++)
            {
                for (int column = area.Left; column <= Math.Min(area.Right, width - 1); column++)
                {
                    covered++;
                    cells[i][column] ??= cell;
                }
            }
        }
    }

    private static string TimesHundred(string number) =>
        decimal.TryParse(number, System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture,
            out decimal share)
            && Math.Abs(share) < 1e20m ? (share * 100).ToString("G29", System.Globalization.CultureInfo.InvariantCulture) : number;
}
