namespace DecayAtlas.Contributions.Workbooks;

/// <summary>A row of a sheet whose columns are those of the schema.</summary>
internal readonly struct SheetCells(string file, Sheet sheet, SheetRow row, (string Text, Finding? Fault)[] values,
    IReadOnlyList<string> columns) : IRowCells
{
    public int Line => row.Row;

    public int Count => values.Length;

    public ReadOnlySpan<char> Span(int column) => values[column].Text;

    public string Text(int column) => values[column].Text;

    public Finding? Fault(int column) => values[column].Fault;

    public Finding Locate(Finding fault, int column) => fault with
    {
        File = file,
        Sheet = sheet.Name,
        Row = row.Row,
        Cell = column < 0 ? null : CellReference.Of(column, row.Row),
        Column = column < 0 ? fault.Column : columns[column],
    };
}

/// <summary>Hands the rows of one sheet to the check of its table.</summary>
internal static class SheetTable
{
    public static void Read(Sheet sheet, bool isDate1904, TableCheck table)
    {
        if (sheet.Rows.Count > 0)
        {
            (string[] columns, int[] ordinals) = Begin(sheet, table);
            foreach (SheetRow row in sheet.Rows.Skip(1))
            {
                (string Text, Finding? Fault)[] values = new (string Text, Finding? Fault)[columns.Length];
                for (int i = 0; i < columns.Length; i++)
                    values[i] = ordinals[i] < 0 ? ("", null) : SheetValue.Of(table.Schema.Fields[ordinals[i]], row[i], isDate1904);
                SheetCells cells = new(table.File, sheet, row, values, columns);
                Beyond(columns.Length, row, cells, table.Findings);
                if (!table.Add(cells))
                    return;
            }
        }
        table.End(sheet.Name);
    }

    private static (string[] Columns, int[] Ordinals) Begin(Sheet sheet, TableCheck table)
    {
        SheetRow first = sheet.Rows[0];
        // Empty columns at the right are not there: spreadsheets keep them when only their format was changed.
        int width = Array.FindLastIndex(first.Cells, cell => cell.Kind != SheetCellKind.Empty) + 1;
        string[] columns = [.. first.Cells.Take(width).Select(cell => cell.Text)];
        TableHeader header = TableHeader.Match(table.Schema, columns, table.Findings, (finding, column) => finding with
        {
            File = table.File,
            Sheet = sheet.Name,
            Row = first.Row,
            Cell = column < 0 ? null : CellReference.Of(column, first.Row),
        });
        table.Begin(header);
        return (columns, header.OrdinalOfColumn);
    }

    /// <summary>A value under no column name belongs to nothing, and must not be lost without a word.</summary>
    private static void Beyond(int width, SheetRow row, SheetCells cells, FindingList findings)
    {
        for (int i = width; i < row.Cells.Length; i++)
        {
            if (row.Cells[i].Kind != SheetCellKind.Empty)
            {
                findings.Add(cells.Locate(new Finding(FindingCode.RowWidth, "", null,
                    null, $"a value in column {CellReference.Letters(i)}, which has no name",
                    "values only under the names of columns", "move it under its column, or take it out"), -1)
                    with
                { Cell = CellReference.Of(i, row.Row) });
            }
        }
    }
}
