using System.Globalization;

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
    private readonly TypedText _typed;
    private readonly KitTold _told = new();
    private readonly KitPlaces? _named;
    private readonly Phrases? _words;

    private KitWorkbook(Workbook workbook, Sheet kit, FindingList findings)
    {
        (_workbook, _kit, _findings) = (workbook, kit, findings);
        _facts = KitFacts.Read(kit);
        _typed = new TypedText(_facts.Language);
        _words = _facts.Language.Length == 0 ? null : SenderWords.Find(_facts.Language);
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
        _named = _places is null ? null : KitPlaces.Of(_places, _facts);
        if (_holes is not null && _filled.Length == 0)
        {
            findings.Add(new Finding(FindingCode.KitEmpty, "a kit in which nothing is filled in yet", "at least one hole",
                "write down place, days and weights of a hole, and check again") with
            { File = _holes.Sheet.File, Sheet = _holes.Sheet.Name });
        }
    }

    /// <summary>How deep the campaign wants bags; null where the kit does not say it.</summary>
    public double? PlannedDepthCentimetres => NumberOf(_facts.Bags, "depth_cm");

    /// <summary>By their ids.</summary>
    public IReadOnlyDictionary<string, string>? NamesOfPlaces => _named?.ById;

    /// <summary>The days of the campaign; null where the kit does not say them.</summary>
    public ExpectedDays? Expected => _facts.Expected;

    /// <summary>Whether there is anything to check.</summary>
    public bool IsStarted => _filled.Length > 0 && _places is not null;

    /// <summary>What was typed as text and read as a number or a day, for its sender to look at.</summary>
    public IReadOnlyList<Finding> Told => _told.Close(_kit.File);

    /// <summary>A finding about a field of a row, with the cell that the row has for it; as it is where it has none.</summary>
    /// <param name="role">The litter of the bag that it is about; null for a place.</param>
    public Finding At(Finding finding, string? role)
    {
        KitSheet? sheet = role is null ? _places : _holes;
        KitColumn? column = (role is null ? KitForm.PlaceColumns : KitForm.HoleColumns)
            .FirstOrDefault(column => column.Field == finding.Column && (column.Role ?? role) == role);
        return sheet is null || column is null || !sheet.Has(column) || finding.Row is not { } row ? finding
            : Place(finding, sheet, sheet.Rows.First(r => r.Row == row), column);
    }

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
        foreach (KitColumn line in KitForm.AboutLines.Where(line => FlatDescriptor.Names.Contains(line.Field)))
        {
            if (RowAbout(line) is not { } row)
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

    private SheetRow? RowAbout(KitColumn line)
    {
        string heading = _facts.Headings.GetValueOrDefault((KitForm.About, line.Key), line.Key);
        return About?.Rows.FirstOrDefault(row => row[0].Text.Trim() == heading);
    }

    public ContributionHeader? ReadHeader(string contentHash)
    {
        (Dictionary<string, string> values, Dictionary<string, int> rowOf) = Said();
        return FlatDescriptor.Read(values, (finding, name) => PlaceAbout(finding, name, rowOf), contentHash, _findings);
    }

    /// <summary>A finding at the cell of the sheet about the group that says a field of the package.</summary>
    public Finding PlaceAbout(Finding finding, string field) => PlaceAbout(finding, field, Said().RowOf);

    private Finding PlaceAbout(Finding finding, string? field, Dictionary<string, int> rowOf) =>
        field is not null && rowOf.TryGetValue(field, out int row) ? About!.Place(finding, row, 1)
            : finding with { File = _kit.File, Sheet = _kit.Name };

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
        HashSet<string> used = [.. _filled.Select(row => _named!.Meant(_holes!.Cell(row, place).Text)).OfType<string>()];
        KitColumn[] columns = [.. KitForm.PlaceColumns.Where(_places!.Has)];
        (FieldSchema, string)[] said = [.. Said(table.Schema, _facts.Sites, columns)];
        // an id has no umlauts and no blanks
        FieldSchema written = table.Schema.Fields[table.Schema.OrdinalOf("site_name")];
        Begin(table, [.. columns.Select(column => FieldOf(table.Schema, column)), written, .. said.Select(fixedValue => fixedValue.Item1)]);
        foreach (SheetRow row in _places.Rows.Where(row => used.Contains(_named!.IdOf(_places.Cell(row, name).Text))
            || columns.Skip(1).Any(column => _places.IsFilled(row, column))))
        {
            table.Add(new HeldCells(row.Row,
                [.. columns.Select(column => Value(_places, row, column, table.Schema)), (NameOf(row, written), null),
                    .. said.Select(s => (s.Item2, (Finding?)null))],
                (fault, i) => Place(fault, _places, row, i >= 0 && i < columns.Length ? columns[i] : i == columns.Length ? name : null)));
        }

        table.End(_places.Sheet.Name);

        // where it says no more than the id does, or is too long for a name, the id stands for it
        string NameOf(SheetRow row, FieldSchema field) => _places.Cell(row, name).Text.Trim() is var text
            && text != _named!.IdOf(text) && text.Length <= field.MaxLength ? text : "";
    }

    private void ReadBags(TableCheck table)
    {
        foreach (string role in Roles)
        {
            KitColumn[] columns = [.. KitForm.HoleColumns.Where(column => _holes!.Has(column) && (column.Role ?? role) == role)];
            Dictionary<string, string> values = new(_facts.Bags) { ["role"] = role };
            Dictionary<string, string>? lot = _facts.Lots.Find(lot => lot.GetValueOrDefault("role") == role);
            if (lot is not null)
                values["lot_id"] = lot["lot_id"];
            if (Balance(table.Schema, table.Findings) is { } balance)
                values[KitForm.Balance.Field] = balance;
            (FieldSchema, string)[] said = [.. Said(table.Schema, values, columns)];
            double? heaviest = HeaviestOf(lot);
            FieldSchema id = table.Schema.Fields[table.Schema.OrdinalOf("bag_id")];
            Begin(table,
                [id, .. columns.Select(column => FieldOf(table.Schema, column)), .. said.Select(fixedValue => fixedValue.Item1)]);
            foreach (SheetRow row in _filled.Where(row => IsThere(row, role)))
            {
                string bag = KitForm.BagOf(_holes!.Cell(row, columns[0]).Text.Trim(), role);
                bool isTaken = table.Add(new HeldCells(row.Row,
                    [(bag, null), .. columns.Select(column => OfBags(row, column, table.Schema, heaviest)),
                        .. said.Select(s => (s.Item2, (Finding?)null))],
                    (fault, i) => Place(fault, _holes, row, i < 0 || i > columns.Length ? null : columns[Math.Max(0, i - 1)])));
                if (!isTaken)
                    return;
            }
        }

        table.End(_holes!.Sheet.Name);
    }

    /// <summary>A cell of the sheet of holes; where it is empty, what the protocol says of every bag.</summary>
    private (string Text, Finding? Fault) OfBags(SheetRow row, KitColumn column, TableSchema schema, double? heaviest)
    {
        FieldSchema field = FieldOf(schema, column);
        SheetCell cell = _holes!.Cell(row, column);
        string text = cell.Text.Trim();
        if (text.Length == 0 && cell.Kind is (SheetCellKind.Empty or SheetCellKind.Text))
            return (_facts.Bags.GetValueOrDefault(column.Field, ""), null);
        if (column.Field == "site_id")
            return OfPlace(row, column, field, text);
        if (column.Field is not ("mass_initial_g" or "mass_final_g"))
            return Value(_holes, row, column, schema);
        string state = _facts.Headings.GetValueOrDefault((KitForm.Holes, column.Role + "-state"), "condition");
        bool isWord = text.Any(char.IsLetter) && !text.Any(char.IsAsciiDigit);
        if (isWord && IsSaidLost(row, column) && _holes.ColumnOf.ContainsKey(column.Role + "-state"))
        {
            string lost = _holes.Cell(row, KitForm.HoleColumns.First(c => c.Key == column.Role + "-state")).Text.Trim();
            return ("", field.Fault(FindingCode.KitMassWord, FindingText.Quote(text), "a weight in grams, or an empty cell",
                $"leave the weight empty; the column {FindingText.Quote(state)} says {FindingText.Quote(lost)} already"));
        }
        if (isWord && StateWords.ConditionOf(text) is { } condition)
        {
            string word = _facts.WordFor("condition", condition);
            return ("", field.Fault(FindingCode.KitMassWord, FindingText.Quote(text), "a weight in grams, or an empty cell",
                $"leave the weight empty and choose {FindingText.Quote(word)} in the column {FindingText.Quote(state)}"));
        }
        (string value, Finding? fault) = Value(_holes, row, column, schema, heaviest);
        if (fault is null && double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out double grams) && grams == 0)
        {
            return ("", field.Fault(FindingCode.KitMassZero, text, "a weight above 0 g, or an empty cell where nothing was weighed",
                $"leave it empty; of a bag that is lost choose {FindingText.Quote(_facts.WordFor("condition", "lost"))} in the column "
                + FindingText.Quote(state)));
        }
        return (value, fault);
    }

    private bool IsSaidLost(SheetRow row, KitColumn mass)
    {
        KitColumn state = KitForm.HoleColumns.First(column => column.Key == mass.Role + "-state");
        return _facts.Word("condition", _holes!.Cell(row, state).Text.Trim()) is var said
            && (said == "lost" || StateWords.ConditionOf(said) == "lost");
    }

    private (string Text, Finding? Fault) OfPlace(SheetRow row, KitColumn column, FieldSchema field, string text)
    {
        if (_named!.Meant(text) is not { } meant)
            return ("", UnknownPlace(field, text));
        if (!_named.IsAsWritten(text))
        {
            _told.Add(Place(field.Fault(FindingCode.KitTyped, FindingText.Quote(text), $"read as {FindingText.Quote(_named.NameOf(meant))}",
                AsRead), _holes!, row, column));
        }
        return (meant, null);
    }

    private const string AsRead = "nothing is to be done if that is right; else type it again";

    private Finding UnknownPlace(FieldSchema field, string text)
    {
        IReadOnlyList<string> names = _named!.Names;
        string? near = Nearest.Of(text, names);
        string sheet = FindingText.Quote(_places!.Sheet.Name ?? "");
        string known = names.Count == 0 ? ""
            : $", which has {string.Join(", ", names.Take(MostNamed).Select(name => FindingText.Quote(name)))}"
                + (names.Count > MostNamed ? ", …" : "");
        return field.Fault(FindingCode.KitPlaceUnknown, FindingText.Quote(text), $"one of the places on the sheet {sheet}{known}",
            near is null ? $"write the place on the sheet {sheet} first, with its position, and its name here as it stands there"
                : $"write {FindingText.Quote(near)} if that was meant, or add the place to the sheet {sheet}");
    }

    private const int MostNamed = 8;

    // ten times what a bag of the lot should weigh, as the form itself has it
    private double? HeaviestOf(Dictionary<string, string>? lot) => NumberOf(lot, "litter_mass_nominal_g") is { } litter
        ? Math.Ceiling(10 * (litter + (_facts.Bags.GetValueOrDefault("mass_basis") == "gross" ? NumberOf(lot, "tare_g") ?? 0 : 0))) : null;

    private static double? NumberOf(Dictionary<string, string>? lot, string field) =>
        double.TryParse(lot?.GetValueOrDefault(field), NumberStyles.Float, CultureInfo.InvariantCulture, out double number) ? number : null;

    private string? Balance(TableSchema schema, FindingList findings)
    {
        if (RowAbout(KitForm.Balance) is not { } row || row[1].Text.Trim().Length == 0)
            return null;
        FieldSchema field = FieldOf(schema, KitForm.Balance);
        (string text, Finding? fault) = SheetValue.Of(field, row[1], _workbook.IsDate1904);
        if (fault is null && row[1].Kind == SheetCellKind.Text)
            (text, _, fault) = _typed.Read(field, text.Trim());
        Cell cell = default;
        fault ??= CellCheck.Read(field, text, ref cell);
        if (fault is null)
            return text;
        // of both litters once
        if (!findings.Has(fault.Code))
            findings.Add(About!.Place(fault, row.Row, 1) with { Column = row[0].Text.Trim(), Field = $"bags.{KitForm.Balance.Field}" });
        return null;
    }

    // A hole of which one bag alone has anything was filled with that bag alone.
    private bool IsThere(SheetRow row, string role)
    {
        KitColumn[] own = [.. KitForm.HoleColumns.Where(column => column.Role is not null && _holes!.IsFilled(row, column))];
        return own.Length == 0 || own.Any(column => column.Role == role);
    }

    // more than its number, which came with the kit
    private bool IsFilled(SheetRow row) => KitForm.HoleColumns.Skip(1).Any(column => _holes!.IsFilled(row, column));

    private static void Begin(TableCheck table, FieldSchema[] fields) =>
        table.Begin(new TableHeader([.. fields.Select(field => field.Ordinal)], IsComplete: true));

    private static FieldSchema FieldOf(TableSchema schema, KitColumn column) => schema.Fields[schema.OrdinalOf(column.Field)];

    private static IEnumerable<(FieldSchema Field, string Value)> Said(
        TableSchema schema, Dictionary<string, string> values, KitColumn[] columns) => values
            .Where(value => schema.FindOrdinal(value.Key) >= 0 && columns.All(column => column.Field != value.Key))
            .Select(value => (schema.Fields[schema.OrdinalOf(value.Key)], value.Value));

    private (string Text, Finding? Fault) Value(
        KitSheet sheet, SheetRow row, KitColumn column, TableSchema schema, double? most = null)
    {
        FieldSchema field = FieldOf(schema, column);
        SheetCell cell = sheet.Cell(row, column);
        (string text, Finding? fault) = SheetValue.Of(field, cell, _workbook.IsDate1904);
        if (fault is not null || text.Length > FieldSchema.LongestOfAll)
            return (text, fault);
        text = text.Trim();
        if (cell.Kind == SheetCellKind.Text)
        {
            (string read, bool isOther, fault) = _typed.Read(field, text, most);
            if (fault is not null)
                return ("", fault);
            if (isOther)
            {
                Finding told = field.Fault(FindingCode.KitTyped, FindingText.Quote(text), $"read as {Shown(field, read)}", AsRead);
                _told.Typed(Place(told, sheet, row, column), field, text, Shown(field, read));
            }
            text = read;
        }
        if (field.Name == "site_id")
            return (_named!.IdOf(text), null);
        return field.AllowedValues.Count > 0 || field.Words is not null || field.Type == FieldType.YesNo
            ? Chosen(sheet, row, column, field, text) : (text, null);
    }

    // minutes and seconds make more digits than anybody wrote; five are a metre
    private static string Shown(FieldSchema field, string read) => field.IsCoordinate
        && double.TryParse(read, NumberStyles.Float, CultureInfo.InvariantCulture, out double degrees)
            ? Math.Round(degrees, 5).ToString(CultureInfo.InvariantCulture) : read;

    /// <summary>A word of the sheet's own list; another is answered with the words of that list.</summary>
    private (string Text, Finding? Fault) Chosen(KitSheet sheet, SheetRow row, KitColumn column, FieldSchema field, string text)
    {
        string word = _facts.Word(field.Name, text);
        IReadOnlyList<string> offered = _facts.WordsOf(field.Name);
        if (text.Length == 0 || offered.Count == 0 || (field.Words is { } known ? known.Find(word) is not null
            : field.AllowedValues.Count == 0 || field.AllowedValues.Contains(word)))
        {
            return (word, null);
        }
        // rotas, perdido: one word that says it, if not as the list does
        if (field.Name == "condition" && text.All(char.IsLetter) && StateWords.ConditionOf(text) is { } condition)
            return (condition, null);
        string? near = _facts.NearestWord(field.Name, text, _words);
        Finding finding = field.Fault(field.Words is null ? FindingCode.NotAllowed : FindingCode.WordNotOurs, FindingText.Quote(text),
            $"one of the words of the list: {string.Join(", ", offered)}",
            near is null ? "choose from the list what comes closest"
                : $"choose {FindingText.Quote(near)} from the list, if that was meant");
        if (field.Words is null)
            return ("", finding);
        _told.Add(Place(finding, sheet, row, column));
        return (word, null);
    }

    private Finding Place(Finding fault, KitSheet sheet, SheetRow row, KitColumn? column) => column is null
        ? sheet.Sheet.Place(fault, row.Row)
        : sheet.Sheet.Place(fault, row.Row, sheet.ColumnOf[column.Key]) with
        {
            Column = _facts.Headings.GetValueOrDefault((sheet == _places ? KitForm.Places : KitForm.Holes, column.Key)),
            Field = $"{(sheet == _places ? "sites" : "bags")}.{column.Field}",
        };
}
