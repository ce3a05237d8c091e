using System.IO.Compression;
using System.Text.Json;
using Parquet;
using Parquet.Schema;

namespace DecayAtlas.Atlas.Schema;

/// <summary>One Parquet file of a table: zstd, row groups of 128 Ki rows, units and meanings in the file metadata.</summary>
internal static class ParquetPart
{
    /// <summary>Rows a group: large enough to compress well, small enough that one group fits a reader's memory.</summary>
    public const int RowGroupRows = 128 * 1024;

    public static async Task WriteAsync(
        Stream stream, Table table, IReadOnlyList<DataField> fields, IReadOnlyList<ColumnValues> columns,
        IReadOnlyDictionary<string, string> metadata)
    {
        // The default level of the library is its slowest: it took half of a first night and saved a tenth of the bytes.
        ParquetOptions options = new() { CompressionMethod = CompressionMethod.Zstd, CompressionLevel = CompressionLevel.Fastest };
        await using ParquetWriter writer = await ParquetWriter.CreateAsync(new ParquetSchema(fields), stream, options);
        Dictionary<string, string> all = new(metadata)
        {
            ["decayatlas.table"] = table.Name,
            ["decayatlas.columns"] = DescribeColumns(table),
        };
        writer.CustomMetadata = all;

        int rows = columns[0].Count;
        for (int start = 0; start < rows; start += RowGroupRows)
        {
            int count = Math.Min(RowGroupRows, rows - start);
            using ParquetRowGroupWriter group = writer.CreateRowGroup();
            for (int i = 0; i < columns.Count; i++)
                await columns[i].WriteAsync(group, fields[i], start, count);
        }
    }

    /// <summary>Reads all rows of a file, which is opened once.</summary>
    /// <exception cref="AtlasException">The file can't be read, or lacks what every row has.</exception>
    public static async Task ReadAsync<TRow>(string file, IReadOnlyList<Column<TRow>> columns, Func<TRow> make, List<TRow> rows,
        TextPool pool)
    {
        try
        {
            await using ParquetReader reader = await ParquetReader.CreateAsync(file, ParquetColumns.Options);
            // a release of an earlier version may lack a later column: its values are missing
            // asked for once: the library makes the list anew each time
            DataField[] fields = reader.Schema.DataFields;
            (Column<TRow> Column, DataField? Field)[] stored = [.. columns.Select(c => (c, Array.Find(fields, f => f.Name == c.Name)))];
            for (int g = 0; g < reader.RowGroupCount; g++)
            {
                using ParquetRowGroupReader group = reader.OpenRowGroupReader(g);
                TRow[] made = new TRow[group.RowCount];
                for (int i = 0; i < made.Length; i++)
                    made[i] = make();
                foreach ((Column<TRow> column, DataField? field) in stored)
                {
                    if (field is not null)
                        await column.ReadAsync(group, field, made, pool);
                    else if (column.IsRequired && made.Length > 0)
                        throw new InvalidDataException($"it has no column {column.Name}");
                }

                rows.AddRange(made);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or InvalidDataException or ParquetException)
        {
            throw new AtlasException($"{file} can't be read: {e.Message.TrimEnd('.')}. Check the release against its checksums.sha256.", e);
        }
    }

    private static string DescribeColumns(Table table) => JsonSerializer.Serialize(
        table.ColumnInfos.ToDictionary(c => c.Name, c => new { unit = c.Unit, description = c.Description }), JsonText.Options);
}
