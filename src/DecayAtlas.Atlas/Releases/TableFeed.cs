using DecayAtlas.Atlas.Storage;
using DecayAtlas.Atlas.Tables;

namespace DecayAtlas.Atlas.Releases;

/// <summary>One released table and where its rows are found among those of a contributor.</summary>
internal abstract class TableFeed
{
    private protected TableFeed(Table table) => Table = table;

    /// <summary>Every table of a release with its feed. A new table is added here.</summary>
    public static IReadOnlyList<TableFeed> All { get; } =
    [
        Of(AtlasTables.Contributions, t => t.Contributions),
        Of(AtlasTables.Sites, t => t.Sites),
        Of(AtlasTables.Lots, t => t.Lots),
        Of(AtlasTables.Bags, t => t.Bags),
        Of(AtlasTables.Burials, t => t.Burials),
        Of(AtlasTables.SiteCampaigns, t => t.SiteCampaigns),
        Of(AtlasTables.Plots, t => t.Plots),
        Of(AtlasTables.Curves, t => t.Curves),
        Of(AtlasTables.Covariates, t => t.Covariates),
        Of(AtlasTables.BurialCovariates, t => t.BurialCovariates),
        Of(AtlasTables.CampaignCovariates, t => t.CampaignCovariates),
        Of(AtlasTables.Flags, t => t.Flags),
        Of(AtlasTables.Decisions, t => t.Decisions),
        Of(AtlasTables.Samples, t => t.Samples),
        // answers over all contributors: none of one contributor
        Of(AtlasTables.Variance, _ => []),
        Of(AtlasTables.Comparisons, _ => []),
        Of(AtlasTables.Agreement, _ => []),
    ];

    public Table Table { get; }

    /// <summary>The feed of the table that a file of a release belongs to.</summary>
    public static TableFeed OfFile(string file)
    {
        string table = file[..file.IndexOf('/', StringComparison.Ordinal)];
        return All.First(f => f.Table.Name == table);
    }

    /// <summary>The rows of one contributor as columns, by the file of the release that they belong to.</summary>
    public abstract IEnumerable<(string File, RowRun Run)> RunsOf(string contributorId, ReleaseTables tables);

    /// <summary>Reads a run that <see cref="RowRun.Save"/> wrote.</summary>
    public abstract RowRun Load(BinaryReader reader);

    /// <summary>Writes one file from the runs of several contributors, in the order given.</summary>
    public abstract void Write(Stream stream, IReadOnlyList<RowRun> runs);

    private static Feed<TRow> Of<TRow>(Table<TRow> table, Func<ReleaseTables, IReadOnlyList<TRow>> rows) => new(table, rows);

    private sealed class Feed<TRow>(Table<TRow> table, Func<ReleaseTables, IReadOnlyList<TRow>> rows) : TableFeed(table)
    {
        public override IEnumerable<(string File, RowRun Run)> RunsOf(string contributorId, ReleaseTables tables) =>
            rows(tables)
                .GroupBy(row => table.FileOf(row, contributorId), StringComparer.Ordinal)
                .Select(g => (g.Key, Rows: g.ToArray()))
                .Select(g => (g.Key, new RowRun([.. table.Columns.Select(c => c.Take(g.Rows))])));

        public override RowRun Load(BinaryReader reader) => new([.. table.Columns.Select(c => c.Load(reader))]);

        public override void Write(Stream stream, IReadOnlyList<RowRun> runs)
        {
            ColumnValues[] columns = [.. table.Columns.Select((c, i) => c.Join([.. runs.Select(r => r.Columns[i])]))];
            var metadata = new Dictionary<string, string>();
            if (Table == AtlasTables.Sites)
                metadata[GeoParquet.Key] = GeoParquet.Metadata((PlainValues<double>)Named(columns, "decimal_longitude"), (PlainValues<double>)Named(columns, "decimal_latitude"));
            ParquetPart.WriteAsync(stream, table, [.. table.Columns.Select(c => c.NewField())], columns, metadata).GetAwaiter().GetResult();
        }

        private ColumnValues Named(ColumnValues[] columns, string name) => columns[table.Columns.ToList().FindIndex(c => c.Name == name)];
    }
}

/// <summary>Rows of one contributor that go to one file, column by column.</summary>
public sealed class RowRun
{
    internal RowRun(IReadOnlyList<ColumnValues> columns) => Columns = columns;

    public int Count => Columns[0].Count;

    internal IReadOnlyList<ColumnValues> Columns { get; }

    internal void Save(BinaryWriter writer)
    {
        foreach (ColumnValues column in Columns)
            column.Save(writer);
    }
}
