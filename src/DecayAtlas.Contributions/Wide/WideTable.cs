namespace DecayAtlas.Contributions.Wide;

/// <param name="Rows">The rows below the header.</param>
internal sealed record WideTable(Sheet Sheet, IReadOnlyDictionary<string, int> OrdinalOf, IReadOnlyList<SheetRow> Rows, bool IsDate1904)
{
    public static WideTable? Of(Sheet sheet, bool isDate1904, Mapping mapping, FindingList findings)
    {
        int before = findings.Count;
        SheetRow? header = sheet.Rows.FirstOrDefault(row => row.Row == mapping.Form.HeaderRow);
        if (header is null)
        {
            findings.Add(sheet.Place(new Finding(FindingCode.HeaderMissing, "no names of columns in this row", "the header",
                "state header_row: in the mapping, or write the header"), mapping.Form.HeaderRow));
            return null;
        }
        SheetRow[] rows = [.. sheet.Rows.Where(row => row.Row > header.Row)];
        Dictionary<string, int> ordinals = [];
        for (int i = 0; i < header.Cells.Length; i++)
        {
            if (header[i].Text.Length > FieldSchema.LongestOfAll)
            {
                Tell(CellCheck.NameTooLong(i, header[i].Text.Length), i);
                continue;
            }
            string name = header[i].Text.Trim();
            if (name.Length > 0 && !ordinals.TryAdd(name, i))
            {
                Tell(new Finding(FindingCode.ColumnRepeated, "", null, name, "the column a second time", "each column once",
                    "give one of the two another name, in the table and in the mapping"), i);
            }
        }
        if (!Named(mapping).Any(named => ordinals.ContainsKey(named.Name)))
        {
            string found = $"none of the columns that {mapping.File} names, but {FindingText.Quote(string.Join(' ', ordinals.Keys))}";
            Tell(new Finding(FindingCode.HeaderMissing, found, "the header with these columns",
                "state separator: or header_row: under file: in the mapping, or write the names as they stand in the header"), -1);
            return null;
        }
        TellAbsent();
        TellUndecided();
        TellBeyond();
        return findings.Count > before ? null : new WideTable(sheet, ordinals, rows, isDate1904);

        void Tell(Finding finding, int column) => findings.Add(sheet.Place(finding, header.Row, column));

        void TellAbsent()
        {
            HashSet<string> told = [];
            foreach ((string name, string place) in Named(mapping)
                .Where(named => !ordinals.ContainsKey(named.Name) && told.Add(named.Name)))
            {
                string mend = Nearest.Of(name, ordinals.Keys) is { } near ? $"write {FindingText.Quote(near)}, if that was meant"
                    : "write the name as it stands in the header";
                findings.Add(new Finding(FindingCode.ColumnMissing, mapping.File, mapping.LineOf(place), JsonPlace.NameOf(place),
                    $"the column {FindingText.Quote(name)}, which {sheet.File} does not have", "the name of a column of its header", mend));
            }
        }

        void TellUndecided()
        {
            HashSet<string> decided = [.. Named(mapping).Select(named => named.Name), .. mapping.LeaveOut];
            foreach ((string name, int column) in ordinals.Where(column => !decided.Contains(column.Key)))
            {
                Tell(new Finding(FindingCode.ColumnUndecided, "", null, name, $"a column that {mapping.File} says nothing of",
                    "every column given to a field or left out on purpose",
                    "give it to a field in the mapping, or name it under leave_out"), column);
            }
        }

        void TellBeyond()
        {
            foreach (SheetRow row in rows)
            {
                findings.Time.Ask();
                // In a CSV file a cell too many means that all behind it stand one column off.
                if (sheet.Name is null && row.Cells.Length != header.Cells.Length)
                {
                    string mend = row.Cells.Length > header.Cells.Length
                        ? "put quotation marks round a text or number that holds the separator, or give the further column a name"
                        : "give every cell its separator, even an empty one";
                    findings.Add(sheet.Place(new Finding(FindingCode.RowWidth, Invariant($"{row.Cells.Length} cells"),
                        Invariant($"{header.Cells.Length} cells, as in the header"), mend), row.Row));
                    continue;
                }
                for (int i = 0; i < row.Cells.Length; i++)
                {
                    if (row.Cells[i].Kind != SheetCellKind.Empty && header[i].Text.Trim().Length == 0)
                    {
                        findings.Add(sheet.Place(new Finding(
                            FindingCode.RowWidth, $"a value in column {CellReference.Letters(i)}, which has no name",
                            "values only under the names of columns",
                            "give the column a name, move the value, or put quotation marks round a text that holds the separator"),
                            row.Row, i));
                    }
                }
            }
        }
    }

    public SheetCell Cell(SheetRow row, string column) => row[OrdinalOf[column]];

    private static IEnumerable<(string Name, string Place)> Named(Mapping mapping) => mapping.Tables
        .SelectMany(table => table.Sources)
        .SelectMany(source => source.Column is { } column ? [(column.Trim(), source.Place)]
            : source.Pattern is { } pattern ? RowPattern.Columns(pattern).Select(name => (name.Trim(), source.Place)) : []);
}
