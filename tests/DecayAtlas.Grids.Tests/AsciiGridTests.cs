namespace DecayAtlas.Grids.Tests;

public sealed class AsciiGridTests
{
    private static readonly GridReadOptions Wgs84 = new(Crs: "EPSG:4326");

    [Theory]
    [InlineData("xllcorner 10\nyllcorner 50\n")]
    [InlineData("XLLCENTER 10.25\nYLLCENTER 50.25\n")]
    public void Corner_and_centre_registration_give_the_same_cells_and_the_values_of_GDAL(string registration)
    {
        using TestFolder folder = new();
        string path = folder.Write(
            "a.asc", $"ncols 3\nnrows 2\n{registration}cellsize 0.5\nNODATA_value -1\n1.5 2 -1\n4e1\n5\r\n6\n");
        using Grid grid = GridFile.Open(path, Wgs84);
        Assert.Equal(new GridLattice(3, 2, 10, 51, 0.5, 0.5), grid.LatticeInDegrees);
        double[] values = new double[6];
        grid.ReadWindow(0, 0, 3, 2, values);
        Assert.Equal([1.5, 2, double.NaN, 40, 5, 6], values);

        Gdal.SkipUnlessInstalled();
        GeoPoint[] points = [.. Enumerable.Range(0, 6).Select(i => grid.CentreOf(i % 3, i / 3))];
        string tif = folder.File("a.tif");
        Gdal.Translate(path, tif, "-a_srs", "EPSG:4326");
        Assert.Equal(values.Select(v => double.IsNaN(v) ? -1 : (double?)v), Gdal.ValuesAt(tif, points, 1));
    }

    [Fact]
    public void Many_blocks_are_read_without_holding_the_file()
    {
        using TestFolder folder = new();
        GridLattice geometry = new(1000, 300, 0, 30, 0.1, 0.1);
        float[] values = [.. Enumerable.Range(0, 300_000).Select(i => i % 11 == 0 ? float.NaN : i / 3f)];
        string path = folder.File("b.asc");
        AsciiGridWriter.Write(path, geometry, values);
        using Grid grid = GridFile.Open(path, Wgs84);
        Assert.InRange(grid.BlockRows, 2, 299);
        for (int i = 299_999; i >= 0; i -= 997)
            Assert.Equal(values[i], (float)grid.ReadCell(i % 1000, i / 1000));
    }

    [Fact]
    public void GDAL_reads_what_is_written_and_a_value_of_minus_9999_survives()
    {
        using TestFolder folder = new();
        string path = folder.File("w.asc");
        GridLattice geometry = new(2, 2, -5.5, 40.25, 0.25, 0.25);
        AsciiGridWriter.Write(path, geometry, [-9999, float.NaN, 0.1f, 3]);
        using (Grid grid = GridFile.Open(path, Wgs84))
        {
            Assert.Equal(geometry, grid.LatticeInDegrees);
            Assert.Equal((-9999, double.NaN), (grid.ReadCell(0, 0), grid.ReadCell(1, 0)));
        }

        Gdal.SkipUnlessInstalled();
        string tif = folder.File("w.tif");
        Gdal.Translate(path, tif, "-a_srs", "EPSG:4326");
        using Grid back = GridFile.Open(tif);
        Assert.Equal(geometry, back.LatticeInDegrees);
        Assert.Equal((-9999, double.NaN, (double)0.1f), (back.ReadCell(0, 0), back.ReadCell(1, 0), back.ReadCell(0, 1)));
    }

    [Theory]
    [InlineData("ncols 3\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2 3 4 5\n", "holds 5 values")]
    [InlineData("ncols 3\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2 3 4 5 6 7\n", "holds 7 values")]
    [InlineData("ncols 3\nnrows 2\nxllcorner 0\ncellsize 1\n1 2 3 4 5 6\n", "no yllcorner")]
    [InlineData("ncols 0\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n", "ncols is 0")]
    [InlineData("ncols 2000000000\nnrows 2000000000\nxllcorner 0\nyllcorner 0\ncellsize 1e-9\n1 2", "more than a file of")]
    [InlineData("ncols 2\nnrows 1\nxllcorner 0\nyllcorner 0\ncellsize -1\n1 2", "degrees on the Earth")]
    [InlineData("ncols 2\nnrows 1\nxllcorner 500000\nyllcorner 0\ncellsize 30\n1 2", "degrees on the Earth")]
    [InlineData("ncols 2\nnrows 1\nxllcorner 0\nyllcorner 0\ncelsize 1\n1 2", "\"celsize\"")]
    [InlineData("ncols 2\nnrows many\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2", "\"many\"")]
    [InlineData("ncols 2", "no nrows")]
    [InlineData("ncols ", "after ncols")]
    [InlineData("hello", "neither a TIFF nor a NetCDF file nor an Esri ASCII grid")]
    [InlineData("", "neither a TIFF nor a NetCDF file nor an Esri ASCII grid")]
    public void A_wrong_file_gets_a_sentence(string content, string said)
    {
        using TestFolder folder = new();
        GridException e = Assert.Throws<GridException>(() => GridFile.Open(folder.Write("a.asc", content), Wgs84));
        Assert.Contains(said, e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Changed_letters_never_give_another_exception()
    {
        using TestFolder folder = new();
        Random random = new(12);
        const string Good = "ncols 3\nnrows 2\nxllcorner 10\nyllcorner 50\ncellsize 0.5\nNODATA_value -1\n1.5 2 -1\n4e1 5 6\n";
        for (int trial = 0; trial < 1500; trial++)
        {
            char[] text = Good.ToCharArray();
            for (int changes = random.Next(1, 5); changes > 0; changes--)
                text[random.Next(text.Length)] = "0123456789-+.e \nax\0é"[random.Next(20)];

            try
            {
                using Grid grid = GridFile.Open(folder.Write("a.asc", new string(text)), Wgs84);
                grid.ReadCell(0, 0);
            }
            catch (GridException)
            {
                // A sentence is a good answer; any other exception fails the test.
            }
        }
    }

    [Fact]
    public void A_decimal_comma_is_named_by_row_and_column()
    {
        using TestFolder folder = new();
        using Grid grid = GridFile.Open(
            folder.Write("a.asc", "ncols 2\nnrows 2\nxllcorner 0\nyllcorner 0\ncellsize 1\n1 2\n3 4,5\n"), Wgs84);
        GridException e = Assert.Throws<GridException>(() => grid.ReadCell(0, 0));
        Assert.Contains("data row 2, column 2: found \"4,5\"", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_declared_reference_system_it_is_refused()
    {
        using TestFolder folder = new();
        string path = folder.Write("a.asc", "ncols 1\nnrows 1\nxllcorner 0\nyllcorner 0\ncellsize 1\n1\n");
        Assert.Contains("declare crs", Assert.Throws<GridException>(() => GridFile.Open(path)).Message, StringComparison.Ordinal);
    }
}
