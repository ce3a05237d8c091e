namespace DecayAtlas.Contributions.Layout.Blocks;

/// <summary>A row of a block; what is filled down keeps the place at which it stands.</summary>
/// <param name="Number">Of the row in its sheet, 1-based; of its column where the table lies on its side.</param>
/// <param name="Title">The line above that names it and its like.</param>
internal sealed record BlockRow(int Number, TidyCell?[] Cells, TidyCell? Title, bool IsTurned)
{
    /// <summary>Whether a cell stands in this row, and was not filled into it.</summary>
    public bool Owns(TidyCell cell) => (IsTurned ? cell.Place.Column + 1 : cell.Place.Row) == Number;


    public bool Is(Predicate<CellLook> look)
    {
        bool hasAny = false;
        foreach (TidyCell? cell in Cells)
        {
            if (cell is null || cell.Value.Kind == SheetCellKind.Empty || !Owns(cell))
                continue;
            hasAny = true;
            if (cell.Look is null || !look(cell.Look))
                return false;
        }
        return hasAny;
    }

    public TidyCell? First => Array.Find(Cells, cell => cell is not null && cell.Value.Kind != SheetCellKind.Empty);
}

/// <summary>A name and its value beside each other or in one cell.</summary>
internal sealed record NamedValue(TidyCell Name, TidyCell Value)
{
    public SideTable AsSide() => new([new TidyColumn(Name.Value.Text, null, Name.Place)], [[Value]]);
}

/// <summary>One table within a sheet: its columns and its rows, before it is joined with others.</summary>
internal sealed class Block(string? sheet, bool isOfHiddenSheet, IReadOnlyList<TidyColumn> columns)
{
    private HashSet<string> _foldedNames = [], _plainNames = [];

    public string? Sheet => sheet;

    public bool IsOfHiddenSheet => isOfHiddenSheet;

    public List<TidyColumn> Columns { get; } = [.. columns];

    public List<BlockRow> Rows { get; set; } = [];

    /// <summary>Lines above the header, the nearest last.</summary>
    public IReadOnlyList<TidyCell> LinesAbove { get; set; } = [];

    /// <summary>Names and values above the header.</summary>
    public IReadOnlyList<NamedValue> PairsAbove { get; set; } = [];

    public TidyCell? Title => LinesAbove.Count == 0 ? null : LinesAbove[^1];

    /// <summary>For each row of names but the last: the group that each column stands in, and its name without that.</summary>
    public IReadOnlyList<IReadOnlyList<(TidyCell? Name, string Others)>> Groups { get; init; } = [];

    public int FilledCells => Rows.Sum(row => row.Cells.Count(cell => cell is not null));

    public HashSet<string> FoldedNames => _foldedNames.Count == Columns.Count ? _foldedNames
        : _foldedNames = [.. Columns.Select(column => LayoutWords.Fold(column.Name))];

    /// <summary>Without the units in them.</summary>
    public HashSet<string> PlainNames => _plainNames.Count > 0 ? _plainNames : _plainNames = [.. Columns.Select(OwnUnits.Plain)];

    public int Find(string foldedName) => Columns.FindIndex(column => LayoutWords.Fold(column.Name) == foldedName);

    public void Add(TidyColumn column, Func<BlockRow, TidyCell?> cellOf)
    {
        Columns.Add(column.Beside(Columns));
        Rows = Rows.ConvertAll(row => row with { Cells = [.. row.Cells, cellOf(row)] });
    }

    public SideTable AsSide() => new(Columns, Cells());

    /// <summary>All cells, those too that nothing stands in.</summary>
    public List<IReadOnlyList<TidyCell>> Cells() => Rows.ConvertAll(row => (IReadOnlyList<TidyCell>)row.Cells.Select((cell, i) =>
        cell ?? new TidyCell(SheetCell.Empty, Blank(row, i), null)).ToArray());

    private CellPlace Blank(BlockRow row, int column)
    {
        CellPlace own = row.First?.Place ?? Columns[column].Place;
        return row.IsTurned ? Columns[column].Place with { Column = row.Number - 1 }
            : own with { Row = row.Number, Column = Columns[column].Place.Column };
    }
}
