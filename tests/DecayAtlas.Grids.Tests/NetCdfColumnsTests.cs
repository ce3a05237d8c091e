using System.Globalization;

namespace DecayAtlas.Grids.Tests;

/// <summary>Columns in a NetCDF-4 file as ncdump and R ncdf4 read them; both are built on the NetCDF library.</summary>
public sealed class NetCdfColumnsTests
{
    private static readonly string[] Sites = ["a/1", "b/zwölf", ""], OfSite = ["site"], OfBounds = ["site", "nv"];

    private static string Write(TestFolder folder, string name = "c.nc")
    {
        NetCdfColumns.Write(folder.File(name), [("site", 3), ("nv", 2)],
            [
                new("key", OfSite, Sites, [("cf_role", "timeseries_id")]),
                new("x", OfSite, (double[])[1.5, double.NaN, -3e-7], [("units", "m"), ("factor", 0.1)]),
                new("n", OfSite, (int[])[7, -8, int.MaxValue], []),
                new("flag", OfSite, (sbyte[])[-1, 0, 1], [("flag_values", (sbyte[])[-1, 0, 1])]),
                new("bounds", OfBounds, (double[])[1, 2, 3, 4, 5, 6], []),
            ], [("Conventions", "CF-1.11"), ("title", "A tést")]);
        return folder.File(name);
    }

    [Fact]
    public void Ncdump_prints_what_was_written()
    {
        External.SkipUnlessThere("ncdump", "netcdf-bin");
        using TestFolder folder = new();
        string[] said = [.. Gdal.Run("ncdump", null, Write(folder)).Split('\n').Select(line => line.Trim())];
        string[] expected =
        [
            "site = 3 ;", "nv = 2 ;", "key_letters = 8 ;", "char key(site, key_letters) ;", "key:cf_role = \"timeseries_id\" ;",
            "key:_Encoding = \"utf-8\" ;", "double x(site) ;", "x:_FillValue = NaN ;", "x:units = \"m\" ;", "x:factor = 0.1 ;",
            "int n(site) ;", "byte flag(site) ;", "flag:flag_values = -1b, 0b, 1b ;", "double bounds(site, nv) ;",
            ":Conventions = \"CF-1.11\" ;", ":title = \"A tést\" ;", "x = 1.5, _, -3e-07 ;", "n = 7, -8, 2147483647 ;", "flag = -1, 0, 1 ;",
            "\"a/1\",", "\"b/zw\\303\\266lf\",", "\"\" ;", "1, 2,", "5, 6 ;",
        ];
        Assert.All(expected, line => Assert.Contains(line, said));
        Assert.Contains(said, line => line.Contains("netcdf c {", StringComparison.Ordinal));
    }

    [Fact]
    public void R_reads_numbers_and_texts()
    {
        External.SkipUnlessR("ncdf4");
        using TestFolder folder = new();
        string[] said = Gdal.Run("Rscript", null, "--vanilla", "-e", string.Create(CultureInfo.InvariantCulture,
            $"library(ncdf4); f <- nc_open('{Write(folder)}'); cat(ncvar_get(f, 'key'), sep = '|'); cat('\\n');")
            + "cat(is.na(ncvar_get(f, 'x'))); cat('\\n'); cat(dim(ncvar_get(f, 'bounds')), ncvar_get(f, 'bounds')[2, 3])").Split('\n');
        Assert.Equal("a/1|b/zwölf|", said[0]);
        Assert.Equal("FALSE TRUE FALSE", said[1]);
        Assert.Equal("2 3 6", said[2]);
    }

    [Fact]
    public void Same_columns_give_the_same_bytes_and_wrong_lengths_are_refused()
    {
        using TestFolder folder = new();
        Assert.Equal(File.ReadAllBytes(Write(folder)), File.ReadAllBytes(Write(folder, "d.nc")));
        Assert.Throws<ArgumentOutOfRangeException>(() =>
            NetCdfColumns.Write(folder.File("e.nc"), [("site", 2)], [new("x", OfSite, (double[])[1], [])], []));
        Assert.Throws<GridException>(() => NetCdfColumns.Write(folder.File("no/e.nc"), [], [], []));
    }
}
