namespace DecayAtlas.Contributions.Wide;

/// <summary>A wide table with its header found and the columns of the mapping in it.</summary>
/// <param name="Sheet">Name of the sheet; null for a CSV file.</param>
/// <param name="OrdinalOf">Place of each named column.</param>
/// <param name="Rows">The rows below the header.</param>
internal sealed record WideTable(string File, string? Sheet, IReadOnlyDictionary<string, int> OrdinalOf, IReadOnlyList<SheetRow> Rows,
    bool IsDate1904)
{
    /// <summary>Finds the header and holds it against the mapping; null when they do not fit, and then findings say why.</summary>
    public static WideTable? Of(Sheet sheet, string file, bool isDate1904, Mapping mapping, FindingList findings)
    {
        int before = findings.Count;
        SheetRow? header = sheet.Rows.FirstOrDefault(row => row.Row == mapping.Form.HeaderRow);
        if (header is null)
        {
            findings.Add(
                new Finding(FindingCode.HeaderMissing, file, mapping.Form.HeaderRow, null, "no names of columns in this row", "the header",
                    "state header_row: in the mapping, or write the header")
                { Sheet = sheet.Name });
            return null;
        }
        SheetRow[] rows = [.. sheet.Rows.Where(row => row.Row > header.Row)];
        Dictionary<string, int> ordinals = new(StringComparer.Ordinal);
        for (int i = 0; i < header.Cells.Length; i++)
        {
            if (header[i].Text.Length > FieldSchema.LongestOfAll)
            {
                findings.Add(Place(CellCheck.NameTooLong(i, header[i].Text.Length), i));
                continue;
            }
            string name = header[i].Text.Trim();
            if (name.Length == 0)
                continue;
            if (!ordinals.TryAdd(name, i))
            {
                findings.Add(
                    Place(new Finding(FindingCode.ColumnRepeated, "", null, name, "the column a second time", "each column once",
                        "give one of the two another name, in the table and in the mapping"), i));
            }
        }
        if (!Named(mapping).Any(named => ordinals.ContainsKey(named.Name)))
        {
            findings.Add(Place(new Finding(FindingCode.HeaderMissing, "", null,
                null, $"none of the columns that {mapping.File} names, but {FindingText.Quote(string.Join(' ', ordinals.Keys))}",
                "the header with these columns",
                "state separator: or header_row: under file: in the mapping, or write the names as they stand in the header"), 0)
                with
            { Cell = null });
            return null;
        }
        TellAbsent();
        TellUndecided();
        TellBeyond();
        return findings.Count > before ? null : new WideTable(file, sheet.Name, ordinals, rows, isDate1904);

        Finding Place(Finding finding, int column) => finding with
        {
            File = file,
            Sheet = sheet.Name,
            Row = header.Row,
            Cell = sheet.Name is null ? null : CellReference.Of(column, header.Row),
        };

        void TellAbsent()
        {
            HashSet<string> told = new(StringComparer.Ordinal);
            foreach ((string name, string place) in Named(mapping)
                .Where(named => !ordinals.ContainsKey(named.Name) && told.Add(named.Name)))
            {
                findings.Add(new Finding(FindingCode.ColumnMissing, mapping.File, mapping.LineOf(place), place[1..]
                    .Replace('/', '.'), $"the column {FindingText.Quote(name)}, which {file} does not have",
                    "the name of a column of its header",
                    Nearest.Of(name, ordinals.Keys) is { } near ? $"write {FindingText.Quote(near)}, if that was meant"
                    : "write the name as it stands in the header"));
            }
        }

        void TellUndecided()
        {
            HashSet<string> decided = [.. Named(mapping).Select(named => named.Name), .. mapping.LeaveOut];
            foreach ((string name, int column) in ordinals.Where(column => !decided.Contains(column.Key)))
            {
                findings.Add(Place(new Finding(FindingCode.ColumnUndecided, "", null,
                    name, $"a column that {mapping.File} says nothing of", "every column given to a field or left out on purpose",
                    "give it to a field in the mapping, or name it under leave_out"), column));
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
                    bool isMore = row.Cells.Length > header.Cells.Length;
                    findings.Add(new Finding(FindingCode.RowWidth, file, row.Row, null,
                        FormattableString.Invariant($"{row.Cells.Length} cells"),
                        FormattableString.Invariant($"{header.Cells.Length} cells, as in the header"),
                        isMore ? "put quotation marks round a text or number that holds the separator, or give the further column a name"
                        : "give every cell its separator, even an empty one"));
                    continue;
                }
                for (int i = 0; i < row.Cells.Length; i++)
                {
                    if (row.Cells[i].Kind != SheetCellKind.Empty && header[i].Text.Trim().Length == 0)
                    {
                        findings.Add(new Finding(FindingCode.RowWidth, file, row.Row, null,
                            FormattableString.Invariant($"a value in column {CellReference.Letters(i)}, which has no name"),
                            "values only under the names of columns",
                            "give the column a name, move the value, or put quotation marks round a text that holds the separator")
                        { Sheet = sheet.Name, Cell = sheet.Name is null ? null : CellReference.Of(i, row.Row) });
                    }
                }
            }
        }
    }

    /// <summary>The cell of a row under a named column.</summary>
    public SheetCell Cell(SheetRow row, string column) => row[OrdinalOf[column]];

    private static IEnumerable<(string Name, string Place)> Named(Mapping mapping) => mapping.Tables
        .SelectMany(table => table.Sources)
        .SelectMany(source => source.Column is { } column ? [(column.Trim(), source.Place)]
            : source.Pattern is { } pattern ? RowPattern.Columns(pattern).Select(name => (name.Trim(), source.Place)) : []);
}
