using System.Globalization;
using System.Text.Json;
using NetTopologySuite.Features;
using NetTopologySuite.IO.Converters;

namespace DecayAtlas.Demo.Output;

/// <summary>Writes what has several layers: months as bands and as files, soil by depth, and the map of soil units.</summary>
internal static class SeasonOutput
{
    private const int MonthFactor = 4, CarbonFactor = 2;

    private static readonly JsonSerializerOptions GeoJson = new() { Converters = { new GeoJsonConverterFactory() } };

    public static IEnumerable<Action> Jobs(InventedWorld world, Func<string, string> at) =>
    [
        () => Write(at("air_temperature_months.tif"), MonthFactor,
            [.. Enumerable.Range(1, 12).Select(m => (Month(world, m), new GeoTiffBand(Name("air_temperature", m), "degC", 0.1)))]),
        .. Enumerable.Range(1, 12).Select(m => (Action)(() => Write(at($"{Name("precipitation", m)}.tif"), MonthFactor,
            [(Field.Of((c, r) => Seasons.PrecipitationMillimetres(world.Precipitation[c, r], m)), new GeoTiffBand("precipitation", "mm",
                0.1))]))),
        () => Write(at("soil_carbon.tif"), CarbonFactor,
            [.. SoilUnits.CarbonLayers.Select(layer => (
                Field.Of((c, r) => layer.Share * SoilUnits.SurfaceCarbon(world.SoilMoisture[c, r], world.Temperature[c, r])),
                new GeoTiffBand(string.Create(CultureInfo.InvariantCulture, $"{layer.Top}-{layer.Bottom} cm"), "g/kg")))]),
        () => WriteUnits(at("soil_units.geojson"), world),
    ];

    private static string Name(string what, int month) => string.Create(CultureInfo.InvariantCulture, $"{what}_{month:00}");

    // The temperature grid of the year reaches over the sea; that of the months, like the other grids, ends at the coast.
    private static Field Month(InventedWorld world, int month) => Field.Of((c, r) => double.IsNaN(world.Elevation[c, r])
        ? double.NaN
        : Seasons.TemperatureCelsius(world.Temperature[c, r], world.Elevation[c, r], month));

    private static void Write(string path, int factor, IReadOnlyList<(Field Field, GeoTiffBand Band)> bands)
    {
        GridLattice geometry = GridOutput.Geometry(factor);
        float[][] values = [.. bands.Select(b => GridOutput.Coarse(b.Field, factor))];
        using GeoTiffWriter writer = new(path, geometry, [.. bands.Select(b => b.Band)]);
        float[] tile = new float[GeoTiffWriter.TileSize * GeoTiffWriter.TileSize];
        for (int band = 0; band < bands.Count; band++)
        {
            for (int t = 0; t < writer.TilesAcross * writer.TilesDown; t++)
            {
                (int left, int top) = (t % writer.TilesAcross * GeoTiffWriter.TileSize, t / writer.TilesAcross * GeoTiffWriter.TileSize);
                Array.Fill(tile, float.NaN);
                int columns = Math.Min(GeoTiffWriter.TileSize, geometry.Columns - left);
                for (int row = 0; row < Math.Min(GeoTiffWriter.TileSize, geometry.Rows - top); row++)
                    values[band].AsSpan(((top + row) * geometry.Columns) + left, columns).CopyTo(tile.AsSpan(row * GeoTiffWriter.TileSize));

                writer.WriteTile(band, t % writer.TilesAcross, t / writer.TilesAcross, tile);
            }
        }
    }

    private static void WriteUnits(string path, InventedWorld world)
    {
        FeatureCollection units = [];
        foreach ((string unit, NetTopologySuite.Geometries.Geometry shape) in SoilUnits.Map(world))
            units.Add(new Feature(shape, new AttributesTable { { "unit", unit } }));

        File.WriteAllText(path, JsonSerializer.Serialize(units, GeoJson));
    }
}
