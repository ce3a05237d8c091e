using System.Security.Cryptography;
using System.Text;

namespace DecayAtlas.Atlas.Tables;

/// <summary>One released table without its rows: what the data dictionary and the file metadata say of it.</summary>
public abstract class Table
{
    private protected Table(string name, string description, IReadOnlyList<string> key, IReadOnlyList<string> partitionedBy)
    {
        (Name, Description, Key, PartitionedBy) = (name, description, key, partitionedBy);
    }

    public string Name { get; }

    public string Description { get; }

    /// <summary>The columns that together name one row.</summary>
    public IReadOnlyList<string> Key { get; }

    /// <summary>The hive partition columns, outermost first; they are in folder names and not in the files.</summary>
    public IReadOnlyList<string> PartitionedBy { get; }

    /// <summary>Every column stored in the files, with type, unit and meaning.</summary>
    public abstract IReadOnlyList<ColumnInfo> ColumnInfos { get; }
}

/// <summary>What a reader is told of a column.</summary>
public sealed record ColumnInfo(string Name, string Type, string? Unit, string Description);

/// <summary>One released table of rows of <typeparamref name="TRow"/>.</summary>
public sealed class Table<TRow> : Table
{
    public Table(
        string name, string description, IReadOnlyList<string> key, IReadOnlyList<Column<TRow>> columns,
        IReadOnlyList<PartitionKey<TRow>>? partition = null)
        : base(name, description, key, [.. (partition ?? []).Select(p => p.Name)])
    {
        Columns = columns;
        Partition = partition ?? [];
        ColumnInfos = [.. columns.Select(c => new ColumnInfo(c.Name, c.Type, c.Unit, c.Description))];
    }

    public IReadOnlyList<Column<TRow>> Columns { get; }

    public IReadOnlyList<PartitionKey<TRow>> Partition { get; }

    public override IReadOnlyList<ColumnInfo> ColumnInfos { get; }

    /// <summary>The file of a release that holds a row of a contributor, with forward slashes.</summary>
    public string FileOf(TRow row, string contributorId) => Partition.Count > 0
        ? $"{Name}/{string.Concat(Partition.Select(p => p.FolderOf(row) + "/"))}{Name}.parquet"
        : $"{Name}/{Name}-{Shelf.Of(contributorId)}.parquet";
}

/// <summary>
/// Tables without partition columns are cut into sixteen files by contributor, so that a new contribution rewrites one file and
/// not the table.
/// </summary>
public static class Shelf
{
    /// <summary>The first hexadecimal digit of the SHA-256 of the contributor id: stable, and even over any set of ids.</summary>
    public static char Of(string contributorId) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(contributorId)))[0];
}

/// <summary>One hive partition key; a missing value goes to the folder that readers of hive layouts take as missing.</summary>
public sealed record PartitionKey<TRow>(string Name, string Description, Func<TRow, string?> Value)
{
    public const string MissingValue = "__HIVE_DEFAULT_PARTITION__";

    public string FolderOf(TRow row) => $"{Name}={Value(row) ?? MissingValue}";
}
