using nietras.SeparatedValues;

namespace DecayAtlas.Contributions.Tables;

/// <summary>One row on its way into a table, whatever kind of file it comes from. Columns are those of the table's header.</summary>
internal interface IRowCells
{
    /// <summary>1-based line of the file or row of the sheet.</summary>
    int Line { get; }

    int Count { get; }

    ReadOnlySpan<char> Span(int column);

    string Text(int column);

    /// <summary>What was wrong with a cell before its text came to be judged, or null.</summary>
    Finding? Fault(int column);

    /// <summary>Gives a finding its place; column -1 stands for the row as a whole.</summary>
    Finding Locate(Finding fault, int column);
}

/// <summary>A row whose cells are in memory.</summary>
internal readonly struct HeldCells(int line, (string Text, Finding? Fault)[] values, Func<Finding, int, Finding> locate) : IRowCells
{
    public int Line => line;

    public int Count => values.Length;

    public ReadOnlySpan<char> Span(int column) => values[column].Text;

    public string Text(int column) => values[column].Text;

    public Finding? Fault(int column) => values[column].Fault;

    public Finding Locate(Finding fault, int column) => locate(fault, column);
}

internal readonly ref struct CsvCells(SepReader.Row row, string file) : IRowCells
{
    private readonly SepReader.Row _row = row;

    public int Line => _row.LineNumberFrom;

    public int Count => _row.ColCount;

    public ReadOnlySpan<char> Span(int column) => _row[column].Span;

    public string Text(int column) => _row[column].ToString();

    public Finding? Fault(int column) => null;

    public Finding Locate(Finding fault, int column) => fault with { File = file, Row = Line };
}
