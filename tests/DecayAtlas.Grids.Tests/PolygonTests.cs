using System.Globalization;

namespace DecayAtlas.Grids.Tests;

/// <summary>A chessboard of squares of a tenth of a degree, each with a number and a name, one with a hole, one drawn twice.</summary>
public sealed class PolygonTests
{
    private const double West = 8, South = 50, Cell = 0.1;

    [Fact]
    public void A_point_takes_the_attribute_of_the_unit_that_holds_it()
    {
        using TestFolder folder = new();
        PolygonLayer layer = PolygonLayer.Open(Board(folder), "code");
        Assert.Equal(33, layer.Count);
        IReadOnlyList<PolygonSample> samples = layer.Sample(
            [new(8.05, 50.05), new(8.15, 50.05), new(8.25, 50.05), new(8.45, 50.05), new(30, 50), new(double.NaN, 50), new(368.05, 50.05)],
            null);
        Assert.Equal((0.0, "0", SampleStatus.Sampled, 1), (samples[0].Value, samples[0].Text, samples[0].Status, samples[0].Units));
        Assert.Equal((null, SampleStatus.Missing), (samples[1].Value, samples[1].Status)); // a white square
        Assert.Equal(SampleStatus.Missing, samples[2].Status); // the hole
        Assert.Equal((4.0, 2), (samples[3].Value, samples[3].Units)); // drawn twice: the first counts, and it is told
        Assert.Equal(SampleStatus.Missing, samples[4].Status);
        Assert.Equal(SampleStatus.Outside, samples[5].Status);
        Assert.Equal(0, samples[6].Value);
        Assert.Equal("u0", PolygonLayer.Open(Board(folder), "name").Sample([new(8.05, 50.05)], null)[0].Text);
    }

    [Fact]
    public void Where_no_unit_holds_the_point_the_nearest_border_within_reach_counts()
    {
        using TestFolder folder = new();
        PolygonLayer layer = PolygonLayer.Open(Board(folder), "code");
        GeoPoint outside = new(7.99, 50.05);
        double metres = outside.GroundDistanceMetres(new GeoPoint(8, 50.05));
        PolygonSample found = layer.Sample([outside], 1000)[0];
        Assert.Equal((0.0, SampleStatus.NearestValid), (found.Value, found.Status));
        Assert.Equal(metres, found.DistanceMetres!.Value, 1);
        Assert.Equal(SampleStatus.Missing, layer.Sample([outside], metres - 5)[0].Status);
    }

    [Theory]
    [InlineData("board.shp", "EPSG:4326")]
    [InlineData("board.shp", "EPSG:3035")]
    [InlineData("board.shp", "EPSG:32632")]
    [InlineData("board.gpkg", "EPSG:4326")]
    [InlineData("board.gpkg", "EPSG:3035")]
    [InlineData("board.geojson", "EPSG:25832")]
    public void The_same_board_in_another_format_and_system_says_the_same(string file, string crs)
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        string source = Board(folder);
        string path = folder.File(file);
        string[] old = file.EndsWith("json", StringComparison.Ordinal) ? ["-lco", "RFC7946=NO"] : [];
        Gdal.Run("ogr2ogr", null, ["-t_srs", crs, .. old, path, source]);
        Random random = new(9);
        // Not on borders, which bend between systems.
        GeoPoint[] points = [.. Enumerable.Range(0, 300).Select(_ => new GeoPoint(Inside(West, random), Inside(South, random)))];
        PolygonLayer other = PolygonLayer.Open(path, "code");
        Assert.Equal(
            PolygonLayer.Open(source, "code").Sample(points, null).Select(s => (s.Value, s.Status, s.Units)),
            other.Sample(points, null).Select(s => (s.Value, s.Status, s.Units)));
        Assert.Equal(crs == "EPSG:4326", other.Projection.IsGeographic);
    }

    [Fact]
    public void What_cannot_be_read_is_told()
    {
        using TestFolder folder = new();
        Assert.Contains("code, name", Refusal(Board(folder), "colour"), StringComparison.Ordinal);
        Assert.Contains("no such file", Refusal(folder.File("absent.shp"), "code"), StringComparison.Ordinal);
        Assert.Contains("was expected", Refusal(folder.Write("a.kml", "x"), "code"), StringComparison.Ordinal);
        Assert.Contains("cannot be read", Refusal(folder.Write("b.geojson", "{ not json"), "code"), StringComparison.Ordinal);
        Assert.Contains("cannot be read", Refusal(folder.Write("c.gpkg", new string('x', 5000)), "code"), StringComparison.Ordinal);
        Assert.Contains("cannot be read", Refusal(folder.Write("d.shp", "short"), "code"), StringComparison.Ordinal);
        string point =
            """{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"code":1},"geometry":{"type":"Point","coordinates":[1,2]}}]}""";
        Assert.Contains("no polygons", Refusal(folder.Write("e.geojson", point), "code"), StringComparison.Ordinal);
    }

    private static double Inside(double start, Random random) => start + (random.Next(8) + 0.1 + 0.8 * random.NextDouble()) * Cell;

    private static string Refusal(string path, string attribute) =>
        Assert.Throws<GridException>(() => PolygonLayer.Open(path, attribute)).Message;

    private static string Board(TestFolder folder)
    {
        List<string> features = [];
        for (int i = 0; i < 64; i++)
        {
            if ((i % 8 + i / 8) % 2 == 0)
                features.Add(Feature(i, Ring(i, 0) + (i == 2 ? "," + Ring(i, 0.02) : "")));
        }

        features.Add(Feature(400, Ring(4, 0)));
        return folder.Write("source.geojson", $$"""{"type":"FeatureCollection","features":[{{string.Join(",\n", features)}}]}""");
    }

    private static string Feature(int code, string rings) =>
        $$$"""{"type":"Feature","properties":{"code":{{{code}}},"name":"u{{{code}}}"},"geometry":{"type":"Polygon","coordinates":[{{{rings}}}]}}""";

    private static string Ring(int i, double inset)
    {
        double x0 = West + i % 8 * Cell + inset, y0 = South + i / 8 * Cell + inset, size = Cell - 2 * inset;
        return string.Create(
            CultureInfo.InvariantCulture, $"[[{x0},{y0}],[{x0 + size},{y0}],[{x0 + size},{y0 + size}],[{x0},{y0 + size}],[{x0},{y0}]]");
    }
}
