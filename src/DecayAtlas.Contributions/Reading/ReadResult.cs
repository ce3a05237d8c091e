namespace DecayAtlas.Contributions.Reading;

public enum ContributionFormat
{
    /// <summary>datapackage.json and CSV files.</summary>
    DataPackage,

    /// <summary>One workbook with a sheet a table.</summary>
    Workbook,

    /// <summary>One wide table with a mapping.</summary>
    WideTable,

    /// <summary>The workbook that came with a kit.</summary>
    Kit,
}

public sealed record ContributionTables(
    IReadOnlyList<SiteRow> Sites, IReadOnlyList<LotRow> Lots, IReadOnlyList<BagRow> Bags, IReadOnlyList<ResultRow> Results,
    IReadOnlyList<SampleRow> Samples)
{
    /// <summary>Burials of bags whose rows have findings.</summary>
    public IReadOnlySet<string> UnreadBurials { get; private init; } = new HashSet<string>();

    /// <summary>What the sites are called, by id, where that is not the id.</summary>
    public IReadOnlyDictionary<string, string> SiteNames() => NamesInKit
        ?? Sites.Where(site => site.SiteName is not null).DistinctBy(site => site.SiteId).ToDictionary(s => s.SiteId, s => s.SiteName!);

    /// <summary>Of a kit, also of places whose rows have findings.</summary>
    internal IReadOnlyDictionary<string, string>? NamesInKit { get; init; }

    /// <summary>Reads the tables in the order in which they refer to each other.</summary>
    /// <param name="fileOf">The file that holds a table; null where it is not read.</param>
    internal static ContributionTables Read(Func<TableSchema, string?> fileOf, Action<TableCheck> read, IntakeLimits limits,
        FindingList findings)
    {
        KeyIndex keys = new();
        IReadOnlySet<string> unread = new HashSet<string>();
        return new ContributionTables(Table(SchemaCatalogue.Sites, RowBuilders.Site), Table(SchemaCatalogue.Lots, RowBuilders.Lot),
            Table(SchemaCatalogue.Bags, RowBuilders.Bag), Table(SchemaCatalogue.Results, RowBuilders.Result),
            Table(SchemaCatalogue.Samples, RowBuilders.Sample)) with
        {
            UnreadBurials = unread,
        };

        IReadOnlyList<TRow> Table<TRow>(TableSchema schema, Func<TableSchema, RowBuilder<TRow>> builder)
        {
            if (fileOf(schema) is not { } file)
            {
                // where nothing is wrong so far the table was not sent, and no row may refer to it
                foreach (FieldSchema field in schema.Fields.Where(field => field.Unique && findings.Count == 0))
                    keys.Begin(schema.Name, field.Name);
                return [];
            }
            TableCheck<TRow> table = new(schema, file, builder(schema), keys, limits, findings);
            read(table);
            if (schema == SchemaCatalogue.Bags)
                unread = table.UnreadBurials;
            return table.Rows;
        }
    }
}

/// <param name="Contribution">Null when there is any finding.</param>
/// <param name="Findings">At most <see cref="FindingList.Shown"/>, then one that says how many more there are.</param>
public sealed record ReadResult(Contribution? Contribution, IReadOnlyList<Finding> Findings, string ContentHash)
{
    /// <summary>Null when it was not even clear what was sent.</summary>
    public ContributionFormat? Format { get; init; }

    /// <summary>The days of the campaign, where the mapping or the kit says them.</summary>
    public ExpectedDays? Expected { get; init; }

    /// <summary>How deep the campaign wants bags, where the kit says it.</summary>
    public double? PlannedDepthCentimetres { get; init; }

    /// <summary>The days of its bags that are none of these of a campaign, each with its cell.</summary>
    internal Func<ExpectedDays, IReadOnlyList<Finding>> DaysBeside { get; init; } = _ => [];

    /// <summary>What a workbook or a mapping says of its contribution, by the names of a flat descriptor, with whom to ask: for nobody but
    /// its sender.</summary>
    internal IReadOnlyDictionary<string, string>? Stated { get; init; }

    /// <summary>What looks like a slip and does not keep the contribution out.</summary>
    public IReadOnlyList<Finding> Warnings { get; init; } = [];

    /// <summary>The rows without findings, for a summary; null when no table could be read. Not for the atlas: rows are missing.</summary>
    public ContributionTables? SoundRows { get; init; }

    /// <summary>The burials of these rows.</summary>
    public IReadOnlyList<BurialRows> Burials { get; init; } = [];
}
