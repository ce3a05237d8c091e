namespace DecayAtlas.Contributions.Reports;

/// <summary>
/// What everybody may know of a finding: its code, names of the open schema and numbers. Pages, records, summaries and what a run prints
/// take this type only, and it can't be made of a text: what the sender typed (cells, names of columns, sheets and files) reaches it only
/// where it is a name of the schema, letter by letter; anything else is missing. The sender reads the <see cref="Finding"/> itself.
/// </summary>
public sealed record PublicFinding
{
    private static readonly Lazy<(string Heading, KitColumn Column)[]> KitHeadings = new(() =>
    [
        .. from code in SenderWords.Known
           let words = SenderWords.In(code)!
           from column in (IEnumerable<KitColumn>)[.. KitForm.PlaceColumns, .. KitForm.HoleColumns, .. KitForm.AboutLines]
           select (words["kit.column." + column.Key], column),
    ]);

    private PublicFinding(string code, FindingPart part, TableSchema? table, FieldSchema? column, DescriptorPlace? place, int? row,
        KitColumn? ofKit = null) =>
        (Code, Part, Table, Column, Place, Row, OfKit) = (code, part, table, column, place, row, ofKit);

    public string Code { get; }

    /// <summary>What its <see cref="Row"/> is counted in.</summary>
    public FindingPart Part { get; }

    /// <summary>The table that it is about; missing where that can't be told without the sender's words.</summary>
    public TableSchema? Table { get; }

    public FieldSchema? Column { get; }

    /// <summary>The column of a kit's sheet, where its heading is one that kits have.</summary>
    public KitColumn? OfKit { get; }

    /// <summary>The place in what the contribution says of itself.</summary>
    public DescriptorPlace? Place { get; }

    /// <summary>1-based number of the line or of the row of the sheet.</summary>
    public int? Row { get; }

    /// <summary>What a mapping fills: bags.depth_cm, or bags; missing elsewhere.</summary>
    public string? Field => Part != FindingPart.Mapping || Table is null ? null
        : Column is null ? Table.Name : $"{Table.Name}.{Column.Name}";

    /// <summary>What everybody may know of a finding; <see langword="null"/> where its code is none of ours.</summary>
    public static PublicFinding? Of(Finding finding)
    {
        if (FindingCode.All.FirstOrDefault(code => code == finding.Code) is not { } known)
            return null;
        DescriptorPlace? place = PlaceOf(finding);
        FindingPart? part = finding.File.EndsWith(SpreadsheetFiles.MappingEnding, StringComparison.OrdinalIgnoreCase) ? FindingPart.Mapping
            : finding.File == SchemaCatalogue.DescriptorName ? FindingPart.Descriptor
            : IsOfPackageSheet(finding) ? FindingPart.PackageSheet : null;
        if (place is not null)
            return new PublicFinding(known, part ?? FindingPart.Contribution, null, null, place, finding.Row);
        // a mapping says sites.decimal_latitude or fast.bags.mass_final_g, and a finding in a wide table names its field so
        string[] names = [.. (finding.Field ?? finding.Column ?? "").Split('.').Where(name => name is not ("fast" or "slow"))];
        TableSchema? stated = TableOf(names.FirstOrDefault()), held = TableOf(finding.Sheet?.Trim() ?? FileOf(finding.File));
        TableSchema? table = finding.Field is null ? held ?? stated : stated ?? held;
        // where the file or sheet has a name of the sender's, a column tells its table if only one has it
        if (table is null && SchemaCatalogue.Tables.Where(t => names.Any(name => t.FindOrdinal(name) >= 0)).ToArray() is [var only])
            table = only;
        FieldSchema? column = table?.Fields.FirstOrDefault(field => names.Contains(field.Name));
        part ??= table is null ? FindingPart.Contribution : FindingPart.Table;
        return new PublicFinding(known, part.Value, table, column, null, finding.Row,
            KitHeadings.Value.FirstOrDefault(kit => kit.Heading == finding.Column && kit.Column.Field == column?.Name).Column);
    }

    /// <summary>Table, row, column and code, without words: for sentences that are written where no language is at hand.</summary>
    public override string ToString() => string.Join(", ", new[]
    {
        Part switch
        {
            FindingPart.Table => Table!.Name,
            FindingPart.Mapping => "mapping",
            FindingPart.Descriptor => SchemaCatalogue.DescriptorName,
            FindingPart.PackageSheet => "sheet " + WorkbookContribution.PackageSheet,
            _ => null,
        },
        Place?.Text,
        Row is { } row ? Invariant($"row {row}") : null,
        Field is not null ? "field " + Field : Column is null ? null : "column " + Column.Name,
        Code,
    }.OfType<string>());

    private static DescriptorPlace? PlaceOf(Finding finding)
    {
        const string inMapping = WorkbookContribution.PackageSheet + ".";
        if (finding.Column is not { } column)
            return null;
        if (column.StartsWith('/'))
            return DescriptorPlace.Find(column);
        if (column.StartsWith(inMapping, StringComparison.Ordinal))
            return DescriptorPlace.Find(FlatDescriptor.PlaceOf(column[inMapping.Length..]));
        return IsOfPackageSheet(finding) ? DescriptorPlace.Find(FlatDescriptor.PlaceOf(column)) : null;
    }

    private static bool IsOfPackageSheet(Finding finding) =>
        string.Equals(finding.Sheet?.Trim(), WorkbookContribution.PackageSheet, StringComparison.OrdinalIgnoreCase);

    private static string FileOf(string file) => SchemaCatalogue.IsFileName(file) ? Path.GetFileNameWithoutExtension(file) : "";

    private static TableSchema? TableOf(string? name) =>
        SchemaCatalogue.Tables.FirstOrDefault(table => string.Equals(table.Name, name, StringComparison.OrdinalIgnoreCase));
}
