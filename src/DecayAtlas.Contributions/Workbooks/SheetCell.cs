namespace DecayAtlas.Contributions.Workbooks;

internal enum SheetCellKind
{
    Empty,
    Text,

    /// <summary>A number that is not formatted as a date.</summary>
    Number,

    /// <summary>A number formatted as a date; the text is YYYY-MM-DD.</summary>
    Date,

    /// <summary>TRUE or FALSE; the text is yes or no.</summary>
    YesNo,

    /// <summary>What a spreadsheet shows for a formula that failed, such as #N/A.</summary>
    Error,

    /// <summary>A formula that was stored without its result.</summary>
    Formula,
    Time,
}

/// <summary>One cell with the type that its file gave it. The cells of a CSV file are all text.</summary>
internal readonly record struct SheetCell(SheetCellKind Kind, string Text)
{
    public static SheetCell Empty { get; } = new(SheetCellKind.Empty, "");

    public static SheetCell OfText(string text) => text.Length == 0 ? Empty : new SheetCell(SheetCellKind.Text, text);

    /// <summary>What is wrong with a cell whatever it is used for, or null.</summary>
    public Finding? Fault(FieldSchema field) => Kind switch
    {
        SheetCellKind.Error => field.Fault(FindingCode.CellError, $"the error {Text}", CellCheck.Expected(field),
            "mend the formula, or leave the cell empty when the value is not known"),
        SheetCellKind.Formula => field.Fault(
            FindingCode.FormulaWithoutValue, "a formula that was saved without its result", CellCheck.Expected(field),
            "open the workbook in a spreadsheet program, let it calculate and save it again, or write the value itself"),
        SheetCellKind.Time => field.Fault(FindingCode.CellTypeWrong, $"the time of day {Text}", CellCheck.Expected(field),
            "set the format of the cell to plain text or number and write the value again"),
        _ => null,
    };
}

/// <param name="Row">1-based row of the sheet or line of the file.</param>
internal sealed record SheetRow(int Row, SheetCell[] Cells)
{
    public bool IsBlank => Array.TrueForAll(Cells, cell => cell.Kind == SheetCellKind.Empty);

    public SheetCell this[int column] => column < Cells.Length ? Cells[column] : SheetCell.Empty;
}

/// <summary>A sheet of a workbook, or a CSV file taken as one sheet: its rows that are not blank.</summary>
/// <param name="Name">Null for a CSV file.</param>
internal sealed record Sheet(string File, string? Name, IReadOnlyList<SheetRow> Rows)
{
    /// <summary>Most cells that are held of one file; a few bytes can ask for a row of hundreds of empty ones.</summary>
    public const int MostCells = 32_000_000;

    /// <summary>Gives a finding its place; column -1 stands for the row as a whole.</summary>
    public Finding Place(Finding finding, int row, int column = -1) => finding with
    {
        File = File,
        Sheet = Name,
        Row = row,
        Cell = Name is null || column < 0 ? null : CellReference.Of(column, row),
    };
}
