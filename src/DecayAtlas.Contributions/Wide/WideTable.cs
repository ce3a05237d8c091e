namespace DecayAtlas.Contributions.Wide;

/// <param name="Rows">The rows below the header.</param>
internal sealed record WideTable(Sheet Sheet, IReadOnlyDictionary<string, int> OrdinalOf, IReadOnlyList<SheetRow> Rows, bool IsDate1904)
{
    private int[] _numbers = [];
    private string[] _names = [];

    /// <summary>Where the cells of a table that was laid out stand; null where it is read as it stands.</summary>
    public TidyTable? Tidy { get; private init; }

    /// <summary>A table that was laid out: its rows are numbered from 1, and know where they stand in the file.</summary>
    public static WideTable? Of(TidyTable tidy, string file, Mapping mapping, FindingList findings)
    {
        int before = findings.Count;
        string[] all = RowNames.Of(tidy.Rows);
        int[] kept = [.. Enumerable.Range(0, all.Length).Where(i => !mapping.Form.LeaveOutRows.Contains(all[i]))];
        string[] names = [.. kept.Select(i => all[i])];
        tidy = WithCounts(tidy with { Rows = [.. kept.Select(i => tidy.Rows[i])] }, mapping.Form.Counted);
        Dictionary<string, int> ordinals = [];
        for (int i = 0; i < tidy.Columns.Count; i++)
            ordinals[tidy.Columns[i].Name.Trim()] = i;
        SheetRow[] rows = [.. tidy.Rows.Select((row, i) => new SheetRow(i + 1, [.. row.Select(cell => cell.Value)]))];
        Sheet sheet = new(file, tidy.Columns[0].Place.Sheet, rows);
        TellOther(sheet, ordinals, mapping, findings, (finding, column) =>
            findings.Add(column < 0 ? finding with { File = file } : Placed(finding, tidy.Columns[column].Place)));
        TellRowsAbsent(names, mapping, findings);
        WideTable wide = new(sheet, ordinals, rows, tidy.IsDate1904) { Tidy = tidy, _numbers = Numbers(tidy), _names = names };
        return findings.Count > before ? null : wide;
    }

    // columns of running numbers behind those of the table
    private static TidyTable WithCounts(TidyTable tidy, IReadOnlyList<CountedColumn> counted)
    {
        foreach (CountedColumn count in counted)
        {
            int[] within = [.. count.Within.Select(name => tidy.Columns.ToList().FindIndex(column => column.Name.Trim() == name.Trim()))
                .Where(at => at >= 0)];
            Dictionary<string, int> seen = [];
            tidy = tidy with
            {
                Columns = [.. tidy.Columns, new TidyColumn(count.Name, null, tidy.Columns[0].Place)],
                Rows =
                [
                    .. tidy.Rows.Select(row =>
                    {
                        string key = string.Join('\n', within.Select(at => row[at].Value.Text.Trim()));
                        int number = seen[key] = seen.GetValueOrDefault(key) + 1;
                        return (IReadOnlyList<TidyCell>)[.. row, new TidyCell(SheetCell.OfText(Invariant($"{number}")), row[0].Place,
                            null)];
                    }),
                ],
            };
        }
        return tidy;
    }

    /// <summary>How a mapping names a row.</summary>
    public string NameOf(SheetRow row) => Tidy is null ? Invariant($"{row.Row}") : _names[row.Row - 1];

    public CellLook? LookOf(SheetRow row, int column) => Tidy?.Rows[row.Row - 1][column].Look;

    /// <summary>Gives a finding its place in the file; column -1 stands for the row as a whole.</summary>
    public Finding Place(Finding finding, int row, int column = -1)
    {
        if (Tidy is null)
            return Sheet.Place(finding, row, column);
        return column >= 0 ? Placed(finding, Tidy.Rows[row - 1][column].Place)
            : Placed(finding, Tidy.Rows[row - 1][0].Place) with { Row = NumberOf(row), Cell = null };
    }

    /// <summary>The number of a row in the file.</summary>
    public int NumberOf(int row) => Tidy is null ? row : _numbers[row - 1];

    // Where most cells of a row stand: some were filled down from above, or joined from elsewhere.
    private static int[] Numbers(TidyTable tidy) =>
        [.. tidy.Rows.Select(row => row.GroupBy(cell => cell.Place.Row).MaxBy(group => group.Count())!.Key)];

    private static Finding Placed(Finding finding, CellPlace place) => finding with
    {
        File = place.File,
        Sheet = place.Sheet,
        Row = place.Row,
        Cell = place.Sheet is null ? null : CellReference.Of(place.Column, place.Row),
    };

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
        if (!TellOther(sheet, ordinals, mapping, findings, Tell))
            return null;
        TellBeyond();
        TellRowsAbsent([.. rows.Select(row => Invariant($"{row.Row}"))], mapping, findings);
        return findings.Count > before ? null : new WideTable(sheet, ordinals, rows, isDate1904);

        void Tell(Finding finding, int column) => findings.Add(sheet.Place(finding, header.Row, column));

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

    // Whether the names of the table are those of the mapping; each that is lacking on either side is told.
    private static bool TellOther(Sheet sheet, Dictionary<string, int> ordinals, Mapping mapping, FindingList findings,
        Action<Finding, int> tell)
    {
        if (!Named(mapping).Any(named => ordinals.ContainsKey(named.Name)))
        {
            string found = $"none of the columns that {mapping.File} names, but {FindingText.Quote(string.Join(' ', ordinals.Keys))}";
            tell(new Finding(FindingCode.HeaderMissing, found, "the header with these columns",
                "state separator: or header_row: under file: in the mapping, or write the names as they stand in the header"), -1);
            return false;
        }
        TellAbsent();
        TellUndecided();
        return true;

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
                tell(new Finding(FindingCode.ColumnUndecided, "", null, name, $"a column that {mapping.File} says nothing of",
                    "every column given to a field or left out on purpose",
                    "give it to a field in the mapping, or name it under leave_out"), column);
            }
        }
    }

    // a mapping that was made for another table says of rows what nobody said of these
    private static void TellRowsAbsent(IReadOnlyList<string> names, Mapping mapping, FindingList findings)
    {
        HashSet<string> known = [.. names], told = [];
        foreach (FieldSource source in mapping.Tables.SelectMany(table => table.Sources).SelectMany(source => source.WithOthers))
        {
            foreach (string name in source.RowWords.Keys.Where(name => !known.Contains(name) && told.Add(name)))
            {
                string place = $"{source.Place}/rows/{JsonPlace.Escaped(name)}";
                findings.Add(new Finding(FindingCode.MappingBroken, mapping.File, mapping.LineOf(place), JsonPlace.NameOf(place),
                    $"the row {FindingText.Quote(name)}, which the table does not have", "rows of this table",
                    "answer the questions about this table anew, or take the row out of the mapping"));
            }
        }
    }

    public SheetCell Cell(SheetRow row, string column) => row[OrdinalOf[column]];

    private static IEnumerable<(string Name, string Place)> Named(Mapping mapping) => mapping.Tables
        .SelectMany(table => table.Sources)
        .SelectMany(source => source.WithOthers)
        .SelectMany(source => source.Unless is { } unless
            ? [source, .. unless.Columns.Select(column => source with { Column = column, Pattern = null })] : new[] { source })
        .SelectMany(source => source.Column is { } column ? [(column.Trim(), source.Place)]
            : source.Pattern is { } pattern ? RowPattern.Columns(pattern).Select(name => (name.Trim(), source.Place)) : []);
}
