using System.Text;
using System.Text.Json;
using NetTopologySuite.IO.Converters;
using nietras.SeparatedValues;
using Parquet;
using Parquet.Schema;

namespace DecayAtlas.Questions.Predictions;

/// <summary>Writes the summary of regions as GeoJSON, CSV and Parquet, with the same columns in each.</summary>
public static class RegionFiles
{
    public const string GeoJsonName = "regions.geojson", CsvName = "regions.csv", ParquetName = "regions.parquet";

    private static readonly JsonSerializerOptions Shapes = new() { Converters = { new GeoJsonConverterFactory() } };

    private static readonly (string Name, Func<RegionRow, double?> Value)[] Columns =
    [
        ("area_km2", r => r.SquareKilometres),
        ("predicted_km2", r => r.PredictedSquareKilometres),
        ("applicable_share", r => r.ApplicableShare),
        ("k_mean_per_day", r => r.MeanRatePerDay),
        ("k_mean_lower_per_day", r => r.MeanLowerRatePerDay),
        ("k_mean_upper_per_day", r => r.MeanUpperRatePerDay),
        ("k_mean_applicable_per_day", r => r.ApplicableMeanRatePerDay),
        ("cells", r => r.Cells),
        ("independent_cells", r => r.IndependentCells),
        ("shared_share", r => r.SharedShare),
    ];

    public static void Write(string folder, RegionSet regions, IReadOnlyList<RegionRow> rows)
    {
        DurableFile.Write(Path.Combine(folder, GeoJsonName), stream => WriteGeoJson(stream, regions, rows));
        DurableFile.WriteText(Path.Combine(folder, CsvName), Csv(rows));
        using MemoryStream parquet = new();
        WriteParquet(parquet, rows).GetAwaiter().GetResult();
        DurableFile.Write(Path.Combine(folder, ParquetName), stream => stream.Write(parquet.ToArray()));
    }

    /// <summary>An interval without end is no number in any of the formats.</summary>
    private static double? Finite(double? value) => value is { } v && double.IsFinite(v) ? v : null;

    private static string Csv(IReadOnlyList<RegionRow> rows)
    {
        using SepWriter writer = Sep.New(',').Writer(options => options with { Escape = true }).ToText();
        foreach (RegionRow region in rows)
        {
            using SepWriter.Row row = writer.NewRow();
            row["name"].Set(SpreadsheetSafe.Text(region.Name));
            foreach ((string name, Func<RegionRow, double?> value) in Columns)
                row[name].Set(Invariant($"{Finite(value(region)):R}"));
        }

        return writer.ToString();
    }

    private static void WriteGeoJson(Stream stream, RegionSet regions, IReadOnlyList<RegionRow> rows)
    {
        using Utf8JsonWriter json = new(stream, new JsonWriterOptions { Indented = false });
        json.WriteStartObject();
        json.WriteString("type", "FeatureCollection");
        json.WriteStartArray("features");
        foreach ((Region region, RegionRow row) in regions.Regions.Zip(rows))
        {
            json.WriteStartObject();
            json.WriteString("type", "Feature");
            json.WritePropertyName("geometry");
            JsonSerializer.Serialize(json, region.Shape, Shapes);
            json.WriteStartObject("properties");
            json.WriteString("name", row.Name);
            foreach ((string name, Func<RegionRow, double?> value) in Columns)
            {
                if (Finite(value(row)) is { } number)
                    json.WriteNumber(name, number);
                else
                    json.WriteNull(name);
            }

            json.WriteEndObject();
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
        json.Flush();
        stream.Write(Encoding.UTF8.GetBytes("\n"));
    }

    private static async Task WriteParquet(Stream stream, IReadOnlyList<RegionRow> rows)
    {
        DataField<string> name = new("name", false);
        DataField[] numbers = [.. Columns.Select(c => new DataField<double>(c.Name, true))];
        await using ParquetWriter writer = await ParquetWriter.CreateAsync(
            new ParquetSchema([name, .. numbers]), stream, new ParquetOptions { CompressionMethod = CompressionMethod.Zstd });
        using ParquetRowGroupWriter group = writer.CreateRowGroup();
        await group.WriteAsync(name, new ArraySegment<string?>([.. rows.Select(r => r.Name)])!);
        for (int c = 0; c < numbers.Length; c++)
        {
            await group.WriteAsync<double>(numbers[c], rows.Select(r => Finite(Columns[c].Value(r))).ToArray().AsMemory(), null, null,
                default);
        }
    }
}
