using nietras.SeparatedValues;

namespace DecayAtlas.Contributions;

/// <summary>Streams one table: header, cells, ids and references, each against the schema. A row becomes a record only when all of it is good.</summary>
internal sealed class TableReader<TRow>(
    TableSchema schema, string file, Func<int, ReadOnlySpan<Cell>, TRow> toRow, KeyIndex keys, IntakeLimits limits, FindingList findings)
{
    private const int PooledTextLength = 64;
    private const int LongestHeader = 1 << 16;
    private const int MostCompared = 1000;

    private readonly List<TRow> rows = [];
    private readonly Cell[] cells = new Cell[schema.Fields.Count];
    private readonly Dictionary<string, int>?[] ownIds = new Dictionary<string, int>?[schema.Fields.Count];
    private readonly (Dictionary<string, int> Ids, ForeignKey Key)?[] references = new (Dictionary<string, int>, ForeignKey)?[schema.Fields.Count];
    private readonly Dictionary<(string, string), int> rowOfPair = [];

    public IReadOnlyList<TRow> Read(TextReader text)
    {
        if (Separator(text, out TextReader whole) is not { } separator)
            return rows;
        try
        {
            using SepReader reader = Sep.New(separator).Reader(options => options with
            {
                HasHeader = false,
                Unescape = true,
                DisableColCountCheck = true,
                CreateToString = SepToString.PoolPerCol(maximumStringLength: PooledTextLength),
            }).From(whole);
            Read(reader);
        }
        catch (Exception fault) when (fault is InvalidDataException or NotSupportedException or ArgumentException)
        {
            findings.Add(FindingCode.CsvBroken, file, "rows that cannot be told apart", "a CSV table", "look for a quotation mark that is not closed, and save the table again");
        }
        return rows;
    }

    private void Read(SepReader reader)
    {
        TableHeader? header = null;
        int count = 0;
        foreach (SepReader.Row row in reader)
        {
            if (IsBlank(row))
                continue;
            if (header is null)
            {
                List<string> columns = [];
                for (int i = 0; i < row.ColCount; i++)
                    columns.Add(row[i].ToString());
                header = TableHeader.Match(schema, file, columns, findings);
                PrepareKeys(header);
                continue;
            }
            if (++count > limits.MaxRows)
            {
                findings.Add(FindingCode.TooManyRows, file, FormattableString.Invariant($"more than {limits.MaxRows} rows"),
                    FormattableString.Invariant($"at most {limits.MaxRows} rows"), "split the contribution");
                return;
            }
            if (ReadRow(header, row) && header.IsComplete)
                rows.Add(toRow(row.LineNumberFrom, cells));
        }
        if (header is null)
            findings.Add(FindingCode.HeaderMissing, file, "an empty file", "a header with the columns of " + schema.Name, "write the header as the first line");
        else if (count == 0 && schema.Name != "samples")
            findings.Add(FindingCode.TableEmpty, file, "a header without rows", "at least one row", "fill in the table");
    }

    /// <summary>An empty line, or the row of bare commas that spreadsheets leave at the end.</summary>
    private static bool IsBlank(SepReader.Row row)
    {
        for (int i = 0; i < row.ColCount; i++)
        {
            if (!row[i].Span.IsEmpty)
                return false;
        }
        return true;
    }

    private void PrepareKeys(TableHeader header)
    {
        foreach (FieldSchema field in schema.Fields.Where(field => header.OrdinalOfColumn.Contains(field.Ordinal)))
        {
            if (field.Unique)
                ownIds[field.Ordinal] = keys.Begin(schema.Name, field.Name);
            if (schema.ForeignKeys.FirstOrDefault(key => key.Field == field.Name) is { } key
                && keys.Find(key.ReferencedTable, key.ReferencedField) is { } ids)
                references[field.Ordinal] = (ids, key);
        }
    }

    private bool ReadRow(TableHeader header, SepReader.Row row)
    {
        int[] ordinals = header.OrdinalOfColumn;
        int line = row.LineNumberFrom;
        if (row.ColCount != ordinals.Length)
        {
            bool isMore = row.ColCount > ordinals.Length;
            findings.Add(new Finding(FindingCode.RowWidth, file, line, null, FormattableString.Invariant($"{row.ColCount} cells"),
                FormattableString.Invariant($"{ordinals.Length} cells, as in the header"),
                isMore ? "write numbers with a decimal point and put quotation marks round a text that holds a comma" : "give every cell its comma, even an empty one"));
            return false;
        }
        Array.Clear(cells);
        bool isGood = true;
        for (int i = 0; i < ordinals.Length; i++)
        {
            if (ordinals[i] < 0)
                continue;
            FieldSchema field = schema.Fields[ordinals[i]];
            ReadOnlySpan<char> text = row[i].Span;
            ref Cell cell = ref cells[field.Ordinal];
            Finding? fault = text.IsEmpty
                ? field.Required ? CellCheck.Missing(field) : null
                : CellCheck.Read(field, text, ref cell);
            if (fault is null && cell.HasValue && field.Type == FieldType.Text)
            {
                cell.Text = row[i].ToString();
                fault = CheckKeys(field, cell.Text, line);
            }
            if (fault is not null)
            {
                findings.Add(fault with { File = file, Row = line });
                isGood = false;
            }
        }
        return isGood && IsNewPair(line);
    }

    private Finding? CheckKeys(FieldSchema field, string id, int line)
    {
        if (ownIds[field.Ordinal] is { } own && !own.TryAdd(id, line))
            return new Finding(FindingCode.IdRepeated, "", null, field.Name, FormattableString.Invariant($"{id}, which row {own[id]} has already"),
                "an id that no other row has", "give one of the two rows another id, or take out the copy");
        if (references[field.Ordinal] is { } reference && !reference.Ids.ContainsKey(id))
            return new Finding(FindingCode.IdUnknown, "", null, field.Name, id, $"a {reference.Key.ReferencedField} of the table {reference.Key.ReferencedTable}",
                Near(id, reference.Ids) is { } near ? $"correct the id ({near} is close), or add the row to {reference.Key.ReferencedTable}" : $"add the row to {reference.Key.ReferencedTable}, or correct the id");
        return null;
    }

    private string? Near(string id, Dictionary<string, int> ids) => findings.IsFull ? null : Nearest.Of(id, ids.Keys.Take(MostCompared));

    /// <summary>A primary key of two columns: the pair must be new.</summary>
    private bool IsNewPair(int line)
    {
        if (schema.PrimaryKey is not [string first, string second])
            return true;
        (string, string) pair = (cells[schema.OrdinalOf(first)].Text ?? "", cells[schema.OrdinalOf(second)].Text ?? "");
        if (rowOfPair.TryAdd(pair, line))
            return true;
        findings.Add(new Finding(FindingCode.IdRepeated, file, line, $"{first}, {second}", FormattableString.Invariant($"{pair.Item1}, {pair.Item2}, which row {rowOfPair[pair]} has already"),
            "a pair that no other row has", "take out the copy"));
        return false;
    }

    /// <summary>
    /// The separator of the header, or null when there is no header to speak of. A wrong one is told once and then
    /// used, so that everything else can be told too.
    /// </summary>
    private char? Separator(TextReader text, out TextReader whole)
    {
        char[] buffer = new char[LongestHeader];
        int read = text.ReadBlock(buffer);
        whole = new PrefixedReader(new string(buffer, 0, read), text);
        ReadOnlySpan<char> header = buffer.AsSpan(0, read);
        int end = header.IndexOfAny('\n', '\r');
        if (end < 0 && read == LongestHeader)
        {
            findings.Add(FindingCode.CsvBroken, file, FormattableString.Invariant($"a first line of more than {LongestHeader} characters"),
                "a header with the columns of " + schema.Name, "save the table as CSV with one line a row");
            return null;
        }
        header = end < 0 ? header : header[..end];
        char separator = header.Contains(',') ? ',' : header.Contains(';') ? ';' : header.Contains('\t') ? '\t' : ',';
        if (separator != ',')
            findings.Add(new Finding(FindingCode.DelimiterNotComma, file, 1, null, separator == ';' ? "columns separated by semicolons" : "columns separated by tabs",
                "columns separated by commas", "save the table as 'CSV, comma separated', with a decimal point"));
        return separator;
    }
}
