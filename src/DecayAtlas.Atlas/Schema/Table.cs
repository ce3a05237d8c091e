using System.Linq.Expressions;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Atlas.Schema;

/// <summary>Names the released table that a row type is the row of.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class TableAttribute(string name, string description) : Attribute
{
    public string Name => name;

    public string Description => description;

    /// <summary>The properties that hold where a row lies, where the table has a geometry.</summary>
    public string? Longitude { get; init; }

    public string? Latitude { get; init; }
}

/// <summary>One released table without its rows: what the data dictionary and the file metadata say of it.</summary>
public abstract class Table
{
    private protected Table(string name, string description) => (Name, Description) = (name, description);

    public string Name { get; }

    public string Description { get; }

    /// <summary>The columns that together name one row.</summary>
    public abstract IReadOnlyList<string> Key { get; }

    /// <summary>The hive partition columns, outermost first; they are in folder names and not in the files.</summary>
    public abstract IReadOnlyList<string> PartitionedBy { get; }

    /// <summary>Every column stored in the files, with type, unit and meaning.</summary>
    public abstract IReadOnlyList<ColumnInfo> ColumnInfos { get; }

    /// <summary>Reads a run that <see cref="RowRun.Save"/> wrote.</summary>
    public RowRun LoadRun(byte[] bytes) => LoadRun(new BinaryReader(new MemoryStream(bytes), Encoding.UTF8));

    private protected abstract RowRun LoadRun(BinaryReader reader);

    internal abstract void Write(Stream stream, IReadOnlyList<RowRun> runs);

    /// <summary>The columns that go out for people: those of the files without bytes, and the partition keys behind them.</summary>
    internal abstract IReadOnlyList<ColumnInfo> ExportedColumns { get; }

    /// <summary>The rows that go out for people, one file in memory at a time.</summary>
    /// <exception cref="AtlasException">A file can't be read, or lacks what every row has.</exception>
    internal abstract IEnumerable<ExportedRows> Exported(IEnumerable<string> files);
}

/// <summary>One released table: its rows are <typeparamref name="TRow"/>, whose attributes declare the table and its columns.</summary>
public sealed class Table<TRow> : Table
    where TRow : class
{
    private static readonly TableAttribute Declaration = typeof(TRow).GetCustomAttribute<TableAttribute>()
        ?? throw new NotSupportedException($"{typeof(TRow).Name} is not declared as the row of a table.");

    private static readonly Func<TRow> NewRow = Expression.Lambda<Func<TRow>>(Expression.New(typeof(TRow))).Compile();

    private readonly Partition[] _partitions;

    private readonly Column<TRow>[] _exported;

    internal Table()
        : base(Declaration.Name, Declaration.Description)
    {
        // a row's own columns stand before those of its base class
        Columns =
        [
            .. Declared<ColumnAttribute>().OrderBy(d => d.Property.DeclaringType != typeof(TRow)).ThenBy(d => d.Attribute.Line)
                .SelectMany(d => Column<TRow>.Of(d.Property, d.Attribute)),
        ];
        _partitions = [.. Declared<PartitionAttribute>().OrderBy(d => d.Attribute.Line).Select(d => Partition.Of(d.Property, d.Attribute))];
        Key = [.. Columns.Where(c => c.IsKey).Select(c => c.Name)];
        PartitionedBy = [.. _partitions.Select(p => p.Name)];
        ColumnInfos = [.. Columns.Select(c => c.Info)];
        _exported = [.. Columns.Where(c => !c.IsBinary)];
        ExportedColumns =
        [
            .. _exported.Select(c => c.Info),
            .. PartitionedBy.Select(name => new ColumnInfo(name, "string", null, "A key of the folders that the Parquet files lie in.")),
        ];
    }

    public override IReadOnlyList<string> Key { get; }

    public override IReadOnlyList<string> PartitionedBy { get; }

    public override IReadOnlyList<ColumnInfo> ColumnInfos { get; }

    internal override IReadOnlyList<ColumnInfo> ExportedColumns { get; }

    internal Column<TRow>[] Columns { get; }

    public string NameOf(string property) => Columns[OrdinalOf(property)].Name;

    public string FileOf(TRow row, string contributorId) => _partitions.Length > 0
        ? $"{Name}/{string.Concat(_partitions.Select(p => p.FolderOf(row) + "/"))}{Name}.parquet"
        : $"{Name}/{Name}-{Shelf.Of(contributorId)}.parquet";

    /// <summary>The rows as columns, by the file of the release that they belong to.</summary>
    internal IEnumerable<(string File, RowRun Run)> RunsOf(IEnumerable<TRow> rows, string contributorId) => rows
        .GroupBy(row => FileOf(row, contributorId), StringComparer.Ordinal)
        .Select(g => (g.Key, RunOf([.. g])));

    internal RowRun RunOf(IReadOnlyList<TRow> rows) => new([.. Columns.Select(c => c.Take(rows))]);

    /// <summary>The rows of a run; those of a partition key stay missing, since no column holds it.</summary>
    public IReadOnlyList<TRow> RowsOf(RowRun run)
    {
        TRow[] rows = new TRow[run.Count];
        for (int i = 0; i < rows.Length; i++)
            rows[i] = NewRow();
        for (int c = 0; c < Columns.Length; c++)
            Columns[c].Give(run.Columns[c], rows);
        return rows;
    }

    private protected override RowRun LoadRun(BinaryReader reader) => new([.. Columns.Select(c => c.Load(reader))]);

    internal override void Write(Stream stream, IReadOnlyList<RowRun> runs)
    {
        ColumnValues[] columns = [.. Columns.Select((c, i) => c.Join([.. runs.Select(r => r.Columns[i])]))];
        Dictionary<string, string> metadata = [];
        if (Declaration is { Longitude: { } longitude, Latitude: { } latitude })
            metadata[GeoParquet.Key] = GeoParquet.Metadata(Numbers(longitude), Numbers(latitude));
        ParquetPart.WriteAsync(stream, this, [.. Columns.Select(c => c.NewField())], columns, metadata).GetAwaiter().GetResult();

        PlainValues<double> Numbers(string property) => (PlainValues<double>)columns[OrdinalOf(property)];
    }

    /// <summary>Reads the rows of files in the order given, each file opened once.</summary>
    /// <exception cref="AtlasException">A file can't be read, or lacks what every row has.</exception>
    internal IReadOnlyList<TRow> Read(IEnumerable<string> files, TextPool pool)
    {
        List<TRow> rows = new();
        foreach (string file in files)
        {
            int before = rows.Count;
            ParquetPart.ReadAsync(file, Columns, NewRow, rows, pool).GetAwaiter().GetResult();
            foreach (Partition partition in _partitions.Where(p => p.Set is not null))
            {
                string? value = partition.ValueIn(file);
                for (int i = before; i < rows.Count; i++)
                    partition.Set!(rows[i], value);
            }
        }

        return rows;
    }

    internal override IEnumerable<ExportedRows> Exported(IEnumerable<string> files)
    {
        foreach (string file in files)
        {
            IReadOnlyList<TRow> rows = Read([file], new TextPool());
            yield return new ExportedRows(ExportedColumns,
            [
                .. _exported.Select(c => c.Take(rows)),
                .. _partitions.Select(p => new TextValues([.. rows.Select(p.Get)])),
            ]);
        }
    }

    private int OrdinalOf(string property) => Array.FindIndex(Columns, c => c.Property == property) is >= 0 and int at
        ? at
        : throw new ArgumentException($"{Name} has no column made from {property}.", nameof(property));

    private static IEnumerable<(PropertyInfo Property, T Attribute)> Declared<T>()
        where T : Attribute => typeof(TRow).GetProperties().Where(p => p.IsDefined(typeof(T))).Select(p => (p, p.GetCustomAttribute<T>()!));

    /// <summary>One hive partition key; a missing value goes to the folder that readers of hive layouts take as missing.</summary>
    /// <param name="Set">Sets the value from the path of a file; missing where it is worked out from a column.</param>
    private sealed record Partition(string Name, Func<TRow, string?> Get, Action<TRow, string?>? Set)
    {
        public static Partition Of(PropertyInfo property, PartitionAttribute declared) => new(
            declared.Name, property.GetMethod!.CreateDelegate<Func<TRow, string?>>(),
            property.SetMethod?.CreateDelegate<Action<TRow, string?>>());

        public string FolderOf(TRow row) => $"{Name}={Get(row) ?? Shelf.MissingValue}";

        public string? ValueIn(string file)
        {
            string? folder = file.Split('/', '\\').LastOrDefault(f => f.StartsWith(Name + "=", StringComparison.Ordinal));
            string? value = folder?[(Name.Length + 1)..];
            return value == Shelf.MissingValue ? null : value;
        }
    }
}

/// <summary>
/// Tables without partition columns are cut into sixteen files by contributor, so that a new contribution rewrites one file and
/// not the table.
/// </summary>
public static class Shelf
{
    public const string MissingValue = "__HIVE_DEFAULT_PARTITION__";

    /// <summary>The first hexadecimal digit of the SHA-256 of the contributor id: stable, and even over any set of ids.</summary>
    public static char Of(string contributorId) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(contributorId)))[0];
}
