using System.Globalization;
using System.Text;
using DecayAtlas.Demo.World;
using DecayAtlas.Grids;

namespace DecayAtlas.Demo.Output;

/// <summary>Writes the covariates in formats as mixed as a modeller meets them, and the catalogue that names them.</summary>
internal static class GridOutput
{
    private static readonly GridGeometry Fine = Geometry(1);
    private static readonly IReadOnlyDictionary<string, string> NoTags = new Dictionary<string, string>();

    /// <summary>Number of grids in the catalogue.</summary>
    public const int Count = 7;

    public static void Write(InventedWorld world, string folder)
    {
        string grids = Path.Combine(folder, "grids");
        Directory.CreateDirectory(grids);
        string At(string name) => Path.Combine(grids, name);

        Action[] jobs =
        [
            () => GeoTiffWriter.WriteSingle(At("air_temperature.tif"), Fine, Floats(world.Temperature), new GeoTiffBand("air_temperature_mean", "degC", 0.1), NoTags),
            () => GeoTiffWriter.WriteSingle(At("precipitation.tif"), Fine, Floats(world.Precipitation), new GeoTiffBand("precipitation", "mm/yr", 1), NoTags),
            () => GeoTiffWriter.WriteSingle(At("clay.tif"), Fine, Floats(world.Clay), new GeoTiffBand("clay", "%"), NoTags),
            () => GeoTiffWriter.WriteSingle(At("elevation.tif"), Fine, Floats(world.Elevation), new GeoTiffBand("elevation", "m"), NoTags),
            () => GeoTiffWriter.WriteSingle(At("ecosystem.tif"), Fine, Floats(world.Ecosystem), new GeoTiffBand("ecosystem", "", 1), NoTags),
            () => GeoTiffWriter.WriteSingle(At("soil_moisture.tif"), Geometry(4), Coarse(world.SoilMoisture, 4), new GeoTiffBand("soil_moisture", "1"), NoTags),
            () => AsciiGridWriter.Write(At("soil_ph_x10.asc"), Geometry(2), Tenths(Coarse(world.Ph, 2))),
        ];
        Parallel.Invoke(jobs);
        File.WriteAllText(Path.Combine(folder, "grids.yaml"), Catalogue(), new UTF8Encoding(false));
    }

    public static void WriteRateMap(string path, Field ratePerDay) =>
        GeoTiffWriter.WriteSingle(path, Fine, Floats(ratePerDay), new GeoTiffBand("decay_rate", "d-1"), NoTags);

    private static string Catalogue()
    {
        var text = new StringBuilder("# Covariates of the invented islands. Every number here is made up.\nversion: 1\ngrids:\n");
        void Entry(string name, string title, string file, string unit, string rule, int withinMetres, string? extra = null, string kind = "continuous")
        {
            text.Append(CultureInfo.InvariantCulture, $"  - name: {name}\n    title: {title}\n    file: grids/{file}\n    unit: \"{unit}\"\n");
            text.Append(CultureInfo.InvariantCulture, $"    rule: {rule}\n    kind: {kind}\n    valid_within_m: {withinMetres}\n");
            if (extra is not null) text.Append(CultureInfo.InvariantCulture, $"    {extra}\n");
            text.Append("    source: invented by the DecayAtlas demo\n");
        }

        Entry("air_temperature_mean", "Mean annual air temperature", "air_temperature.tif", "degC", "bilinear", 2500);
        Entry("precipitation", "Mean annual precipitation", "precipitation.tif", "mm/yr", "bilinear", 2500);
        Entry("soil_moisture", "Soil moisture index, 0 dry to 1 saturated", "soil_moisture.tif", "1", "bilinear", 8000);
        Entry("soil_ph", "Soil pH in water", "soil_ph_x10.asc", "pH", "bilinear", 5000, "scale: 0.1\n    crs: EPSG:4326");
        Entry("clay", "Clay share of the fine earth", "clay.tif", "%", "nearest", 2500);
        Entry("elevation", "Height above mean sea level", "elevation.tif", "m", "nearest", 2500);
        Entry("ecosystem", "Ecosystem class", "ecosystem.tif", "", "nearest", 2500, kind: "class");
        return text.ToString();
    }

    private static GridGeometry Geometry(int factor) => new(
        Region.Columns / factor, Region.Rows / factor, Region.WestDegrees, Region.NorthDegrees,
        Region.CellDegrees * factor, Region.CellDegrees * factor);

    private static float[] Floats(Field field) => Array.ConvertAll(field.Values, value => (float)value);

    /// <summary>Mean of the land cells in each block of factor x factor; missing where there is none.</summary>
    internal static float[] Coarse(Field field, int factor)
    {
        int columns = Region.Columns / factor, rows = Region.Rows / factor;
        var result = new float[columns * rows];
        for (int row = 0; row < rows; row++)
        {
            for (int column = 0; column < columns; column++)
            {
                double sum = 0;
                int count = 0;
                for (int i = 0; i < factor * factor; i++)
                {
                    double value = field[(column * factor) + (i % factor), (row * factor) + (i / factor)];
                    if (double.IsNaN(value)) continue;
                    sum += value;
                    count++;
                }

                result[(row * columns) + column] = count == 0 ? float.NaN : (float)(sum / count);
            }
        }

        return result;
    }

    private static float[] Tenths(float[] values) => Array.ConvertAll(values, value => MathF.Round(value * 10));
}
