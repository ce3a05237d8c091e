using Parquet;
using Parquet.Schema;

namespace DecayAtlas.Atlas.Releases;

/// <summary>Reads columns of a released table back, files in ordinal order of their paths.</summary>
public sealed class ReleaseReader
{
    private readonly string _folder;

    /// <exception cref="AtlasException">The atlas has no release yet, or not that one.</exception>
    public ReleaseReader(AtlasFolder atlas, string? releaseId = null)
    {
        ReleaseId = releaseId ?? atlas.CurrentReleaseId()
            ?? throw new AtlasException($"{atlas.Root} has no release yet; publish one first, for example with: decayatlas publish FILE.");
        _folder = atlas.Release(ReleaseId);
        if (!Directory.Exists(_folder))
            throw new AtlasException($"{atlas.Root} has no release {ReleaseId}; see the folder releases for those there are.");
    }

    public string ReleaseId { get; }

    public string?[] Text(string table, string column) => Read(table, column, async (group, field, count) =>
    {
        var values = new string?[count];
        await group.ReadAsync(field, values.AsMemory()!, null, default);
        return values;
    });

    public double?[] Number(string table, string column) => Values<double>(table, column);

    public int?[] WholeNumber(string table, string column) => Values<int>(table, column);

    public DateOnly?[] Date(string table, string column) => Values<DateOnly>(table, column);

    private T?[] Values<T>(string table, string column) where T : struct => Read(table, column, async (group, field, count) =>
    {
        var values = new T?[count];
        await group.ReadAsync<T>(field, values.AsMemory(), null, default);
        return values;
    });

    private T[] Read<T>(string table, string column, Func<ParquetRowGroupReader, DataField, int, Task<T[]>> read)
    {
        try
        {
            return ReadAsync(table, column, read).GetAwaiter().GetResult();
        }
        catch (Exception e) when (e is IOException or InvalidDataException or ParquetException)
        {
            throw new AtlasException($"Table {table} of release {ReleaseId} can't be read: {e.Message.TrimEnd('.')}. Check its files against checksums.sha256.", e);
        }
    }

    private async Task<T[]> ReadAsync<T>(string table, string column, Func<ParquetRowGroupReader, DataField, int, Task<T[]>> read)
    {
        var all = new List<T>();
        var options = new ParquetOptions { UseDateOnlyTypeForDates = true };
        foreach (string file in Directory.EnumerateFiles(Path.Combine(_folder, table), "*.parquet", SearchOption.AllDirectories).Order(StringComparer.Ordinal))
        {
            await using ParquetReader reader = await ParquetReader.CreateAsync(file, options);
            DataField field = reader.Schema.FindDataField(column);
            for (int g = 0; g < reader.RowGroupCount; g++)
            {
                using ParquetRowGroupReader group = reader.OpenRowGroupReader(g);
                all.AddRange(await read(group, field, (int)group.RowCount));
            }
        }

        return [.. all];
    }
}
