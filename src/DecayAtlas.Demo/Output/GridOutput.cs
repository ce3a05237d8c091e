using System.Globalization;
using System.Text;

namespace DecayAtlas.Demo.Output;

/// <summary>Writes the covariates in formats as mixed as a modeller meets them, and the catalogue that names them.</summary>
internal static class GridOutput
{
    private static readonly GridLattice Fine = Geometry(1);
    private static readonly IReadOnlyDictionary<string, string> NoTags = new Dictionary<string, string>();

    /// <summary>Number of covariates in the catalogue.</summary>
    public const int Count = 16;

    public static void Write(InventedWorld world, string folder)
    {
        string grids = Path.Combine(folder, "grids");
        Directory.CreateDirectory(grids);
        string At(string name) => Path.Combine(grids, name);

        Action[] jobs =
        [
            () => GeoTiffWriter.WriteSingle(At("air_temperature.tif"), Fine, Floats(world.Temperature),
                new GeoTiffBand("air_temperature_mean", "degC", 0.1), NoTags),
            () => GeoTiffWriter.WriteSingle(At("precipitation.tif"), Fine, Floats(world.Precipitation),
                new GeoTiffBand("precipitation", "mm/yr", 1), NoTags),
            () => GeoTiffWriter.WriteSingle(At("clay.tif"), Fine, Floats(world.Clay), new GeoTiffBand("clay", "%"), NoTags),
            () => GeoTiffWriter.WriteSingle(At("elevation.tif"), Fine, Floats(world.Elevation), new GeoTiffBand("elevation", "m"), NoTags),
            () => GeoTiffWriter.WriteSingle(At("ecosystem.tif"), Fine, Floats(world.Ecosystem), new GeoTiffBand("ecosystem", "", 1),
                NoTags),
            () => GeoTiffWriter.WriteSingle(At("soil_moisture.tif"), Geometry(4), Coarse(world.SoilMoisture, 4),
                new GeoTiffBand("soil_moisture", "1"), NoTags),
            () => AsciiGridWriter.Write(At("soil_ph_x10.asc"), Geometry(2), Tenths(Coarse(world.Ph, 2))),
            .. SeasonOutput.Jobs(world, At),
        ];
        Parallel.Invoke(jobs);
        File.WriteAllText(Path.Combine(folder, "grids.yaml"), Catalogue(), new UTF8Encoding(false));
    }

    public static void WriteRateMap(string path, Field ratePerDay) =>
        GeoTiffWriter.WriteSingle(path, Fine, Floats(ratePerDay), new GeoTiffBand("decay_rate", "d-1"), NoTags);

    private static string Catalogue()
    {
        StringBuilder text = new("# Covariates of the invented islands. Every number here is made up.\nversion: 1\ngrids:\n");
        void Entry(string name, string title, string file, string unit, string rule, int withinMetres, string? extra = null,
            string kind = "continuous")
        {
            text.Append(
                CultureInfo.InvariantCulture, $"  - name: {name}\n    title: {title}\n    file: grids/{file}\n    unit: \"{unit}\"\n");
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
        text.Append(FeltByBags);
        return text.ToString();
    }

    private const string FeltByBags = """
          # What a bag felt: weighted to the days it was buried, and to its depth.
          - name: air_temperature_exposure
            title: Mean air temperature of the days a bag was buried
            file: grids/air_temperature_months.tif
            months: bands
            statistic: mean
            unit: "degC"
            rule: bilinear
            kind: continuous
            valid_within_m: 8000
            source: invented by the DecayAtlas demo
          - name: precipitation_exposure
            title: Precipitation of the days a bag was buried
            file: "grids/precipitation_{month}.tif"
            months: files
            statistic: sum
            unit: "mm"
            rule: bilinear
            kind: continuous
            valid_within_m: 8000
            source: invented by the DecayAtlas demo
          - name: degree_days
            title: Degree-days above 5 degC of the days a bag was buried
            file: grids/air_temperature_months.tif
            months: bands
            statistic: degree_days
            base: 5
            unit: "degC d"
            rule: bilinear
            kind: continuous
            valid_within_m: 8000
            source: invented by the DecayAtlas demo
          - name: soil_carbon
            title: Organic carbon of the soil around the bag
            file: grids/soil_carbon.tif
            layers:
              - { from_cm: 0, to_cm: 5, band: 1 }
              - { from_cm: 5, to_cm: 15, band: 2 }
              - { from_cm: 15, to_cm: 30, band: 3 }
            unit: "g/kg"
            rule: bilinear
            kind: continuous
            valid_within_m: 5000
            source: invented by the DecayAtlas demo
          # A map of units.
          - name: soil_unit
            title: Soil unit
            polygons: grids/soil_units.geojson
            attribute: unit
            unit: ""
            kind: class
            valid_within_m: 2500
            source: invented by the DecayAtlas demo
          # Computed from those above.
          - name: evapotranspiration
            title: Potential evapotranspiration of the days a bag was buried
            derived: pet_thornthwaite
            inputs: { mean: air_temperature_exposure }
            unit: "mm"
            kind: continuous
          - name: temperature_response
            title: Respiration over that at 10 degC, for the days a bag was buried
            derived: temperature_response
            inputs: { temperature: air_temperature_exposure }
            unit: ""
            kind: continuous
          - name: aridity_index
            title: Precipitation over potential evapotranspiration of a year
            derived: aridity_index
            inputs: { precipitation: precipitation_exposure, evapotranspiration: evapotranspiration }
            over: year
            unit: ""
            kind: continuous
          - name: climate_class
            title: Climate class
            derived: climate_class
            inputs: { temperature: air_temperature_exposure, precipitation: precipitation_exposure }
            unit: ""
            kind: class

        """;


    internal static GridLattice Geometry(int factor) => new(
        InventedRegion.Columns / factor, InventedRegion.Rows / factor, InventedRegion.WestDegrees, InventedRegion.NorthDegrees,
        InventedRegion.CellDegrees * factor, InventedRegion.CellDegrees * factor);

    private static float[] Floats(Field field) => Array.ConvertAll(field.Values, value => (float)value);

    /// <summary>Mean of the land cells in each block of factor x factor; missing where there is none.</summary>
    internal static float[] Coarse(Field field, int factor)
    {
        int columns = InventedRegion.Columns / factor, rows = InventedRegion.Rows / factor;
        float[] result = new float[columns * rows];
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
