using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Contributions.Kits;

/// <summary>Reads a workbook that came with a kit: no question is left, since the kit said all but what was measured.</summary>
internal sealed class KitWorkbook
{
    private static readonly string[] Roles = ["fast", "slow"];

    private readonly Workbook _workbook;
    private readonly KitFacts _facts;
    private readonly FindingList _findings;
    private readonly Sheet _kit;
    private readonly KitSheet? _places, _holes;
    private readonly SheetRow[] _filled = [];

    private KitWorkbook(Workbook workbook, Sheet kit, FindingList findings)
    {
        (_workbook, _kit, _findings) = (workbook, kit, findings);
        _facts = KitFacts.Read(kit);
        if (_facts.Version != KitForm.Version)
        {
            findings.Add(new Finding(FindingCode.WorkbookKind, $"a kit of version {FindingText.Quote(_facts.Version)}",
                $"version {KitForm.Version}", "ask the curator for a kit of this version") with
            { File = kit.File, Sheet = kit.Name });
            return;
        }

        _places = KitSheet.Of(workbook, _facts, KitForm.Places, KitForm.PlaceColumns, findings);
        _holes = KitSheet.Of(workbook, _facts, KitForm.Holes, KitForm.HoleColumns, findings);
        _filled = [.. _holes?.Rows.Where(IsFilled) ?? []];
        if (_holes is not null && _filled.Length == 0)
        {
            findings.Add(new Finding(FindingCode.KitEmpty, "a kit in which nothing is filled in yet", "at least one hole",
                "write down place, days and weights of a hole, and check again") with
            { File = _holes.Sheet.File, Sheet = _holes.Sheet.Name });
        }
    }

    /// <summary>Whether there is anything to check.</summary>
    public bool IsStarted => _filled.Length > 0 && _places is not null;

    /// <summary>The kit of a workbook; null where it came with none.</summary>
    public static KitWorkbook? In(Workbook workbook, FindingList findings) =>
        workbook.Find(KitForm.Sheet) is { } kit ? new KitWorkbook(workbook, kit, findings) : null;

    /// <summary>The sheet for people that a table is read from.</summary>
    public string? SheetOf(string table) => (table == "sites" ? _places : _holes)?.Sheet.Name;

    public static bool Has(TableSchema schema) => schema.Name is "sites" or "lots" or "bags";

    /// <summary>What it says of its contribution as a whole, by the names of a flat descriptor.</summary>
    public IReadOnlyDictionary<string, string> Stated => Said().Values;

    private Sheet? About => _workbook.Find(_facts.Names.GetValueOrDefault(KitForm.About, KitForm.About));

    private (Dictionary<string, string> Values, Dictionary<string, int> RowOf) Said()
    {
        Dictionary<string, string> values = new(_facts.Package);
        Dictionary<string, int> rowOf = [];
        foreach (KitColumn line in KitForm.AboutLines)
        {
            string heading = _facts.Headings.GetValueOrDefault((KitForm.About, line.Key), line.Key);
            if (About?.Rows.FirstOrDefault(row => row[0].Text.Trim() == heading) is not { } row)
                continue;
            rowOf[line.Field] = row.Row;
            if (row[1].Text.Trim() is { Length: > 0 } value)
                values[line.Field] = value;
        }
        // the schema takes no address without a name to it
        if (values.ContainsKey("contact_email") && !values.ContainsKey("contact_name"))
            values["contact_name"] = values.GetValueOrDefault("contributor", "");
        return (values, rowOf);
    }

    public ContributionHeader? ReadHeader(string contentHash)
    {
        (Dictionary<string, string> values, Dictionary<string, int> rowOf) = Said();
        return FlatDescriptor.Read(values, (finding, name) => name is not null && rowOf.TryGetValue(name, out int row)
            ? About!.Place(finding, row, 1) : finding with { File = _kit.File, Sheet = _kit.Name }, contentHash, _findings);
    }

    public void Read(TableCheck table)
    {
        switch (table.Schema.Name)
        {
            case "sites":
                ReadPlaces(table);
                break;
            case "lots":
                ReadLots(table);
                break;
            default:
                ReadBags(table);
                break;
        }
    }

    private void ReadLots(TableCheck table)
    {
        Begin(table, [.. table.Schema.Fields]);
        foreach (Dictionary<string, string> lot in _facts.Lots)
        {
            table.Add(new HeldCells(1, [.. table.Schema.Fields.Select(field => (lot.GetValueOrDefault(field.Name, ""), (Finding?)null))],
                (fault, _) => fault with { File = _kit.File, Sheet = _kit.Name }));
        }

        table.End(_kit.Name);
    }

    // A place that no hole names and that has no coordinates was only offered.
    private void ReadPlaces(TableCheck table)
    {
        KitColumn name = KitForm.PlaceColumns[0];
        KitColumn place = KitForm.HoleColumns.First(column => column.Field == "site_id");
        HashSet<string> used = [.. _filled.Select(row => PlaceOf(_holes!.Cell(row, place).Text))];
        KitColumn[] columns = [.. KitForm.PlaceColumns.Where(_places!.Has)];
        (FieldSchema, string)[] said = [.. Said(table.Schema, _facts.Sites, columns)];
        Begin(table, [.. columns.Select(column => FieldOf(table.Schema, column)), .. said.Select(fixedValue => fixedValue.Item1)]);
        foreach (SheetRow row in _places.Rows.Where(row => used.Contains(PlaceOf(_places.Cell(row, name).Text))
            || columns.Skip(1).Any(column => _places.IsFilled(row, column))))
        {
            table.Add(new HeldCells(row.Row,
                [.. columns.Select(column => Value(_places, row, column, table.Schema)), .. said.Select(s => (s.Item2, (Finding?)null))],
                (fault, i) => Place(fault, _places, row, i >= 0 && i < columns.Length ? columns[i] : null)));
        }

        table.End(_places.Sheet.Name);
    }

    private void ReadBags(TableCheck table)
    {
        foreach (string role in Roles)
        {
            KitColumn[] columns = [.. KitForm.HoleColumns.Where(column => _holes!.Has(column) && (column.Role ?? role) == role)];
            Dictionary<string, string> values = new(_facts.Bags) { ["role"] = role };
            if (_facts.Lots.Find(lot => lot.GetValueOrDefault("role") == role) is { } lot)
                values["lot_id"] = lot["lot_id"];
            (FieldSchema, string)[] said = [.. Said(table.Schema, values, columns)];
            FieldSchema id = table.Schema.Fields[table.Schema.OrdinalOf("bag_id")];
            Begin(table,
                [id, .. columns.Select(column => FieldOf(table.Schema, column)), .. said.Select(fixedValue => fixedValue.Item1)]);
            foreach (SheetRow row in _filled.Where(row => IsThere(row, role)))
            {
                string bag = KitForm.BagOf(_holes!.Cell(row, columns[0]).Text.Trim(), role);
                bool isTaken = table.Add(new HeldCells(row.Row,
                    [(bag, null), .. columns.Select(column => Value(_holes, row, column, table.Schema)),
                        .. said.Select(s => (s.Item2, (Finding?)null))],
                    (fault, i) => Place(fault, _holes, row, i < 0 || i > columns.Length ? null : columns[Math.Max(0, i - 1)])));
                if (!isTaken)
                    return;
            }
        }

        table.End(_holes!.Sheet.Name);
    }

    // A hole of which one bag alone has anything was filled with that bag alone.
    private bool IsThere(SheetRow row, string role)
    {
        KitColumn[] own = [.. KitForm.HoleColumns.Where(column => column.Role is not null && _holes!.IsFilled(row, column))];
        return own.Length == 0 || own.Any(column => column.Role == role);
    }

    // more than its number, which came with the kit
    private bool IsFilled(SheetRow row) => KitForm.HoleColumns.Skip(1).Any(column => _holes!.IsFilled(row, column));

    // a name in letters that no id takes is told apart by its hash
    private static string PlaceOf(string name) => name.Trim().Length == 0 ? "" : Identifier.Of(name) is { Length: > 0 } id ? id
        : "place-" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(name.Trim())))[..8];

    private static void Begin(TableCheck table, FieldSchema[] fields) =>
        table.Begin(new TableHeader([.. fields.Select(field => field.Ordinal)], IsComplete: true));

    private static FieldSchema FieldOf(TableSchema schema, KitColumn column) => schema.Fields[schema.OrdinalOf(column.Field)];

    private static IEnumerable<(FieldSchema Field, string Value)> Said(
        TableSchema schema, Dictionary<string, string> values, KitColumn[] columns) => values
            .Where(value => schema.FindOrdinal(value.Key) >= 0 && columns.All(column => column.Field != value.Key))
            .Select(value => (schema.Fields[schema.OrdinalOf(value.Key)], value.Value));

    private (string Text, Finding? Fault) Value(KitSheet sheet, SheetRow row, KitColumn column, TableSchema schema)
    {
        FieldSchema field = FieldOf(schema, column);
        SheetCell cell = sheet.Cell(row, column);
        (string text, Finding? fault) = SheetValue.Of(field, cell, _workbook.IsDate1904);
        if (fault is not null || text.Length > FieldSchema.LongestOfAll)
            return (text, fault);
        text = text.Trim();
        return (field.Name == "site_id" ? PlaceOf(text)
            : field.AllowedValues.Count > 0 || field.Words is not null || field.Type == FieldType.YesNo ? _facts.Word(field.Name, text)
            : text, null);
    }

    private Finding Place(Finding fault, KitSheet sheet, SheetRow row, KitColumn? column) => column is null
        ? sheet.Sheet.Place(fault, row.Row)
        : sheet.Sheet.Place(fault, row.Row, sheet.ColumnOf[column.Key]) with
        {
            Column = _facts.Headings.GetValueOrDefault((sheet == _places ? KitForm.Places : KitForm.Holes, column.Key)),
            Field = $"{(sheet == _places ? "sites" : "bags")}.{column.Field}",
        };
}
