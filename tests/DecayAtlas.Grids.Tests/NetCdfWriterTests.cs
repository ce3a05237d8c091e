using System.Text.Json.Nodes;

namespace DecayAtlas.Grids.Tests;

/// <summary>NetCDF-4 files as others read them: ncdump, R terra and ncdf4, xarray, GDAL. Each test skips where its reader is not
/// installed.</summary>
public sealed class NetCdfWriterTests
{
    private const int Columns = 700;
    private const int Rows = 300;

    private static readonly NetCdfVariable[] Variables =
    [
        new("k", "d-1", "decay rate k", Attributes: new Dictionary<string, string> { ["ancillary_variables"] = "applicable" }),
        new("applicable", "1", "inside the area of applicability", IsFlag: true),
    ];

    private static readonly Dictionary<string, string> Attributes = new()
    {
        ["title"] = "A tést",
        ["source"] = "invented",
        ["history"] = "written by a test"
    };

    private static float Value(int column, int row) => (column / 30 + row / 20) % 4 == 3 ? float.NaN : column * 0.5f - row;

    private static float Flag(int column, int row) => float.IsNaN(Value(column, row)) ? float.NaN : (column + row) % 2;

    private static string Write(TestFolder folder, Projection projection, GridLattice lattice, string name = "w.nc")
    {
        using NetCdfWriter writer = new(folder.File(name), projection, lattice, Variables, Attributes);
        float[] values = new float[256 * 256], flags = new float[256 * 256];
        for (int tileRow = 0; tileRow * 256 < lattice.Rows; tileRow++)
        {
            for (int tileColumn = 0; tileColumn * 256 < lattice.Columns; tileColumn++)
            {
                for (int i = 0; i < values.Length; i++)
                {
                    (int column, int row) = (tileColumn * 256 + i % 256, tileRow * 256 + i / 256);
                    (values[i], flags[i]) = (Value(column, row), Flag(column, row));
                }

                writer.WriteTiles(tileColumn, tileRow, [values, flags]);
            }
        }

        return folder.File(name);
    }

    private static readonly GridLattice Degrees = new(Columns, Rows, -20, 60, 0.1, 0.1);

    [Fact]
    public void Our_own_reader_gets_back_what_was_written()
    {
        using TestFolder folder = new();
        string path = Write(folder, Projection.Wgs84, Degrees);
        using Grid grid = GridFile.Open(path, new GridReadOptions(Variable: "k")),
            flags = GridFile.Open(path, new GridReadOptions(Variable: "applicable"));
        double[] values = new double[Columns * Rows], yes = new double[Columns * Rows];
        grid.ReadWindow(0, 0, Columns, Rows, values);
        flags.ReadWindow(0, 0, Columns, Rows, yes);
        for (int i = 0; i < values.Length; i++)
        {
            Assert.Equal(Value(i % Columns, i / Columns), values[i]);
            Assert.Equal(Flag(i % Columns, i / Columns), yes[i]);
        }

        Assert.Equal((-20, 60), (grid.Lattice.West, grid.Lattice.North),
            (a, b) => Math.Abs(a.Item1 - b.Item1) + Math.Abs(a.Item2 - b.Item2) < 1e-9);
    }

    [Fact]
    public void The_same_calls_give_the_same_bytes()
    {
        using TestFolder folder = new();
        Assert.Equal(File.ReadAllBytes(Write(folder, Projection.Wgs84, Degrees, "a.nc")),
            File.ReadAllBytes(Write(folder, Projection.Wgs84, Degrees, "b.nc")));
    }

    [Fact]
    public void Ncdump_shows_dimensions_coordinates_units_grid_mapping_and_provenance()
    {
        External.SkipUnlessThere("ncdump", "netcdf-bin");
        using TestFolder folder = new();
        string header = Gdal.Run("ncdump", null, "-hs", Write(folder, Projection.Wgs84, Degrees));
        foreach (string line in (string[])[
            "lat = 300 ;", "lon = 700 ;", "double lat(lat) ;", "double lon(lon) ;", "float k(lat, lon) ;", "byte applicable(lat, lon) ;",
            "int crs ;",
            "lat:standard_name = \"latitude\" ;", "lon:units = \"degrees_east\" ;", "k:units = \"d-1\" ;", "k:grid_mapping = \"crs\" ;",
            "k:_FillValue = NaNf ;",
            "k:ancillary_variables = \"applicable\" ;", "applicable:flag_meanings = \"no yes\" ;", "applicable:flag_values = 0b, 1b ;",
            "crs:grid_mapping_name = \"latitude_longitude\" ;", ":Conventions = \"CF-1.11\" ;", ":title = \"A tést\" ;",
            ":source = \"invented\" ;",
            "k:_DeflateLevel = 1 ;", "k:_ChunkSizes = 256, 256 ;", ":_Format = \"netCDF-4\" ;"])
        {
            Assert.Contains(line, header, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Xarray_reads_values_coordinates_and_flags()
    {
        External.SkipUnlessPython("import xarray, netCDF4");
        using TestFolder folder = new();
        string path = Write(folder, Projection.Wgs84, Degrees);
        JsonNode said = JsonNode.Parse(Gdal.Run("/usr/bin/python3", null, "-c", """
            import json, sys, numpy as np, xarray as xr
            d = xr.open_dataset(sys.argv[1])
            k = d.k.values
            print(json.dumps(dict(dims=list(d.k.dims), lat=float(d.lat[0]), lon=float(d.lon[-1]), sum=float(np.nansum(k.astype('f8'))),
              missing=int(np.isnan(k).sum()), one=float(d.k.sel(lat=59.95, lon=-19.85, method='nearest')), yes=int((d.applicable == 1).sum()), title=d.attrs['title'])))
            """, path))!;
        float[] all = [.. Enumerable.Range(0, Columns * Rows).Select(i => Value(i % Columns, i / Columns))];
        Assert.Equal("[\"lat\",\"lon\"]", said["dims"]!.ToJsonString());
        Assert.Equal(59.95, (double)said["lat"]!, 1e-9);
        Assert.Equal(-20 + 699.5 * 0.1, (double)said["lon"]!, 1e-9);
        Assert.Equal(all.Where(v => !float.IsNaN(v)).Sum(v => (double)v), (double)said["sum"]!, 1e-3);
        Assert.Equal(all.Count(float.IsNaN), (int)said["missing"]!);
        Assert.Equal(Value(1, 0), (float)said["one"]!);
        Assert.Equal(Enumerable.Range(0, Columns * Rows).Count(i => Flag(i % Columns, i / Columns) == 1), (int)said["yes"]!);
        Assert.Equal("A tést", (string)said["title"]!);
    }

    [Theory]
    [InlineData("EPSG:4326", 0.1, -20, 60)]
    [InlineData("EPSG:3035", 1000, 3_000_000, 4_000_000)]
    [InlineData("EPSG:32633", 500, 300_000, 6_200_000)]
    [InlineData("EPSG:6933", 5000, -3_000_000, 4_000_000)]
    [InlineData("EPSG:3978", 2000, -1_000_000, 2_000_000)]
    [InlineData("EPSG:3413", 2000, -700_000, 300_000)]
    [InlineData("ESRI:54009", 2000, -2_000_000, 5_000_000)]
    [InlineData("ESRI:54008", 2000, -2_000_000, 5_000_000)]
    public void GDAL_and_our_reader_find_every_place_where_it_was_written(string crs, double cell, double west, double north)
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        Projection projection = Projection.FromText(crs);
        string path = Write(folder, projection, new GridLattice(Columns, Rows, west, north, cell, cell));
        using Grid grid = GridFile.Open(path, new GridReadOptions(Variable: "k"));
        (int Column, int Row)[] cells = [(5, 5), (300, 200), (690, 290)];
        GeoPoint[] points = [.. cells.Select(c =>
        {
            Assert.True(projection.TryUnproject(west + (c.Column + 0.5) * cell, north - (c.Row + 0.5) * cell, out GeoPoint point));
            Assert.True(grid.TryLocate(point, out double column, out double row));
            Assert.Equal((c.Column, c.Row), ((int)column, (int)row));
            return point;
        })];
        Assert.Equal(cells.Select(c => (double?)Value(c.Column, c.Row)), Gdal.ValuesAt($"NETCDF:{path}:k", points, 1));
    }

    [Fact]
    public void R_terra_reads_extent_system_and_values()
    {
        External.SkipUnlessR("terra");
        using TestFolder folder = new();
        string path = Write(folder, Projection.FromText("EPSG:3035"), new GridLattice(Columns, Rows, 3_000_000, 4_000_000, 1000, 1000));
        string[] said = Gdal.Run("Rscript", null, "-e", $"""
            suppressMessages(library(terra)); r <- rast("{path}", subds = "k")
            cat(as.vector(ext(r)), r[1, 2][1, 1], r[300, 700][1, 1], units(r), is.lonlat(r), crs(r, describe = TRUE)$name, sep = "\n")
            """).Split('\n');
        Assert.Equal(["3e+06", "3700000", "3700000", "4e+06"], said[..4]);
        Assert.Equal([Value(1, 0), Value(699, 299)], said[4..6]
            .Select(v => float.Parse(v, System.Globalization.CultureInfo.InvariantCulture)));
        Assert.Equal(["d-1", "FALSE"], said[6..8]);
    }

    [Fact]
    public void A_map_of_many_chunks_and_one_of_less_than_a_chunk_are_read()
    {
        External.SkipUnlessThere("ncdump", "netcdf-bin");
        using TestFolder folder = new();
        // 12 x 11 chunks: more than one node of the tree of chunks
        string path = Write(folder, Projection.Wgs84, new GridLattice(3000, 2600, 0, 50, 0.01, 0.01), "many.nc");
        using (Grid grid = GridFile.Open(path, new GridReadOptions(Variable: "k")))
            Assert.Equal(Value(2990, 2590), grid.ReadCell(2990, 2590));

        string sum =
            Gdal.Run("gdal_translate", null, "-q", "-of", "XYZ", "-srcwin", "2989", "2590", "1", "1", $"NETCDF:{path}:k", "/vsistdout/");
        Assert.EndsWith(" " + Value(2989, 2590).ToString(System.Globalization.CultureInfo.InvariantCulture), sum.Trim(),
            StringComparison.Ordinal);
        string small = Gdal.Run("ncdump", null, "-v", "k", Write(folder, Projection.Wgs84, new GridLattice(3, 2, 0, 50, 1, 1), "small.nc"));
        Assert.Contains("0, 0.5, 1,\n  -1, -0.5, 0 ;", small, StringComparison.Ordinal);
    }

    [Fact]
    public void A_variable_with_no_tile_written_is_all_missing()
    {
        External.SkipUnlessThere("ncdump", "netcdf-bin");
        using TestFolder folder = new();
        new NetCdfWriter(folder.File("e.nc"), Projection.Wgs84, new GridLattice(3, 2, 0, 50, 1, 1), Variables, Attributes).Dispose();
        Assert.Contains("_, _, _,\n  _, _, _ ;", Gdal.Run("ncdump", null, "-v", "k", folder.File("e.nc")), StringComparison.Ordinal);
    }
}
