namespace DecayAtlas.Contributions;

/// <summary>
/// What everybody may know of a finding: its code, names of the open schema and numbers. Pages, records, summaries and what a run prints
/// take this type only, and it can't be made of a text: what the sender typed (cells, names of columns, sheets and files) reaches it only
/// where it is a name of the schema, letter by letter; anything else is missing. The sender reads the <see cref="Finding"/> itself.
/// </summary>
public sealed record PublicFinding
{
    private PublicFinding(string code, TableSchema? table, FieldSchema? column, DescriptorPlace? place, int? row) =>
        (Code, Table, Column, Place, Row) = (code, table, column, place, row);

    /// <summary>One of <see cref="FindingCode"/>.</summary>
    public string Code { get; }

    /// <summary>The table that it is about; missing where that can't be told without the sender's words.</summary>
    public TableSchema? Table { get; }

    /// <summary>The column of <see cref="Table"/>.</summary>
    public FieldSchema? Column { get; }

    /// <summary>The place in what the contribution says of itself.</summary>
    public DescriptorPlace? Place { get; }

    /// <summary>1-based number of the line or of the row of the sheet.</summary>
    public int? Row { get; }

    /// <summary>What everybody may know of a finding; <see langword="null"/> where its code is none of ours.</summary>
    public static PublicFinding? Of(Finding finding)
    {
        if (FindingCode.All.FirstOrDefault(code => code == finding.Code) is not { } known)
            return null;
        if (PlaceOf(finding) is { } place)
            return new PublicFinding(known, null, null, place, finding.Row);
        // a mapping says sites.decimal_latitude or fast.bags.mass_final_g, and a finding in a wide table names its field so
        string[] names = [.. (finding.Field ?? finding.Column ?? "").Split('.').Where(name => name is not ("fast" or "slow"))];
        TableSchema? stated = TableOf(names.FirstOrDefault()), held = TableOf(finding.Sheet?.Trim() ?? FileOf(finding.File));
        TableSchema? table = finding.Field is null ? held ?? stated : stated ?? held;
        // where the file or sheet has a name of the sender's, a column tells its table if only one has it
        if (table is null && SchemaCatalogue.Tables.Where(t => names.Any(name => t.FindOrdinal(name) >= 0)).ToArray() is [var only])
            table = only;
        FieldSchema? column = table?.Fields.FirstOrDefault(field => names.Contains(field.Name));
        return new PublicFinding(known, table, column, null, finding.Row);
    }

    /// <summary>Table, row, column and code, without words: for sentences that are written where no language is at hand.</summary>
    public override string ToString() => string.Join(", ", new[]
    {
        Table?.Name,
        Place?.Text,
        Row is { } row ? FormattableString.Invariant($"row {row}") : null,
        Column is null ? null : "column " + Column.Name,
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
        bool isInWorkbook = string.Equals(finding.Sheet?.Trim(), WorkbookContribution.PackageSheet, StringComparison.OrdinalIgnoreCase);
        return isInWorkbook ? DescriptorPlace.Find(FlatDescriptor.PlaceOf(column)) : null;
    }

    private static string FileOf(string file) => SchemaCatalogue.IsFileName(file) ? Path.GetFileNameWithoutExtension(file) : "";

    private static TableSchema? TableOf(string? name) =>
        SchemaCatalogue.Tables.FirstOrDefault(table => string.Equals(table.Name, name, StringComparison.OrdinalIgnoreCase));
}
