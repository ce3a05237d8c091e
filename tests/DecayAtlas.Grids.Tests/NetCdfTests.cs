namespace DecayAtlas.Grids.Tests;

public sealed class NetCdfTests
{
    private const int Columns = 12, Rows = 7, Depths = 3, Times = 4;

    private static readonly double[] Stored =
        [.. Enumerable.Range(0, Times * Depths * Rows * Columns).Select(i => i % 11 == 0 ? -99 : i * 37 % 4000 - 2000.0)];

    /// <summary>A packed variable with depth and time, longitudes 0 to 360, rows from south to north, in each version of the
    /// format.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(5)]
    public void A_step_is_found_by_depth_and_month_and_unpacked(int version)
    {
        using TestFolder folder = new();
        string path = Soil(folder, version);
        using Grid grid = GridFile.Open(path, Select("soil", ("time", "2001-02-30"), ("depth", "0.15")));
        Assert.Equal(new GridLattice(Columns, Rows, 0, 35, 30, 10), grid.LatticeInDegrees);
        for (int row = 0; row < Rows; row++)
        {
            for (int column = 0; column < Columns; column++)
            {
                double stored = Stored[((1 * Depths + 1) * Rows + (Rows - 1 - row)) * Columns + column];
                Assert.Equal(stored == -99 ? double.NaN : stored * 0.5 + 10, grid.ReadCell(column, row), 1e-12);
            }
        }

        // -15 degrees is 345: the last but one column.
        GridSample west = GridSampler.Sample(grid, [new GeoPoint(-45, 20)], SamplingRule.Nearest, null)[0];
        Assert.Equal(grid.ReadCell(10, 1), west.Value);
        using Grid byNumber = GridFile.Open(path, Select("soil", ("time", "#2"), ("depth", "#2")));
        using Grid byMonth = GridFile.Open(path, Select("soil", ("time", "month 2"), ("depth", "0.150")));
        Assert.Equal(grid.ReadCell(3, 3), byNumber.ReadCell(3, 3));
        Assert.Equal(grid.ReadCell(3, 3), byMonth.ReadCell(3, 3));
    }

    [Fact]
    public void The_same_file_gives_what_GDAL_reads()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        foreach (int version in (int[])[1, 2])
        {
            string path = Soil(folder, version);
            Random random = new(1);
            GeoPoint[] points = [.. Enumerable.Range(0, 100)
                .Select(_ => new GeoPoint(random.NextDouble() * 178, random.NextDouble() * 70 - 35))];
            // Bands run over depth within time: band 5 is the second time and the second depth; GDAL prints stored numbers.
            double?[] stored = Gdal.ValuesAt($"NETCDF:{path}:soil", points, 5, "-geoloc");
            using Grid grid = GridFile.Open(path, Select("soil", ("time", "#2"), ("depth", "#2")));
            IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, points, SamplingRule.Nearest, null);
            Assert.Equal(stored.Select(s => s == -99 ? null : s * 0.5 + 10), samples.Select(s => s.Value));
        }
    }

    [Fact]
    public void What_is_left_open_is_asked_for_and_what_is_not_there_is_told()
    {
        using TestFolder folder = new();
        string path = Soil(folder, 1);
        Assert.Contains("select one of 0.05, 0.15, 0.3", Refusal(path, Select("soil", ("time", "#1"))), StringComparison.Ordinal);
        Assert.Contains("2001-01-30, 2001-02-30", Refusal(path, Select("soil", ("depth", "#1"))), StringComparison.Ordinal);
        Assert.Contains("0 steps of depth are at 0.4", Refusal(path, Select("soil", ("time", "#1"), ("depth", "0.4"))),
            StringComparison.Ordinal);
        Assert.Contains("4 steps of time are at 2001", Refusal(path, Select("soil", ("time", "2001"), ("depth", "#1"))),
            StringComparison.Ordinal);
        Assert.Contains("no dimension level", Refusal(path, Select("soil", ("level", "#1"))), StringComparison.Ordinal);
        Assert.Contains("no variable sol", Refusal(path, Select("sol")), StringComparison.Ordinal);
        Assert.Contains("pr, tas", Refusal(TestFolder.Data("bcsd_obs_1999.nc"), new GridReadOptions()), StringComparison.Ordinal);
        Assert.Contains("write select", Refusal(path, new GridReadOptions(Band: 2)), StringComparison.Ordinal);
        Assert.Contains("is no NetCDF file", Refusal(TestFolder.Data("landcover_albers.tif"), Select("soil")), StringComparison.Ordinal);
        Assert.Contains("contradict", Refusal(path, Select("soil") with { Crs = "EPSG:3035" })
            .Replace("declares", "contradict", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("_Unsigned", "true", 200)]
    [InlineData("valid_range", null, double.NaN)]
    [InlineData(null, null, -56)]
    public void A_byte_may_be_declared_unsigned_and_numbers_outside_the_valid_range_are_missing(string? attribute, string? value,
        double expected)
    {
        using TestFolder folder = new();
        (string, object)[] attributes = attribute is null ? []
            : [(attribute, value is null ? (typeof(sbyte), new[] { -50.0, 50 }) : value)];
        string path = Flat(1, typeof(sbyte), Repeat(-56), attributes).Save(folder.File("byte.nc"));
        using Grid grid = GridFile.Open(path);
        Assert.Equal(expected, grid.ReadCell(0, 0));
    }

    [Theory]
    [InlineData(typeof(byte), 200)]
    [InlineData(typeof(ushort), 60000)]
    [InlineData(typeof(uint), 4e9)]
    [InlineData(typeof(long), -5e12)]
    [InlineData(typeof(ulong), 5e12)]
    public void The_types_of_64_bit_data_files_are_read(Type type, double value)
    {
        using TestFolder folder = new();
        using Grid grid = GridFile.Open(Flat(5, type, Repeat(value)).Save(folder.File("wide.nc")));
        Assert.Equal(value, grid.ReadCell(11, 6));
    }

    [Fact]
    public void Bounds_say_where_the_edges_are_and_rows_may_come_after_columns()
    {
        using TestFolder folder = new();
        // The coordinates are the west and north edges; only the bounds say so.
        string path = new ClassicWriter(2).Dimension("lon", 3).Dimension("lat", 2).Dimension("two", 2)
            .Variable("lon", "lon", typeof(double), [10, 12, 14], ("units", "degrees_east"), ("bounds", "lon_b"))
            .Variable("lat", "lat", typeof(float), [50, 49], ("units", "degrees_north"), ("bounds", "lat_b"))
            .Variable("lon_b", "lon two", typeof(double), [10, 12, 12, 14, 14, 16])
            .Variable("lat_b", "lat two", typeof(double), [50, 49, 49, 48])
            .Variable("x", "lon lat", typeof(int), [1, 4, 2, 5, 3, 6]).Save(folder.File("edges.nc"));
        using Grid grid = GridFile.Open(path);
        Assert.Equal(new GridLattice(3, 2, 10, 50, 2, 1), grid.LatticeInDegrees);
        double[] values = new double[6];
        grid.ReadWindow(0, 0, 3, 2, values);
        Assert.Equal([1, 2, 3, 4, 5, 6], values);
    }

    [Fact]
    public void Cells_of_unequal_width_and_coordinates_without_a_system_are_refused()
    {
        using TestFolder folder = new();
        string gaussian = new ClassicWriter(1).Dimension("lon", 3).Dimension("lat", 3)
            .Variable("lon", "lon", typeof(double), [10, 12, 14], ("units", "degrees_east"))
            .Variable("lat", "lat", typeof(double), [50, 47, 45], ("units", "degrees_north"))
            .Variable("x", "lat lon", typeof(int), Repeat(1)[..9]).Save(folder.File("gauss.nc"));
        Assert.Contains("not equally wide", Refusal(gaussian, new GridReadOptions()), StringComparison.Ordinal);
        string metres = new ClassicWriter(1).Dimension("x", 3).Dimension("y", 3)
            .Variable("x", "x", typeof(double), [0, 1000, 2000], ("units", "m"), ("standard_name", "projection_x_coordinate"))
            .Variable("y", "y", typeof(double), [0, 1000, 2000], ("units", "m"), ("standard_name", "projection_y_coordinate"))
            .Variable("v", "y x", typeof(int), Repeat(1)[..9]).Save(folder.File("metres.nc"));
        Assert.Contains("names no coordinate reference system", Refusal(metres, new GridReadOptions()), StringComparison.Ordinal);
        using Grid declared = GridFile.Open(metres, new GridReadOptions(Crs: "EPSG:3035"));
        Assert.Equal(new GridLattice(3, 3, -500, 2500, 1000, 1000), declared.Lattice);
    }

    /// <summary>CF conventions 1.11, section 4.4; day counts: 36524 days from 1900 to 2000; Julian day 1721424 is 1 January 1 (Julian),
    /// 2451545 is 1 January 2000.</summary>
    [Theory]
    [InlineData("days since 2000-01-01", "standard", 59, "2000-02-29")]
    [InlineData("days since 2000-01-01", "noleap", 59, "2000-03-01")]
    [InlineData("days since 2001-01-01", "all_leap", 59, "2001-02-29")]
    [InlineData("days since 2000-01-01 00:00:00", "360_day", 59, "2000-02-30")]
    [InlineData("days since 2000-01-01", "365_day", 364.5, "2000-12-31")]
    [InlineData("days since 2000-01-01", "noleap", -1, "1999-12-31")]
    [InlineData("hours since 1900-01-01 00:00:00.0", "gregorian", 876576, "2000-01-01")]
    [InlineData("hours since 1900-01-01 00:00:00.0", null, 876575.9, "1999-12-31")]
    [InlineData("days since 0001-01-01", "standard", 730121, "2000-01-01")]
    [InlineData("days since 0001-01-01", "proleptic_gregorian", 730119, "2000-01-01")]
    [InlineData("seconds since 1970-01-01T00:00:00Z", "standard", 951782400, "2000-02-29")]
    [InlineData("months since 1999-11-01", "standard", 3, "2000-02-01")]
    [InlineData("days since 1582-10-04", "standard", 1, "1582-10-15")]
    [InlineData("days since 1950-01-01 00:00:00", "standard", 18108, "1999-07-31")]
    public void A_number_of_a_time_coordinate_is_a_day_of_its_calendar(string units, string? calendar, double value, string day) =>
        Assert.Equal(day, CfTime.Read("x.nc", units, calendar).DayOf(value).ToString());

    [Theory]
    [InlineData("days since yesterday", "standard")]
    [InlineData("fortnights since 2000-01-01", "standard")]
    [InlineData("days since 2000-01-01", "mayan")]
    [InlineData("days since 2000-13-01", "standard")]
    public void A_time_that_is_not_known_is_refused(string units, string calendar) =>
        Assert.Throws<GridException>(() => CfTime.Read("x.nc", units, calendar));

    /// <summary>Files as GDAL writes them, classic and NetCDF-4, in maps of every kind that CF names.</summary>
    [Theory]
    [InlineData("NC", "EPSG:4326")]
    [InlineData("NC2", "EPSG:3035")]
    [InlineData("NC4", "EPSG:3035")]
    [InlineData("NC4C", "EPSG:3995")]
    [InlineData("NC4", "EPSG:32630")]
    [InlineData("NC", "+proj=aea +lat_0=50 +lon_0=-5 +lat_1=45 +lat_2=58 +datum=WGS84")]
    [InlineData("NC", "+proj=lcc +lat_0=50 +lon_0=-5 +lat_1=45 +lat_2=58 +datum=WGS84")]
    [InlineData("NC4", "+proj=cea +lat_ts=30 +datum=WGS84")]
    [InlineData("NC", "+proj=merc +lon_0=3 +datum=WGS84")]
    [InlineData("NC4", "+proj=sinu +R=6371007.181")]
    public void Files_of_GDAL_give_what_GDAL_reads(string format, string crs)
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        string warped = folder.File("warped.tif");
        Gdal.Run("gdalwarp", null, "-q", "-t_srs", crs, "-ts", "90", "80", GdalSource.Write(folder, GdalSource.Content("Float32")), warped);
        string path = folder.File("made.nc");
        string[] chunks = format.StartsWith("NC4", StringComparison.Ordinal) ? ["-co", "COMPRESS=DEFLATE", "-co", "CHUNKING=YES"] : [];
        Gdal.Translate(warped, path, ["-of", "netCDF", "-b", "1", "-ot", "Float32", "-co", $"FORMAT={format}", .. chunks]);
        GeoPoint[] points = GdalSource.RandomPoints(200);
        double?[] expected = Gdal.ValuesAt(warped, points, 1);
        foreach (bool text in (bool[])[true, false])
        {
            if (!text && format.StartsWith("NC4", StringComparison.Ordinal))
                continue;

            if (!text)
            {
                // The same file without its well-known text: the attributes of the conventions must say the same.
                byte[] bytes = File.ReadAllBytes(path);
                foreach (string name in (string[])["spatial_ref", "crs_wkt"])
                {
                    for (int at; (at = bytes.AsSpan().IndexOf(System.Text.Encoding.ASCII.GetBytes(name))) >= 0;)
                        bytes[at] = (byte)'_';
                }

                File.WriteAllBytes(path, bytes);
            }

            using Grid grid = GridFile.Open(path);
            IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, points, SamplingRule.Nearest, null);
            int differ = points.Select((_, i) => expected[i] == samples[i].Value ? 0 : 1).Sum();
            Assert.InRange(differ, 0, crs == "EPSG:3035" ? 2 : 0);
            Assert.InRange(samples.Count(s => s.Value is not null), 130, 200);
        }
    }

    private static string Soil(TestFolder folder, int version) => new ClassicWriter(version)
        .Dimension("time", 0).Dimension("depth", Depths).Dimension("lat", Rows).Dimension("lon", Columns)
        .Variable("time", "time", typeof(double), [29, 59, 89, 119], ("units", "days since 2001-01-01"), ("calendar", "360_day"))
        .Variable("depth", "depth", typeof(float), [0.05, 0.15, 0.3], ("units", "m"))
        .Variable("lat", "lat", typeof(double), [.. Enumerable.Range(0, Rows).Select(i => -30.0 + 10 * i)], ("units", "degrees_north"))
        .Variable("lon", "lon", typeof(double), [.. Enumerable.Range(0, Columns).Select(i => 15.0 + 30 * i)], ("units", "degrees_east"))
        .Variable(
            "soil", "time depth lat lon", typeof(short),
            Stored, ("_FillValue", (short)-99), ("scale_factor", (typeof(double), new[] { 0.5 })),
            ("add_offset", (typeof(float), new[] { 10.0 })))
        .Save(folder.File($"soil{version}.nc"));

    private static ClassicWriter Flat(int version, Type type, double[] values, params (string, object)[] attributes) =>
        new ClassicWriter(version)
        .Dimension("lat", Rows).Dimension("lon", Columns)
        .Variable("lat", "lat", typeof(double), [.. Enumerable.Range(0, Rows).Select(i => -30.0 + 10 * i)], ("units", "degrees_north"))
        .Variable("lon", "lon", typeof(double), [.. Enumerable.Range(0, Columns).Select(i => 15.0 + 30 * i)], ("units", "degrees_east"))
        .Variable("x", "lat lon", type, values, attributes);

    private static double[] Repeat(double value) => [.. Enumerable.Repeat(value, Rows * Columns)];

    private static string Refusal(string path, GridReadOptions options) =>
        Assert.Throws<GridException>(() => GridFile.Open(path, options)).Message;

    private static GridReadOptions Select(string variable, params (string Name, string At)[] steps) =>
        new(Variable: variable, Select: steps.ToDictionary(s => s.Name, s => s.At));
}
