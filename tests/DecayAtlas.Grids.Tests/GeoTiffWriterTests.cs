using System.Text.Json.Nodes;

namespace DecayAtlas.Grids.Tests;

public sealed class GeoTiffWriterTests
{
    private static readonly GridLattice Geometry = new(300, 270, -10, 60, 0.1, 0.2);

    private static float[] Values() =>
        [.. Enumerable.Range(0, 300 * 270).Select(i => i % 7 == 0 ? float.NaN : i % 1000 * 0.25f)];

    [Fact]
    public void What_is_written_is_read_back()
    {
        using TestFolder folder = new();
        float[] values = Values();
        GeoTiffWriter.WriteSingle(folder.File("w.tif"), Geometry, values, new GeoTiffBand("soil warmth", "degC"));
        using Grid grid = GridFile.Open(folder.File("w.tif"));
        double[] back = new double[values.Length];
        grid.ReadWindow(0, 0, 300, 270, back);
        Assert.Equal(values.Select(v => (double)v), back);
        Assert.Equal(Geometry, grid.LatticeInDegrees);
    }

    [Fact]
    public void GDAL_sees_place_missing_value_unit_description_and_tags()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        string path = folder.File("w.tif");
        using (GeoTiffWriter writer = new(
            path,
            Geometry,
            [new GeoTiffBand("prediction", "per day"), new GeoTiffBand("lower <5 %> & é", "")],
            new Dictionary<string, string> { ["MODEL"] = "abc", ["ATLAS"] = "release 7" }))
        {
            WriteAll(writer, 0, Values());
            WriteAll(writer, 1, [.. Values().Select(v => -v)]);
        }

        JsonNode info = JsonNode.Parse(Gdal.Run("gdalinfo", null, "-json", path))!;
        Assert.Equal([300, 270], info["size"]!.AsArray().Select(n => (int)n!));
        Assert.Equal([-10, 0.1, 0, 60, 0, -0.2], info["geoTransform"]!.AsArray().Select(n => (double)n!));
        Assert.Contains("ID[\"EPSG\",4326]", (string)info["coordinateSystem"]!["wkt"]!, StringComparison.Ordinal);
        Assert.Equal("Area", (string)info["metadata"]![""]!["AREA_OR_POINT"]!);
        Assert.Equal("release 7", (string)info["metadata"]![""]!["ATLAS"]!);
        JsonArray bands = info["bands"]!.AsArray();
        Assert.Equal(2, bands.Count);
        Assert.Equal("Float32", (string)bands[0]!["type"]!);
        Assert.Equal([256, 256], bands[0]!["block"]!.AsArray().Select(n => (int)n!));
        Assert.Equal("NaN", bands[0]!["noDataValue"]!.ToString());
        Assert.Equal("per day", (string)bands[0]!["unit"]!);
        Assert.Equal("prediction", (string)bands[0]!["description"]!);
        Assert.Equal("lower <5 %> & é", (string)bands[1]!["description"]!);

        GeoPoint[] points = [Geometry.CentreOf(0, 0), Geometry.CentreOf(1, 0), Geometry.CentreOf(299, 269), Geometry.CentreOf(256, 255),
            Geometry.CentreOf(20, 256)];
        foreach (int band in (int[])[1, 2])
        {
            double?[] expected = [
                .. new[] { 0,
                    1, 269 * 300 + 299, 255 * 300 + 256, 256 * 300 + 20 }.Select(i => (double?)Values()[i] * (band == 1 ? 1 : -1))];
            Assert.Equal(expected, Gdal.ValuesAt(path, points, band));
        }
    }

    [Fact]
    public void Packed_values_keep_half_a_step_and_GDAL_sees_their_scale()
    {
        using TestFolder folder = new();
        string path = folder.File("packed.tif");
        float[] values = Values();
        GeoTiffWriter.WriteSingle(path, Geometry, values, new GeoTiffBand("warmth", "degC", Scale: 0.01, Offset: 100));
        using Grid grid = GridFile.Open(path);
        double[] back = new double[values.Length];
        grid.ReadWindow(0, 0, 300, 270, back);
        for (int i = 0; i < values.Length; i++)
        {
            Assert.Equal(float.IsNaN(values[i]), double.IsNaN(back[i]));
            if (!float.IsNaN(values[i]))
                Assert.Equal(values[i], back[i], 0.005 + 1e-9);
        }

        Gdal.SkipUnlessInstalled();
        JsonNode band = JsonNode.Parse(Gdal.Run("gdalinfo", null, "-json", path))!["bands"]![0]!;
        Assert.Equal("Int16", (string)band["type"]!);
        Assert.Equal((0.01, 100.0, -32768.0), ((double)band["scale"]!, (double)band["offset"]!, (double)band["noDataValue"]!));
    }

    [Fact]
    public void A_value_that_does_not_fit_is_refused_and_not_clamped()
    {
        using TestFolder folder = new();
        GridException e = Assert.Throws<GridException>(() => GeoTiffWriter.WriteSingle(
            folder.File("p.tif"), new GridLattice(1, 1, 0, 1, 1, 1), [400f], new GeoTiffBand("warmth", "degC", 0.01)));
        Assert.Contains("400", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_values_give_the_same_bytes_whatever_the_padding()
    {
        using TestFolder folder = new();
        string[] prints = [.. new[] { 1f, 2f }.Select(padding =>
        {
            string path = folder.File($"{padding}.tif");
            GridLattice geometry = new(100, 90, 0, 0, 0.5, 0.5);
            using (GeoTiffWriter writer = new(path, geometry, [new GeoTiffBand("x", "m")],
                new Dictionary<string, string> { ["B"] = "1", ["A"] = "2" }))
            {
                float[] tile = new float[GeoTiffWriter.TileSize * GeoTiffWriter.TileSize];
                Array.Fill(tile, padding);
                for (int i = 0; i < 90; i++)
                tile.AsSpan(i * GeoTiffWriter.TileSize, 100).Fill(i);

                writer.WriteTile(0, 0, 0, tile);
            }

            return GridFingerprint.OfFile(path);
        })];
        Assert.Equal(prints[0], prints[1]);
        Assert.StartsWith("sha256:", prints[0], StringComparison.Ordinal);
    }

    [Fact]
    public void A_tile_never_written_is_missing()
    {
        using TestFolder folder = new();
        string path = folder.File("hole.tif");
        using (GeoTiffWriter writer = new(path, Geometry, [new GeoTiffBand("x", "m")]))
            writer.WriteTile(0, 1, 1, new float[GeoTiffWriter.TileSize * GeoTiffWriter.TileSize]);

        using (Grid grid = GridFile.Open(path))
            Assert.Equal((double.NaN, 0.0), (grid.ReadCell(0, 0), grid.ReadCell(299, 269)));

        Gdal.SkipUnlessInstalled();
        Assert.Equal([double.NaN, 0.0], Gdal.ValuesAt(path, [Geometry.CentreOf(0, 0), Geometry.CentreOf(299, 269)], 1));
    }

    [Fact]
    public void A_folder_that_is_not_there_is_said_in_a_sentence()
    {
        using TestFolder folder = new();
        Assert.Throws<GridException>(() => new GeoTiffWriter(folder.File("no/w.tif"), Geometry, [new GeoTiffBand("x", "m")]));
    }

    private static void WriteAll(GeoTiffWriter writer, int band, float[] values)
    {
        float[] tile = new float[GeoTiffWriter.TileSize * GeoTiffWriter.TileSize];
        for (int tileRow = 0; tileRow < writer.TilesDown; tileRow++)
        {
            for (int tileColumn = 0; tileColumn < writer.TilesAcross; tileColumn++)
            {
                for (int i = 0; i < tile.Length; i++)
                {
                    int column = tileColumn * 256 + i % 256;
                    int row = tileRow * 256 + i / 256;
                    tile[i] = column < 300 && row < 270 ? values[row * 300 + column] : float.NaN;
                }

                writer.WriteTile(band, tileColumn, tileRow, tile);
            }
        }
    }
}
