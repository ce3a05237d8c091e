namespace DecayAtlas.Contributions.Tables;

/// <summary>Takes the rows of one table, checks each against the schema, and makes a record of every row that is good.</summary>
internal sealed class TableCheck<TRow>(
    TableSchema schema, string file, RowBuilder<TRow> toRow, KeyIndex keys, IntakeLimits limits, FindingList findings)
    : TableCheck(schema, file, keys, limits, findings)
{
    private readonly List<TRow> _rows = [];

    public IReadOnlyList<TRow> Rows => _rows;

    protected override void Keep(int line, ReadOnlySpan<Cell> cells) => _rows.Add(toRow(line, cells));
}

/// <summary>The checks of a table, whatever its records are; not generic in them, because the inner loop runs once a cell.</summary>
internal abstract class TableCheck(TableSchema schema, string file, KeyIndex keys, IntakeLimits limits, FindingList findings)
{
    private const int MostCompared = 1000;

    private readonly Cell[] _cells = new Cell[schema.Fields.Count];
    private readonly Dictionary<string, int>?[] _ownIds = new Dictionary<string, int>?[schema.Fields.Count];
    private readonly (Dictionary<string, int> Ids, ForeignKey Key)?[] _references =
        new (Dictionary<string, int>, ForeignKey)?[schema.Fields.Count];
    private readonly int[] _compared = new int[schema.Fields.Count];
    private readonly Dictionary<(string, string), int> _rowOfPair = [];
    private readonly int _burial = schema.FindOrdinal("burial_id");
    private readonly HashSet<string> _unread = [];
    private TableHeader? _header;
    private int _count;

    public TableSchema Schema => schema;

    public string File => file;

    public IntakeLimits Limits => limits;

    public FindingList Findings => findings;

    /// <summary>Burials of rows that have findings.</summary>
    public IReadOnlySet<string> UnreadBurials => _unread;

    public bool HasHeader => _header is not null;

    /// <summary>Takes the checked cells of a good row.</summary>
    protected abstract void Keep(int line, ReadOnlySpan<Cell> cells);

    /// <summary>Sets which columns the next rows have; the rows of a wide table may come in two shapes, one after the other.</summary>
    public void Begin(TableHeader matched)
    {
        _header = matched;
        Array.Clear(_compared);
        foreach (FieldSchema field in schema.Fields.Where(field => matched.OrdinalOfColumn.Contains(field.Ordinal)))
        {
            if (field.Unique)
                _ownIds[field.Ordinal] = keys.Find(schema.Name, field.Name) ?? keys.Begin(schema.Name, field.Name);
            if (schema.ForeignKeys.FirstOrDefault(key => key.Field == field.Name) is { } key
                && keys.Find(key.ReferencedTable, key.ReferencedField) is { } ids)
            {
                _references[field.Ordinal] = (ids, key);
            }
        }
    }

    /// <summary>Takes one row; false when there are too many and the rest need not come.</summary>
    public bool Add<TCells>(scoped in TCells row)
        where TCells : IRowCells, allows ref struct
    {
        findings.Time.Ask();
        if (++_count > limits.MaxRows)
        {
            findings.Add(FindingCode.TooManyRows, file, Invariant($"more than {limits.MaxRows} rows"),
                Invariant($"at most {limits.MaxRows} rows"), "split the contribution");
            return false;
        }
        if (Check(_header!, row) && _header!.IsComplete)
            Keep(row.Line, _cells);
        else if (_burial >= 0 && _cells[_burial].Text is { Length: > 0 } burial)
            _unread.Add(burial);
        return true;
    }

    /// <summary>Says what only shows at the end.</summary>
    public void End(string? sheet = null)
    {
        if (_header is null)
        {
            findings.Add(new Finding(FindingCode.HeaderMissing, file, sheet is null ? "an empty file" : "an empty sheet",
                "a header with the columns of " + schema.Name, "write the header as the first line")
            { Sheet = sheet });
        }
        else if (_count == 0 && !_header.IsMissing && !SchemaCatalogue.MayBeEmpty(schema))
        {
            findings.Add(new Finding(FindingCode.TableEmpty, file, "a header without rows", "at least one row", "fill in the table")
            { Sheet = sheet });
        }
    }

    private bool Check<TCells>(TableHeader known, scoped in TCells row)
        where TCells : IRowCells, allows ref struct
    {
        int[] ordinals = known.OrdinalOfColumn;
        if (known.IsMissing)
            return false;
        if (row.Count != ordinals.Length)
        {
            bool isMore = row.Count > ordinals.Length;
            findings.Add(row.Locate(new Finding(FindingCode.RowWidth, Invariant($"{row.Count} cells"),
                Invariant($"{ordinals.Length} cells, as in the header"),
                isMore ? "write numbers with a decimal point and put quotation marks round a text that holds a comma"
                : "give every cell its comma, even an empty one"), -1));
            return false;
        }
        Array.Clear(_cells);
        bool isGood = true;
        for (int i = 0; i < ordinals.Length; i++)
        {
            if (ordinals[i] < 0)
                continue;
            FieldSchema field = schema.Fields[ordinals[i]];
            ReadOnlySpan<char> text = row.Span(i);
            ref Cell cell = ref _cells[field.Ordinal];
            Finding? fault = row.Fault(i)
                ?? (text.IsEmpty
                    ? field.Required ? CellCheck.Missing(field) : null
                    : CellCheck.Read(field, text, ref cell));
            if (fault is null && cell.HasValue && field.Type == FieldType.Text)
            {
                cell.Text = row.Text(i);
                fault = CheckKeys(field, cell.Text, row.Line);
            }
            if (fault is not null)
            {
                findings.Add(row.Locate(fault, i));
                isGood = false;
            }
        }
        return isGood && IsNewPair(row);
    }

    private Finding? CheckKeys(FieldSchema field, string id, int line)
    {
        if (_ownIds[field.Ordinal] is { } own && !own.TryAdd(id, line))
        {
            return field.Fault(FindingCode.IdRepeated, Invariant($"{id}, which row {own[id]} has already"),
                "an id that no other row has", "give one of the two rows another id, or take out the copy");
        }

        if (_references[field.Ordinal] is { } reference && !reference.Ids.ContainsKey(id))
        {
            string table = reference.Key.ReferencedTable;
            return field.Fault(FindingCode.IdUnknown, id, $"a {reference.Key.ReferencedField} of the table {table}",
                Near(field, id, reference.Ids) is { } near ? $"correct the id ({near} is close), or add the row to {table}"
                : $"add the row to {table}, or correct the id");
        }

        return null;
    }

    // Only for as many as are listed: a thousand comparisons for every row would take longer than all the rest.
    private string? Near(FieldSchema field, string id, Dictionary<string, int> ids) =>
        findings.IsFull || _compared[field.Ordinal]++ >= FindingList.ShownPerKind ? null : Nearest.Of(id, ids.Keys.Take(MostCompared));

    private bool IsNewPair<TCells>(scoped in TCells row)
        where TCells : IRowCells, allows ref struct
    {
        if (schema.PrimaryKey is not [string first, string second])
            return true;
        (string, string) pair = (_cells[schema.OrdinalOf(first)].Text ?? "", _cells[schema.OrdinalOf(second)].Text ?? "");
        if (_rowOfPair.TryAdd(pair, row.Line))
            return true;
        findings.Add(row.Locate(new Finding(FindingCode.IdRepeated, "", null, $"{first}, {second}",
            Invariant($"{pair.Item1}, {pair.Item2}, which row {_rowOfPair[pair]} has already"),
            "a pair that no other row has", "take out the copy"), -1));
        return false;
    }
}
