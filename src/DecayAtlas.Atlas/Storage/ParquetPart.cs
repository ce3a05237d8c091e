using System.Text.Json;
using DecayAtlas.Atlas.Tables;
using Parquet;
using Parquet.Schema;

namespace DecayAtlas.Atlas.Storage;

/// <summary>Writes rows as one Parquet file: zstd, row groups of 128 Ki rows, units and meanings in the file metadata.</summary>
public static class ParquetPart
{
    /// <summary>Rows a group: large enough to compress well, small enough that one group fits a reader's memory.</summary>
    public const int RowGroupRows = 128 * 1024;

    public static async Task WriteAsync<TRow>(
        Stream stream, Table<TRow> table, ReadOnlyMemory<TRow> rows, IReadOnlyDictionary<string, string>? fileMetadata = null)
    {
        var schema = new ParquetSchema(table.Columns.Select(c => (Field)c.Field));
        var options = new ParquetOptions { CompressionMethod = CompressionMethod.Zstd };
        await using ParquetWriter writer = await ParquetWriter.CreateAsync(schema, stream, options);
        var metadata = new Dictionary<string, string>
        {
            ["decayatlas.table"] = table.Name,
            ["decayatlas.columns"] = DescribeColumns(table),
        };
        foreach ((string key, string value) in fileMetadata ?? new Dictionary<string, string>())
            metadata[key] = value;
        writer.CustomMetadata = metadata;

        for (int start = 0; start < rows.Length; start += RowGroupRows)
        {
            ReadOnlyMemory<TRow> slice = rows.Slice(start, Math.Min(RowGroupRows, rows.Length - start));
            using ParquetRowGroupWriter group = writer.CreateRowGroup();
            foreach (Column<TRow> column in table.Columns)
                await column.WriteAsync(group, slice);
        }
    }

    private static string DescribeColumns(Table table) => JsonSerializer.Serialize(
        table.ColumnInfos.ToDictionary(c => c.Name, c => new { unit = c.Unit, description = c.Description }), JsonText.Options);
}
