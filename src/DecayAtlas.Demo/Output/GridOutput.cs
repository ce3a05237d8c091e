namespace DecayAtlas.Demo.Output;

/// <summary>Writes the covariates in formats as mixed as a modeller meets them, and the catalogue that names them.</summary>
internal static class GridOutput
{
    private const int MonthFactor = 4, CarbonFactor = 2;

    private const string CatalogueName = "grids.yaml";

    /// <summary>Number of covariates in the catalogue.</summary>
    public const int Count = 16;

    public static void Write(InventedWorld world, string folder)
    {
        string grids = Path.Combine(folder, "grids");
        Directory.CreateDirectory(grids);
        string At(string name) => Path.Combine(grids, name);
        Action Tif(string name, int factor, params (Field Field, GeoTiffBand Band)[] bands) =>
            () => WriteTif(At(name + ".tif"), factor, bands);

        Parallel.Invoke(
        [
            Tif("air_temperature", 1, (world.Temperature, new GeoTiffBand("air_temperature_mean", "degC", 0.1))),
            Tif("precipitation", 1, (world.Precipitation, new GeoTiffBand("precipitation", "mm/yr", 1))),
            Tif("clay", 1, (world.Clay, new GeoTiffBand("clay", "%"))),
            Tif("elevation", 1, (world.Elevation, new GeoTiffBand("elevation", "m"))),
            Tif("ecosystem", 1, (world.Ecosystem, new GeoTiffBand("ecosystem", "", 1))),
            Tif("soil_moisture", 4, (world.SoilMoisture, new GeoTiffBand("soil_moisture", "1"))),
            () => AsciiGridWriter.Write(
                At("soil_ph_x10.asc"), Geometry(2), Array.ConvertAll(Coarse(world.Ph, 2), value => MathF.Round(value * 10))),
            () => WriteTif(At("air_temperature_months.tif"), MonthFactor,
                [.. Enumerable.Range(1, 12).Select(m => (Month(world, m), new GeoTiffBand($"air_temperature_{m:00}", "degC", 0.1)))]),
            .. Enumerable.Range(1, 12).Select(m => (Action)(() => WriteTif(At($"precipitation_{m:00}.tif"), MonthFactor,
                (Field.Of((c, r, _, _) => Seasons.PrecipitationMillimetres(world.Precipitation[c, r], m)),
                new GeoTiffBand("precipitation", "mm", 0.1))))),
            () => WriteTif(At("soil_carbon.tif"), CarbonFactor, [.. SoilUnits.CarbonLayers.Select(layer => (
                Field.Of((c, r, _, _) => layer.Share * SoilUnits.SurfaceCarbon(world.SoilMoisture[c, r], world.Temperature[c, r])),
                new GeoTiffBand($"{layer.Top}-{layer.Bottom} cm", "g/kg")))]),
            () => File.WriteAllText(At("soil_units.geojson"), SoilUnits.GeoJson(world)),
        ]);
        using Stream catalogue = typeof(GridOutput).Assembly.GetManifestResourceStream(CatalogueName)!;
        using FileStream file = File.Create(Path.Combine(folder, CatalogueName));
        catalogue.CopyTo(file);
    }

    public static void WriteRateMap(string path, Field ratePerDay) => WriteTif(path, 1, (ratePerDay, new GeoTiffBand("decay_rate", "d-1")));

    // The temperature grid of the year reaches over the sea; that of the months, like the other grids, ends at the coast.
    private static Field Month(InventedWorld world, int month) => Field.Of((c, r, _, _) => double.IsNaN(world.Elevation[c, r])
        ? double.NaN
        : Seasons.TemperatureCelsius(world.Temperature[c, r], world.Elevation[c, r], month));

    private static GridLattice Geometry(int factor) => new(
        InventedRegion.Columns / factor, InventedRegion.Rows / factor, InventedRegion.WestDegrees, InventedRegion.NorthDegrees,
        InventedRegion.CellDegrees * factor, InventedRegion.CellDegrees * factor);

    private static void WriteTif(string path, int factor, params (Field Field, GeoTiffBand Band)[] bands)
    {
        GridLattice geometry = Geometry(factor);
        float[][] values = [.. bands.Select(b => Coarse(b.Field, factor))];
        using GeoTiffWriter writer = new(path, geometry, [.. bands.Select(b => b.Band)]);
        float[] tile = new float[GeoTiffWriter.TileSize * GeoTiffWriter.TileSize];
        for (int band = 0; band < bands.Length; band++)
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

    /// <summary>Mean of the land cells in each block of factor x factor; missing where there is none.</summary>
    private static float[] Coarse(Field field, int factor)
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
}
