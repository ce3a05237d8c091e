using System.IO.Compression;
using System.Text.Json;
using DecayAtlas.Atlas.Tables;
using Parquet;
using Parquet.Schema;

namespace DecayAtlas.Atlas.Storage;

/// <summary>Writes columns as one Parquet file: zstd, row groups of 128 Ki rows, units and meanings in the file metadata.</summary>
internal static class ParquetPart
{
    /// <summary>Rows a group: large enough to compress well, small enough that one group fits a reader's memory.</summary>
    public const int RowGroupRows = 128 * 1024;

    public static async Task WriteAsync(
        Stream stream, Table table, IReadOnlyList<DataField> fields, IReadOnlyList<ColumnValues> columns, IReadOnlyDictionary<string, string> metadata)
    {
        // The default level of the library is its slowest: it took half of a first night and saved a tenth of the bytes.
        var options = new ParquetOptions { CompressionMethod = CompressionMethod.Zstd, CompressionLevel = CompressionLevel.Fastest };
        await using ParquetWriter writer = await ParquetWriter.CreateAsync(new ParquetSchema(fields), stream, options);
        var all = new Dictionary<string, string>(metadata)
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

    private static string DescribeColumns(Table table) => JsonSerializer.Serialize(
        table.ColumnInfos.ToDictionary(c => c.Name, c => new { unit = c.Unit, description = c.Description }), JsonText.Options);
}
