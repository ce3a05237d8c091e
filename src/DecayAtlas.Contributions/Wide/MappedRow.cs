namespace DecayAtlas.Contributions.Wide;

/// <summary>One value of a mapped row, with the cell that it came from.</summary>
/// <param name="Original">What stood in the cell.</param>
/// <param name="Row">1-based row of that cell; another one than that of the record where a site's row was filled up from a later
/// row.</param>
/// <param name="Column">0-based column of that cell, or -1 for a fixed value or a pattern.</param>
internal readonly record struct MappedValue(string Text, Finding? Fault, string Original, int Row, int Column);

/// <summary>A record that was put together from a row of a wide table.</summary>
/// <param name="Row">The row of the wide table in which it first stands.</param>
internal sealed record MappedRow(int Row, MappedValue[] Values);

/// <summary>A mapped row on its way into its table; findings name the column of the wide table, and the field beside it.</summary>
internal readonly struct MappedCells(WideTable wide, Mapping mapping, TableSources table, MappedRow row) : IRowCells
{
    public int Line => row.Row;

    public int Count => row.Values.Length;

    public ReadOnlySpan<char> Span(int column) => row.Values[column].Text;

    public string Text(int column) => row.Values[column].Text;

    public Finding? Fault(int column) => row.Values[column].Fault;

    public Finding Locate(Finding fault, int column)
    {
        if (column < 0)
            return fault with { File = wide.File, Sheet = wide.Sheet, Row = row.Row, Field = table.Schema.Name };
        FieldSource source = table.Sources[column];
        string field = $"{table.Schema.Name}.{source.Field.Name}";
        MappedValue value = row.Values[column];
        if (source.Value is not null)
            return fault with { File = mapping.File, Row = mapping.LineOf(source.Place), Column = source.Place[1..].Replace('/', '.') };
        if (source.Pattern is not null)
            return fault with { File = wide.File, Sheet = wide.Sheet, Row = value.Row, Column = source.Pattern, Field = field };
        return fault with
        {
            File = wide.File,
            Sheet = wide.Sheet,
            Row = value.Row,
            Cell = wide.Sheet is null ? null : CellReference.Of(value.Column, value.Row),
            Column = source.Column,
            Field = field,
            // The contributor must find the cell again, and there it is written as it was before units and dates were turned.
            Found = value.Fault is null && value.Text.Length > 0 && value.Original != value.Text
                && fault.Found.Contains(value.Text, StringComparison.Ordinal)
                ? $"{fault.Found} (written {FindingText.Quote(value.Original)})" : fault.Found,
        };
    }
}

/// <summary>A lot written out in the mapping, on its way into the table of lots.</summary>
internal readonly struct StatedLotCells(Mapping mapping, StatedLot lot) : IRowCells
{
    private static readonly TableSchema Lots = SchemaCatalogue.Lots;

    public int Line => mapping.LineOf(lot.Place);

    public int Count => Lots.Fields.Count;

    public ReadOnlySpan<char> Span(int column) => Text(column);

    public string Text(int column) => lot.Values.GetValueOrDefault(Lots.Fields[column].Name, "");

    public Finding? Fault(int column) => null;

    public Finding Locate(Finding fault, int column) => fault with
    {
        File = mapping.File,
        Row = column < 0 ? Line : mapping.LineOf($"{lot.Place}/{Lots.Fields[column].Name}"),
        Column = fault.Column is { } name ? "lots." + name : null,
    };
}
