namespace DecayAtlas.Contributions.Packages;

/// <summary>The files of a contribution that is not a data package: one workbook or one wide table, and its mapping if it has
/// one.</summary>
internal sealed record SpreadsheetFiles(PackageFile Table, PackageFile? Mapping)
{
    public const string MappingEnding = ".mapping.yaml";

    private static readonly string[] TextEndings = [".csv", ".tsv", ".txt"];

    // Spreadsheets that are read where their layout is found.
    private static readonly string[] OtherEndings = [".xls", ".ods", ".xlsm"];

    // Recognised so that the contributor gets a better answer than "not a contribution".
    private static readonly string[] UnreadEndings = [".xlsb", ".numbers"];

    public bool IsWorkbook => HasEnding(Table.Path, ".xlsx");

    public bool IsText => TextEndings.Any(ending => HasEnding(Table.Path, ending));

    public bool IsUnread => UnreadEndings.Any(ending => HasEnding(Table.Path, ending));

    public bool IsOtherKind => OtherEndings.Any(ending => HasEnding(Table.Path, ending));

    public static bool IsTable(string path) => HasEnding(path, ".xlsx")
        || TextEndings.Concat(OtherEndings).Concat(UnreadEndings).Any(ending => HasEnding(path, ending));

    /// <summary>A .txt is a table only where it has a mapping; without one it is most likely a note.</summary>
    public static bool MayBeNote(string path) => HasEnding(path, ".txt");

    public static bool IsMapping(string path) => HasEnding(path, MappingEnding);

    /// <summary>Path of the mapping that belongs to a table: results.csv has results.mapping.yaml beside it.</summary>
    public static string MappingPathOf(string tablePath) => Path.ChangeExtension(tablePath, null) + MappingEnding;

    public static bool HasTable(string mappingPath, IEnumerable<string> paths) =>
        paths.Any(path => IsTable(path) && string.Equals(MappingPathOf(path), mappingPath, StringComparison.Ordinal));

    /// <summary>
    /// Finds the spreadsheet among received files; null when they are, or are meant to be, a data package. Of several tables it is the one
    /// that has a mapping of its name; other files, such as a note, may lie beside it.
    /// </summary>
    public static SpreadsheetFiles? In(IReadOnlyList<PackageFile> files)
    {
        if (files.Any(file => file.Path == SchemaCatalogue.DescriptorName))
            return null;
        PackageFile[] tables = [.. files.Where(file => IsTable(file.Path))];
        HashSet<string> paths = files.Select(file => file.Path).ToHashSet();
        PackageFile[] mapped = [.. tables.Where(table => paths.Contains(MappingPathOf(table.Path)))];
        PackageFile[] mappings = [.. files.Where(file => IsMapping(file.Path))];
        PackageFile[] notNotes = [.. tables.Where(file => !MayBeNote(file.Path))];
        PackageFile? table = mapped.Length == 1 ? mapped[0] : notNotes.Length == 1 && mapped.Length == 0 ? notNotes[0] : null;
        if (table is null || mappings.Length > 1)
            return null;
        return new SpreadsheetFiles(
            table, files.FirstOrDefault(file => file.Path == MappingPathOf(table.Path)) ?? mappings.FirstOrDefault());
    }

    /// <summary>Tables of which none can be told to be the one that is meant, and that are those of no data package; empty for all
    /// else.</summary>
    public static IReadOnlyList<string> Several(IReadOnlyList<PackageFile> files)
    {
        string[] tables = [.. files.Select(file => file.Path).Where(path => IsTable(path) && !MayBeNote(path))];
        return tables.Length < 2 || files.Any(file => file.Path == SchemaCatalogue.DescriptorName) || In(files) is not null
            || tables.Any(path => SchemaCatalogue.Tables.Any(table => string.Equals(table.Name, Path.GetFileNameWithoutExtension(path),
                StringComparison.OrdinalIgnoreCase))) ? [] : tables;
    }

    /// <summary>What is told of several tables.</summary>
    public static Finding OneAfterTheOther(IReadOnlyList<string> tables) => new(FindingCode.TableBeside, tables[0],
        Invariant($"{tables.Count} tables: {string.Join(", ", tables.Take(MostNamed).Select(path => FindingText.Quote(path)))}")
        + (tables.Count > MostNamed ? ", …" : ""),
        "one table in a contribution", "take one table after the other, each for itself, with its mapping if it has one");

    private const int MostNamed = 4;

    /// <summary>Other tables among the files, of which none is read.</summary>
    public IEnumerable<Finding> Beside(IReadOnlyList<PackageFile> files) => files
        .Where(file => file.Path != Table.Path && IsTable(file.Path) && !MayBeNote(file.Path))
        .Select(file => new Finding(FindingCode.TableBeside, file.Path, "a second table, which is not read", "one table in a contribution",
            "put its rows into the table that is read, or send it as a contribution of its own"));

    private static bool HasEnding(string path, string ending) => path.EndsWith(ending, StringComparison.OrdinalIgnoreCase);
}
