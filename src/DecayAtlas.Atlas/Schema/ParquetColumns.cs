using Parquet;
using Parquet.Schema;

namespace DecayAtlas.Atlas.Schema;

public sealed class ParquetColumns(IReadOnlyList<string> files)
{
    internal static readonly ParquetOptions Options = new() { UseDateOnlyTypeForDates = true };

    public string?[] Text(string column) => Read(column, async (group, field, count) =>
    {
        string?[] values = new string?[count];
        await group.ReadAsync(field, values.AsMemory()!, null, default);
        return values;
    });

    public double?[] Number(string column) => Values<double>(column);

    public int?[] WholeNumber(string column) => Values<int>(column);

    public bool?[] YesNo(string column) => Values<bool>(column);

    public DateOnly?[] Date(string column) => Values<DateOnly>(column);

    private T?[] Values<T>(string column) where T : struct => Read(column, async (group, field, count) =>
    {
        T?[] values = new T?[count];
        await group.ReadAsync<T>(field, values.AsMemory(), null, default);
        return values;
    });

    private T[] Read<T>(string column, Func<ParquetRowGroupReader, DataField, int, Task<T[]>> read)
    {
        try
        {
            return ReadAsync(column, read).GetAwaiter().GetResult();
        }
        catch (Exception e) when (e is IOException or InvalidDataException or ParquetException)
        {
            throw new AtlasException(
                $"Column {column} can't be read from {files[0]} and its siblings: {e.Message.TrimEnd('.')}. Check the release against "
                + "its checksums.sha256.", e);
        }
    }

    private async Task<T[]> ReadAsync<T>(string column, Func<ParquetRowGroupReader, DataField, int, Task<T[]>> read)
    {
        List<T> all = new();
        foreach (string file in files)
        {
            await using ParquetReader reader = await ParquetReader.CreateAsync(file, Options);
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
