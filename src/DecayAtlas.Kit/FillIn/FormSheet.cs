namespace DecayAtlas.Kit.FillIn;

/// <summary>How a cell looks, what it takes, and whether it is locked.</summary>
internal enum CellStyle
{
    Plain,
    Title,
    Text,
    Head,
    Fixed,
    Example,
    ExampleDay,
    InputText,
    InputDay,
    InputNumber,
}

/// <param name="Column">0-based.</param>
/// <param name="Row">1-based.</param>
/// <param name="Value">A text, a number (double or int), a day, or null for an empty cell with a look.</param>
internal sealed record FormCell(int Column, int Row, object? Value, CellStyle Style);

internal enum EntryKind
{
    List,
    Day,
    Number,
    Whole,
}

/// <summary>What cells take. A list is a range of other cells; days and numbers have a least and a most.</summary>
internal sealed record EntryRule(
    string Range, EntryKind Kind, string First, string? Second, string WrongTitle, string Wrong);

/// <param name="Cell">As B5.</param>
internal sealed record CellNote(string Cell, string Text);

/// <summary>A sheet of a workbook to fill in, as far as this kit needs it.</summary>
internal sealed record FormSheet(string Name, IReadOnlyList<double> Widths, IReadOnlyList<FormCell> Cells)
{
    public IReadOnlyList<EntryRule> Rules { get; init; } = [];

    public IReadOnlyList<CellNote> Notes { get; init; } = [];

    /// <summary>Ranges that are one cell, as A1:D1.</summary>
    public IReadOnlyList<string> Merged { get; init; } = [];

    /// <summary>Rows that stay in sight.</summary>
    public int FrozenRows { get; init; }

    public bool IsHidden { get; init; }

    public bool IsLandscape { get; init; }

    /// <summary>Height of rows in points, where it is another.</summary>
    public IReadOnlyDictionary<int, double> Heights { get; init; } = new Dictionary<int, double>();
}
