using static DecayAtlas.Grids.Tests.GdalSource;

namespace DecayAtlas.Grids.Tests;

/// <summary>Files of every placement that GDAL can write: read where they are north-up WGS 84, refused where not.</summary>
public sealed class GdalGeoreferenceTests
{
    [Theory]
    [InlineData("EPSG:3857")]
    [InlineData("EPSG:4269")]
    [InlineData("")]
    public void Another_reference_system_or_none_is_refused(string crs)
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        string path = folder.File("other.tif");
        string source = Write(folder, Content("Byte"));
        string srs = crs.Length == 0 ? "" : $"<SRS>{crs}</SRS>";
        Gdal.Translate(folder.Write("other.vrt", File.ReadAllText(source).Replace("<SRS>EPSG:4326</SRS>", srs, StringComparison.Ordinal)), path);
        GridException e = Assert.Throws<GridException>(() => GridFile.Open(path));
        Assert.Contains("EPSG:4326", e.Message, StringComparison.Ordinal);
        if (crs != "EPSG:3857")
        {
            using Grid declared = GridFile.Open(path, new GridReadOptions(Crs: "EPSG:4326"));
            Assert.Equal(Columns, declared.Geometry.Columns);
            Assert.Throws<GridException>(() => GridFile.Open(path, new GridReadOptions(Crs: "EPSG:3035")));
        }
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
        Assert.Equal(Columns, grid.Geometry.Columns);
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
        {
            bytes.AsSpan(at, 8).Clear();
        }

        string straight = folder.File("straight.tif");
        File.WriteAllBytes(straight, bytes);
        using Grid grid = GridFile.Open(straight);
        Assert.Equal(new GridGeometry(Columns, Rows, West, North, Cell, Cell), grid.Geometry);
    }
}
