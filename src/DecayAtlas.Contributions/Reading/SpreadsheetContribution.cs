namespace DecayAtlas.Contributions.Reading;

/// <summary>Reads a contribution that came as one workbook or one wide table, through the same checks as a data package.</summary>
internal sealed class SpreadsheetContribution(SpreadsheetFiles files, string contentHash, IntakeLimits limits, FindingList findings)
{
    private KitWorkbook? _kit;
    private Mapping? _mapping;
    private readonly List<Finding> _thousands = [];
    private IReadOnlySet<string> _saidOfDrying = new HashSet<string>();
    private IReadOnlySet<string> _saidOfCounting = new HashSet<string>();
    private IReadOnlySet<string> _read = new HashSet<string>();

    public ContributionFormat Format { get; private set; } = files.Mapping is null && files.IsWorkbook ? ContributionFormat.Workbook
        : ContributionFormat.WideTable;

    /// <summary>Null when what the contribution says of itself is not good.</summary>
    public ContributionHeader? Header { get; private set; }

    /// <summary>What it says of its contribution as a whole; null where that could not be read.</summary>
    public IReadOnlyDictionary<string, string>? Stated { get; private set; }

    /// <summary>What was read otherwise than it was typed.</summary>
    public IReadOnlyList<Finding> Told => _kit?.Told ?? [.. _thousands.DistinctBy(told => told.Column)];

    /// <summary>A finding at the cell of a kit that says a field of the package.</summary>
    public Finding PlaceInKit(Finding finding, string field) => _kit?.PlaceAbout(finding, field) ?? finding;

    /// <summary>Whether words that are none of ours are told with its own list of words.</summary>
    public bool TellsWordsOf(string? column) => _kit is not null && column is ("ecosystem" or "land_use");

    /// <summary>Whether the sender said of a remark that it means no litter weighed wet.</summary>
    public bool SaysOfDrying(string remark) => _saidOfDrying.Contains(remark);

    /// <summary>Whether the sender said of a remark that what it speaks of counts as it is written.</summary>
    public bool SaysOfCounting(string remark) => _saidOfCounting.Contains(remark);

    /// <summary>Whether the mapping makes something of a remark, beside noting it.</summary>
    public bool IsRead(string remark) => _read.Contains(remark);

    /// <summary>A finding about a row of bags or of places with the cell that it is about, where rows of the table are not those of a
    /// sheet.</summary>
    public Finding At(Finding finding, string? role) => _kit?.At(finding, role) ?? InOwnColumn(finding, role);

    // by the title that the sender's column has, where one column says the field
    private Finding InOwnColumn(Finding finding, string? role)
    {
        TableSchema schema = role is null ? SchemaCatalogue.Sites : SchemaCatalogue.Bags;
        TableSources[] tables = [.. (_mapping?.Tables ?? []).Where(table => table.Schema == schema)];
        TableSources? own = tables.Length < 2 ? tables.FirstOrDefault()
            : Array.Find(tables, table => table.Sources.Any(source => source.Field.Name == "role" && source.Value == role));
        string?[] columns = [.. (own?.Sources ?? []).Where(source => source.Field.Name == finding.Column)
            .SelectMany(source => source.WithOthers).Select(source => source.Column).Distinct()];
        return columns is [{ } only] ? finding with { Column = only, Field = $"{schema.Name}.{finding.Column}" } : finding;
    }

    /// <summary>The sheet that a table stands on; null where it is no sheet of its own.</summary>
    public string? SheetOf(string table) => Format == ContributionFormat.Workbook ? table : _kit?.SheetOf(table);

    /// <summary>The rows without findings; null when the tables could not be read at all.</summary>
    public ContributionTables? Read()
    {
        if (files.IsUnread)
        {
            TellOtherKind("a workbook saved as .xlsx, or a CSV file", "save it as .xlsx");
            return null;
        }
        if (files.Mapping is not null)
            return ReadWide();
        if (!files.IsWorkbook)
            return TellNoMapping("a table without a mapping");
        if (Workbook.Open(files.Table, limits, findings) is not { } workbook)
            return null;
        if (KitWorkbook.In(workbook, findings) is { } kit)
            return ReadKit(kit);
        return WorkbookContribution.HasTables(workbook) ? ReadSheets(workbook)
            : TellNoMapping("a workbook without the sheets of a contribution and without a mapping");
    }

    private ContributionTables? TellNoMapping(string found)
    {
        string file = files.Table.Path;
        string mapping = Path.GetFileName(SpreadsheetFiles.MappingPathOf(file));
        findings.Add(FindingCode.MappingMissing, file, found, $"a mapping {mapping} beside it",
            $"let decayatlas map-columns {Path.GetFileName(file)} ask what it does not say, and send both files");
        return null;
    }

    private ContributionTables? ReadKit(KitWorkbook kit)
    {
        Format = ContributionFormat.Kit;
        _kit = kit;
        if (!kit.IsStarted)
            return null;
        Stated = kit.Stated;
        Expected = kit.Expected;
        Header = kit.ReadHeader(contentHash);
        return ContributionTables.Read(schema => KitWorkbook.Has(schema) ? files.Table.Path : null, kit.Read, limits, findings) with
        {
            NamesInKit = kit.NamesOfPlaces,
        };
    }

    private ContributionTables ReadSheets(Workbook workbook)
    {
        string file = files.Table.Path;
        Stated = WorkbookContribution.StatedIn(workbook);
        Header = WorkbookContribution.ReadHeader(workbook, file, contentHash, findings);
        return ContributionTables.Read(
            schema => workbook.Find(schema.Name) is { } sheet
                && (sheet.Rows.Count > 0 || !WorkbookContribution.IsOptional(schema, workbook)) ? file : null,
            table => SheetTable.Read(workbook.Find(table.Schema.Name)!, workbook.IsDate1904, table), limits, findings);
    }

    /// <summary>The days of the campaign, where the mapping or the kit says them.</summary>
    public ExpectedDays? Expected { get; private set; }

    /// <summary>How deep the campaign wants bags, where the kit says it.</summary>
    public double? PlannedDepthCentimetres => _kit?.PlannedDepthCentimetres;

    private WideTable? AsFound(LayoutWishes wishes, Mapping mapping) =>
        TableLayout.Of([files.Table], wishes, null, limits, findings) is { } tidy ? WideTable.Of(tidy, files.Table.Path, mapping, findings)
            : null;

    private WideTable? AsItStands(Mapping mapping)
    {
        if (files.IsText)
        {
            return WideCsv.Read(files.Table, mapping.Form, limits, findings) is { } text ? WideTable.Of(text, false, mapping, findings)
                : null;
        }
        if (files.IsOtherKind)
        {
            TellOtherKind("layout: as-found under file: in the mapping, or a workbook saved as .xlsx",
                "add layout: as-found, or save it as .xlsx");
            return null;
        }
        return Workbook.Open(files.Table, limits, findings) is { } workbook && SheetOf(workbook, mapping) is { } sheet
            ? WideTable.Of(sheet, workbook.IsDate1904, mapping, findings) : null;
    }

    private void TellOtherKind(string expected, string mend) => findings.Add(FindingCode.WorkbookKind, files.Table.Path,
        $"a spreadsheet of the kind {Path.GetExtension(files.Table.Path)}", expected, mend);

    private ContributionTables? ReadWide()
    {
        Format = ContributionFormat.WideTable;
        if (MappingReader.Read(files.Mapping!, findings) is not { } mapping)
            return null;
        _mapping = mapping;
        Expected = mapping.Expected;
        _saidOfDrying = mapping.WordsWithoutMeaning("drying");
        _saidOfCounting = mapping.WordsWithoutMeaning("condition");
        _read = mapping.WordsWithMeaning();
        Stated = mapping.Package;
        Header = FlatDescriptor.Read(mapping.Package, (finding, name) => finding with
        {
            File = mapping.File,
            Row = mapping.LineOf(name is null ? "/package" : "/package/" + name),
            Column = name is null ? "package" : "package." + name,
        }, contentHash, findings);
        if ((mapping.Form.AsFound is { } wishes ? AsFound(wishes, mapping) : AsItStands(mapping)) is not { } wide)
            return null;
        Sheet sheet = wide.Sheet;
        if (wide.Rows.Count == 0)
        {
            findings.Add(new Finding(FindingCode.TableEmpty, sheet.File, "a header without rows", "at least one row", "fill in the table")
            { Sheet = sheet.Name });
            return null;
        }
        return ContributionTables.Read(schema => mapping.Has(schema) ? sheet.File : null, table => ReadMapped(wide, mapping, table), limits,
            findings);
    }

    private Sheet? SheetOf(Workbook workbook, Mapping mapping)
    {
        if (mapping.Form.Sheet is { } wanted)
        {
            if (workbook.Find(wanted.Trim()) is { } named)
                return named;
            Tell("/file/sheet", $"the sheet {FindingText.Quote(wanted)}, which the workbook does not have", "one of ",
                "correct the name of the sheet");
            return null;
        }
        if (workbook.Filled is [Sheet only])
            return only;
        Tell("/file", "no name of a sheet", "the name of the sheet to read, one of ", "state sheet: under file:");
        return null;

        void Tell(string place, string found, string expected, string mend) => findings.Add(new Finding(FindingCode.SheetMissing,
            mapping.File, mapping.LineOf(place), "file.sheet", found, expected + workbook.QuotedNames, mend));
    }

    private void ReadMapped(WideTable wide, Mapping mapping, TableCheck table)
    {
        TableSchema schema = table.Schema;
        if (schema.Name == "lots" && mapping.Lots.Count > 0)
        {
            table.Begin(new TableHeader([.. schema.Fields.Select(field => field.Ordinal)], IsComplete: true));
            foreach (StatedLot lot in mapping.Lots)
                table.Add(mapping.CellsOf(lot));
        }
        foreach (TableSources sources in mapping.Tables.Where(sources => sources.Schema == schema))
        {
            table.Begin(new TableHeader([.. sources.Sources.Select(source => source.Field.Ordinal)], IsComplete: true));
            _thousands.AddRange(ThousandsTold.Of(wide, sources));
            foreach (HeldCells row in new MappedRows(wide, mapping, sources, findings).Cells())
            {
                if (!table.Add(row))
                    return;
            }
        }
        if (table.HasHeader)
            table.End(wide.Sheet.Name);
    }
}
