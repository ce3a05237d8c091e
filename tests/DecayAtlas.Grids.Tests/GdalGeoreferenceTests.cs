using static DecayAtlas.Grids.Tests.GdalSource;

namespace DecayAtlas.Grids.Tests;

/// <summary>Files of every placement that GDAL can write: read where they are north-up in a known system, refused where not.</summary>
public sealed class GdalGeoreferenceTests
{
    [Theory]
    [InlineData("EPSG:4267")]
    [InlineData("EPSG:27700")]
    [InlineData("+proj=robin +datum=WGS84")]
    [InlineData("")]
    public void An_unknown_reference_system_or_none_is_refused_unless_one_is_declared(string crs)
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        string path = folder.File("other.tif");
        string source = Write(folder, Content("Byte"));
        string srs = crs.Length == 0 ? "" : $"<SRS>{crs}</SRS>";
        Gdal.Translate(folder.Write("other.vrt", File.ReadAllText(source).Replace("<SRS>EPSG:4326</SRS>", srs, StringComparison.Ordinal)),
            path);
        GridException e = Assert.Throws<GridException>(() => GridFile.Open(path));
        Assert.Contains("EPSG:4326", e.Message, StringComparison.Ordinal);
        if (crs is "" or "EPSG:4267")
        {
            using Grid declared = GridFile.Open(path, new GridReadOptions(Crs: "EPSG:4326"));
            Assert.Equal(Columns, declared.LatticeInDegrees.Columns);
        }

        Assert.Throws<GridException>(() => GridFile.Open(path, new GridReadOptions(Crs: crs.Length == 0 ? "EPSG:1" : "EPSG:99999")));
    }

    /// <summary>The scene warped into other systems: the values under WGS 84 points are those of gdallocationinfo -wgs84.</summary>
    [Theory]
    [InlineData("EPSG:4269")]
    [InlineData("EPSG:4258")]
    [InlineData("EPSG:3035")]
    [InlineData("EPSG:3857")]
    [InlineData("EPSG:6933")]
    [InlineData("EPSG:32630")]
    [InlineData("EPSG:3995")]
    [InlineData("EPSG:5041")]
    [InlineData("ESRI:54008")]
    [InlineData("ESRI:54009")]
    [InlineData("ESRI:54052")]
    [InlineData("+proj=igh +datum=WGS84")]
    [InlineData("+proj=sinu +R=6371007.181")]
    [InlineData("+proj=aea +lat_0=50 +lon_0=-5 +lat_1=45 +lat_2=58 +x_0=1000000 +datum=WGS84 +units=us-ft")]
    [InlineData("+proj=lcc +lat_0=50 +lon_0=-5 +lat_1=45 +lat_2=58 +datum=WGS84")]
    [InlineData("+proj=lcc +lat_0=50 +lon_0=-5 +lat_1=50 +k_0=0.999 +datum=WGS84 +x_0=5000")]
    [InlineData("+proj=laea +lat_0=45 +lon_0=-5 +datum=WGS84 +units=km")]
    [InlineData("+proj=stere +lat_0=90 +lat_ts=60 +lon_0=20 +datum=WGS84")]
    [InlineData("+proj=tmerc +lat_0=49 +lon_0=-2 +k=0.9996012717 +x_0=400000 +y_0=-100000 +datum=WGS84")]
    [InlineData("+proj=cea +lat_ts=45 +lon_0=10 +datum=WGS84")]
    [InlineData("+proj=merc +lon_0=30 +lat_ts=40 +datum=WGS84")]
    public void A_warped_grid_gives_under_WGS84_points_what_GDAL_gives(string crs)
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        string path = folder.File("warped.tif");
        Gdal.Run("gdalwarp", null, "-q", "-t_srs", crs, "-ts", "150", "120", Write(folder, Content("Float32")), path);
        using Grid grid = GridFile.Open(path);
        GeoPoint[] points = RandomPoints(200);
        double?[] expected = Gdal.ValuesAt(path, points, 1);
        IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, points, SamplingRule.Nearest, null);
        int compared = 0, differ = 0;
        for (int i = 0; i < points.Length; i++)
        {
            compared += expected[i] is not null ? 1 : 0;
            differ += expected[i] == samples[i].Value ? 0 : 1;
        }

        // GDAL moves NAD83, ETRS89 and spheres by its own choice of datum; a point close to an edge may fall on the other side.
        Assert.InRange(differ, 0, crs is "EPSG:4269" or "EPSG:4258" or "EPSG:3035" ? 2 : 0);
        Assert.InRange(compared, 150, 200);
    }

    [Fact]
    public void A_catalogue_that_contradicts_the_file_and_a_foreign_prime_meridian_are_refused()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        string source = Write(folder, Content("Byte"));
        string path = folder.File("wgs84.tif");
        Gdal.Translate(source, path);
        Assert.Throws<GridException>(() => GridFile.Open(path, new GridReadOptions(Crs: "EPSG:3035")));
        Gdal.Translate(source, path, "-a_srs", "+proj=longlat +datum=WGS84 +pm=paris +no_defs");
        Assert.Throws<GridException>(() => GridFile.Open(path));
        Gdal.Translate(source, path, "-a_srs", "+proj=longlat +datum=WGS84 +no_defs");
        using Grid grid = GridFile.Open(path);
        Assert.Equal(Columns, grid.LatticeInDegrees.Columns);
    }

    [Fact]
    public void South_up_and_rotated_files_are_refused()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        string source = Write(folder, Content("Byte"));
        string southUp = folder.File("south.tif");
        Gdal.Translate(source, southUp, "-a_ullr", "0", "0", "61", "47");
        Assert.Contains("rows south", Assert.Throws<GridException>(() => GridFile.Open(southUp)).Message, StringComparison.Ordinal);
        string vrt = folder.Write("rotated.vrt", File.ReadAllText(source).Replace(
            "0.25, 0, 58.25, 0, -0.25", "0.25, 0.1, 58.25, 0.1, -0.25", StringComparison.Ordinal));
        string rotated = folder.File("rotated.tif");
        Gdal.Translate(vrt, rotated);
        Assert.Contains("rotated", Assert.Throws<GridException>(() => GridFile.Open(rotated)).Message, StringComparison.Ordinal);

        // The same file with the two rotation terms of its matrix set to zero is north-up.
        byte[] bytes = File.ReadAllBytes(rotated);
        for (int at; (at = bytes.AsSpan().IndexOf(BitConverter.GetBytes(0.1))) >= 0;)
            bytes.AsSpan(at, 8).Clear();

        string straight = folder.File("straight.tif");
        File.WriteAllBytes(straight, bytes);
        using Grid grid = GridFile.Open(straight);
        Assert.Equal(new GridLattice(Columns, Rows, West, North, Cell, Cell), grid.LatticeInDegrees);
    }
}
