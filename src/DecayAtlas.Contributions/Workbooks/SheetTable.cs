namespace DecayAtlas.Contributions.Workbooks;

internal static class SheetTable
{
    public static void Read(Sheet sheet, bool isDate1904, TableCheck table)
    {
        if (sheet.Rows is [SheetRow first, ..])
        {
            // Empty columns at the right are not there: spreadsheets keep them when only their format was changed.
            int width = Array.FindLastIndex(first.Cells, cell => cell.Kind != SheetCellKind.Empty) + 1;
            string[] columns = [.. first.Cells.Take(width).Select(cell => cell.Text)];
            TableHeader header = TableHeader.Match(table.Schema, columns, table.Findings,
                (finding, column) => sheet.Place(finding, first.Row, column));
            table.Begin(header);
            foreach (SheetRow row in sheet.Rows.Skip(1))
            {
                (string, Finding?)[] values = new (string, Finding?)[width];
                for (int i = 0; i < width; i++)
                {
                    int ordinal = header.OrdinalOfColumn[i];
                    values[i] = ordinal < 0 ? ("", null) : SheetValue.Of(table.Schema.Fields[ordinal], row[i], isDate1904);
                }
                TellBeyond(width, sheet, row, table.Findings);
                bool isTaken = table.Add(new HeldCells(row.Row, values, (fault, column) =>
                    sheet.Place(column < 0 ? fault : fault with { Column = columns[column] }, row.Row, column)));
                if (!isTaken)
                    return;
            }
        }
        table.End(sheet.Name);
    }

    // A value under no column name belongs to nothing, and must not be lost without a word.
    private static void TellBeyond(int width, Sheet sheet, SheetRow row, FindingList findings)
    {
        for (int i = width; i < row.Cells.Length; i++)
        {
            if (row.Cells[i].Kind != SheetCellKind.Empty)
            {
                findings.Add(sheet.Place(new Finding(
                    FindingCode.RowWidth, $"a value in column {CellReference.Letters(i)}, which has no name",
                    "values only under the names of columns", "move it under its column, or take it out"), row.Row, i));
            }
        }
    }
}
