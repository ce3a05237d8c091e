namespace DecayAtlas.Contributions.Kits;

/// <summary>A sheet that people filled in: which column is which, and its rows below the heading.</summary>
/// <param name="ColumnOf">0-based, by key of the form.</param>
internal sealed record KitSheet(Sheet Sheet, IReadOnlyDictionary<string, int> ColumnOf, IReadOnlyList<SheetRow> Rows)
{
    /// <summary>Finds the heading wherever it stands, so that a row that somebody put above it does no harm.</summary>
    public static KitSheet? Of(Workbook workbook, KitFacts facts, string key, IReadOnlyList<KitColumn> columns, FindingList findings)
    {
        KitColumn[] there = [.. columns.Where(column => facts.Headings.ContainsKey((key, column.Key)))];
        string name = facts.Names.GetValueOrDefault(key, key);
        if (workbook.Find(name) is not { } sheet)
        {
            findings.Add(FindingCode.SheetMissing, workbook.Sheets[0].File, $"no sheet {FindingText.Quote(name)}",
                "the sheets of the kit", "take a fresh copy of the kit's workbook, and paste the rows into it");
            return null;
        }

        foreach (SheetRow row in sheet.Rows)
        {
            Dictionary<string, int> columnOf = [];
            foreach (KitColumn column in there)
            {
                int at = Array.FindIndex(row.Cells, cell => cell.Text.Trim() == facts.Headings[(key, column.Key)]);
                if (at >= 0)
                    columnOf[column.Key] = at;
            }

            if (columnOf.Count == there.Length)
            {
                int first = columnOf[columns[0].Key];
                return new KitSheet(sheet, columnOf,
                    [.. sheet.Rows.Where(r => r.Row > row.Row && !facts.Examples.Contains(r[first].Text.Trim()))]);
            }
        }

        findings.Add(new Finding(FindingCode.HeaderMissing, "a heading that is not that of the kit",
            $"a row with {FindingText.Quote(string.Join(", ", there.Select(column => facts.Headings[(key, column.Key)])))}",
            "take a fresh copy of the kit's workbook, and paste the rows into it") with
        { File = sheet.File, Sheet = sheet.Name });
        return null;
    }

    public SheetCell Cell(SheetRow row, KitColumn column) => ColumnOf.TryGetValue(column.Key, out int at) ? row[at] : SheetCell.Empty;

    public bool Has(KitColumn column) => ColumnOf.ContainsKey(column.Key);

    public bool IsFilled(SheetRow row, KitColumn column) => Cell(row, column).Text.Trim().Length > 0;
}
