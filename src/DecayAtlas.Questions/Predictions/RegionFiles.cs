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

    private static readonly Column[] Areas =
    [
        new("area_km2", r => r.SquareKilometres), new("predicted_km2", r => r.PredictedSquareKilometres),
        new("applicable_share", r => r.ApplicableShare),
    ];

    private static readonly Column[] Sureness =
    [
        new("cells", r => r.Cells), new("independent_cells", r => r.IndependentCells), new("shared_share", r => r.SharedShare),
    ];

    private static readonly Column[] OfRate =
    [
        .. Areas,
        new("k_mean_per_day", r => r.MeanRatePerDay), new("k_mean_lower_per_day", r => r.MeanLowerRatePerDay),
        new("k_mean_upper_per_day", r => r.MeanUpperRatePerDay), new("k_mean_applicable_per_day", r => r.ApplicableMeanRatePerDay),
        .. Sureness,
        new("half_life_days", r => r.HalfLifeDays), new("half_life_lower_days", r => r.HalfLifeLowerDays),
        new("half_life_upper_days", r => r.HalfLifeUpperDays),
    ];

    private static readonly Column[] OfStabilisation =
    [
        .. Areas,
        new("s_mean", r => r.Stabilisation?.Mean), new("s_mean_lower", r => r.Stabilisation?.Lower),
        new("s_mean_upper", r => r.Stabilisation?.Upper), new("s_mean_applicable", r => r.Stabilisation?.ApplicableMean),
        .. Sureness,
    ];

    /// <param name="of">What the map shows.</param>
    public static void Write(string folder, MapQuantity of, RegionSet regions, IReadOnlyList<RegionRow> rows)
    {
        Column[] columns = of == MapQuantity.DecayRate ? OfRate : OfStabilisation;
        DurableFile.Write(Path.Combine(folder, GeoJsonName), stream => WriteGeoJson(stream, columns, regions, rows));
        DurableFile.WriteText(Path.Combine(folder, CsvName), Csv(columns, rows));
        using MemoryStream parquet = new();
        WriteParquet(parquet, columns, rows).GetAwaiter().GetResult();
        DurableFile.Write(Path.Combine(folder, ParquetName), stream => stream.Write(parquet.ToArray()));
    }

    /// <summary>An interval without end is no number in any of the formats.</summary>
    private static double? Finite(double? value) => value is { } v && double.IsFinite(v) ? v : null;

    private static string Csv(Column[] columns, IReadOnlyList<RegionRow> rows)
    {
        using SepWriter writer = Sep.New(',').Writer(options => options with { Escape = true }).ToText();
        foreach (RegionRow region in rows)
        {
            using SepWriter.Row row = writer.NewRow();
            row["name"].Set(SpreadsheetSafe.Text(region.Name));
            foreach ((string name, Func<RegionRow, double?> value) in columns)
                row[name].Set(Invariant($"{Finite(value(region)):R}"));
        }

        return writer.ToString();
    }

    private static void WriteGeoJson(Stream stream, Column[] columns, RegionSet regions, IReadOnlyList<RegionRow> rows) =>
        GeoJsonFeatures.Write(stream, regions.Regions.Zip(rows),
            (json, feature) => JsonSerializer.Serialize(json, feature.First.Shape, Shapes), (json, feature) =>
            {
                json.WriteString("name", feature.Second.Name);
                foreach ((string name, Func<RegionRow, double?> value) in columns)
                {
                    if (Finite(value(feature.Second)) is { } number)
                        json.WriteNumber(name, number);
                    else
                        json.WriteNull(name);
                }
            });

    private static async Task WriteParquet(Stream stream, Column[] columns, IReadOnlyList<RegionRow> rows)
    {
        DataField<string> name = new("name", false);
        DataField[] numbers = [.. columns.Select(c => new DataField<double>(c.Name, true))];
        await using ParquetWriter writer = await ParquetWriter.CreateAsync(
            new ParquetSchema([name, .. numbers]), stream, new ParquetOptions { CompressionMethod = CompressionMethod.Zstd });
        using ParquetRowGroupWriter group = writer.CreateRowGroup();
        await group.WriteAsync(name, new ArraySegment<string?>([.. rows.Select(r => r.Name)])!);
        for (int c = 0; c < numbers.Length; c++)
        {
            await group.WriteAsync<double>(numbers[c], rows.Select(r => Finite(columns[c].Value(r))).ToArray().AsMemory(), null, null,
                default);
        }
    }

    private sealed record Column(string Name, Func<RegionRow, double?> Value);
}
