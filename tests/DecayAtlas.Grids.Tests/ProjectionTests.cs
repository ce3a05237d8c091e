namespace DecayAtlas.Grids.Tests;

public sealed class ProjectionTests
{
    private static readonly Ellipsoid Clarke1866 = new(6_378_206.4, 294.978698213898);
    private static readonly Ellipsoid International = new(6_378_388, 297);

    /// <summary>
    /// Snyder 1987, USGS Professional Paper 1395, Appendix A, numerical examples on ellipsoids, to the decimal printed there
    /// (from memory; the Albers example and, with PROJ 9.1.1, all the others recomputed).
    /// </summary>
    [Fact]
    public void Snyders_numerical_examples_come_out()
    {
        Example(ProjectionMethod.Albers, Clarke1866, new(-75, 35), 1_885_472.7, 1_535_925.0, lon0: -96, lat0: 23, first: 29.5,
            second: 45.5);
        Example(ProjectionMethod.LambertConformal, Clarke1866, new(-75, 35), 1_894_410.9, 1_564_649.5, lon0: -96, lat0: 23, first: 33,
            second: 45);
        Example(ProjectionMethod.TransverseMercator, Clarke1866, new(-73.5, 40.5), 127_106.5, 4_484_124.4, lon0: -75, scale: 0.9996);
        Example(ProjectionMethod.Mercator, Clarke1866, new(-75, 35), 11_688_673.7, 4_139_145.6, lon0: -180);
        Example(ProjectionMethod.CylindricalEqualArea, Clarke1866, new(-78, 5), -332_699.8, 554_248.5, lon0: -75, first: 5);
        Example(ProjectionMethod.LambertAzimuthal, Clarke1866, new(-110, 30), -965_932.1, -1_056_814.9, lon0: -100, lat0: 40);
        Example(ProjectionMethod.PolarStereographic, International, new(150, -75), -1_540_033.6, -560_526.4, lon0: -100, lat0: -90,
            first: -71);
        Example(ProjectionMethod.Sinusoidal, Clarke1866, new(-75, -50), 1_075_471.5, -5_540_628.0, lon0: -90);
    }

    /// <summary>Snyder 1987, Appendix A: Mollweide on a sphere of radius 1 (from memory, recomputed with PROJ 9.1.1).</summary>
    [Fact]
    public void Snyders_Mollweide_example_comes_out()
    {
        new Mollweide(1).Forward(double.DegreesToRadians(15), double.DegreesToRadians(-50), out double x, out double y);
        Assert.Equal(0.1788845, x, 5e-8);
        Assert.Equal(-0.9208758, y, 5e-8);
    }

    /// <summary>Interrupted Goode homolosine on WGS 84: values of PROJ 9.1.1, printed to the millimetre (the second northing is
    /// -1113194.9079 in full).</summary>
    [Theory]
    [InlineData(10, 50, 1818318.351, 5536683.825)]
    [InlineData(-60, -10, -6679169.448, -1113194.909)]
    [InlineData(140, -25, 15584728.711, -2782987.270)]
    [InlineData(-100, 60, -11131949.079, 6539970.862)]
    [InlineData(25, 5, 2785105.291, 556597.454)]
    public void Goodes_lobes_are_those_of_PROJ(double longitude, double latitude, double x, double y) =>
        IsAt("ESRI:54052", longitude, latitude, x, y, 1.1e-3);

    /// <summary>Values of PROJ 9.1.1 through gdaltransform (GDAL 3.6.2), on the ellipsoid of each system without a change of
    /// datum.</summary>
    [Theory]
    [InlineData("EPSG:32633", 15.5, 52.25, 534133.623677, 5788962.280758)]
    [InlineData("EPSG:32633", 9.1, -33.3, -49668.674204, -3700116.930465)]
    [InlineData("EPSG:32719", -70.2, -45.5, 406247.948358, 4960803.197209)]
    [InlineData("EPSG:5070", -104.99, 39.74, -762375.214768, 1893930.439596)]
    [InlineData("EPSG:3577", 149.1, -35.3, 1547574.619744, -3959208.329194)]
    [InlineData("EPSG:3034", 24.9, 60.2, 4804122.850989, 3767723.045655)]
    [InlineData("EPSG:3035", -8.6, 41.1, 2769546.068816, 2192226.036727)]
    [InlineData("EPSG:6931", 130.5, 62.0, 2352740.850137, 2009430.518003)]
    [InlineData("EPSG:6932", -60.3, -70.5, -1882076.580997, 1073517.528674)]
    [InlineData("EPSG:3395", 77.2, 28.6, 8593864.689241, 3304383.351849)]
    [InlineData("EPSG:3857", 77.2, 28.6, 8593864.689241, 3324832.840843)]
    [InlineData("EPSG:6933", -123.1, 49.25, -11877461.098885, 5551585.836894)]
    [InlineData("EPSG:3031", 166.7, -77.85, 304792.096544, -1289361.303218)]
    [InlineData("EPSG:3413", -51.1, 67.0, -268229.863863, -2509890.013012)]
    [InlineData("ESRI:54008", 151.2, -33.9, 13984926.883182, -3752569.293842)]
    [InlineData("ESRI:54009", 151.2, -33.9, 13500482.594399, -4096821.006803)]
    [InlineData("ESRI:53008", 36.8, -1.3, 4090920.064740, -144553.404638)]
    public void Each_kind_of_map_agrees_with_PROJ_to_a_tenth_of_a_millimetre(string code, double longitude, double latitude, double x,
        double y) =>
        IsAt(code, longitude, latitude, x, y, 1e-4);

    [Fact]
    public void A_point_comes_back_from_every_map_within_a_tenth_of_a_millimetre()
    {
        Random random = new(3);
        int[] zones = [32601, 32660, 32731, 26910, 25833];
        foreach (string code in CrsRegister.Codes.Concat(zones.Select(z => $"EPSG:{z}")))
        {
            Projection projection = Projection.FromText(code);
            int returned = 0;
            for (int i = 0; i < 2000; i++)
            {
                GeoPoint point = new(random.NextDouble() * 360 - 180, random.NextDouble() * 178 - 89);
                if (projection.TryProject(point, out double x, out double y) && Math.Abs(x) < 3e7 && Math.Abs(y) < 3e7
                    && projection.TryUnproject(x, y, out GeoPoint back))
                {
                    returned++;
                    double turned = Math.IEEERemainder(back.LongitudeDegrees - point.LongitudeDegrees, 360);
                    GeoPoint shifted = new(point.LongitudeDegrees + turned, back.LatitudeDegrees);
                    Assert.True(point.GroundDistanceMetres(shifted) < 1e-4, $"{code}: {point} came back as {back}");
                }
            }

            Assert.InRange(returned, 300, 2000);
        }
    }

    [Fact]
    public void Places_off_a_map_and_coordinates_without_ground_are_told()
    {
        Assert.False(Projection.FromText("EPSG:3857").TryProject(new GeoPoint(0, 90), out _, out _));
        Assert.False(Projection.FromText("EPSG:3031").TryProject(new GeoPoint(0, 90), out _, out _));
        Assert.False(Projection.FromText("EPSG:32633").TryProject(new GeoPoint(90, 10), out _, out _));
        Assert.False(Projection.FromText("EPSG:6933").TryProject(new GeoPoint(double.NaN, 10), out _, out _));
        Assert.False(Projection.FromText("EPSG:6933").TryProject(new GeoPoint(10, 90.5), out _, out _));
        Assert.False(Projection.FromText("ESRI:54009").TryUnproject(1.7e7, 6e6, out _));
        Assert.False(Projection.FromText("ESRI:54052").TryUnproject(-4_000_000, 8_000_000, out _)); // between two lobes
        Assert.False(Projection.FromText("EPSG:6933").TryUnproject(0, 8e6, out _));
    }

    [Theory]
    [InlineData("EPSG:27700")] // OSGB36 lies a hundred metres from WGS 84
    [InlineData("EPSG:4267")] // NAD27
    [InlineData("EPSG:99999")]
    [InlineData("nonsense")]
    [InlineData("")]
    [InlineData(
        "GEOGCS[\"NAD27\",DATUM[\"North_American_Datum_1927\",SPHEROID[\"Clarke "
        + "1866\",6378206.4,294.9786982138982]],PRIMEM[\"Greenwich\",0],UNIT[\"degree\",0.0174532925199433]]")]
    [InlineData(
        "GEOGCS[\"x\",DATUM[\"WGS_1984\",SPHEROID[\"WGS "
        + "84\",6378137,298.257223563]],PRIMEM[\"Paris\",2.33722917],UNIT[\"degree\",0.0174532925199433]]")]
    [InlineData(
        "GEOGCS[\"x\",DATUM[\"WGS_1984\",SPHEROID[\"WGS "
        + "84\",6378137,298.257223563]],PRIMEM[\"Greenwich\",0],UNIT[\"grad\",0.015707963267949]]")]
    [InlineData(
        "PROJCS[\"x\",GEOGCS[\"x\",DATUM[\"WGS_1984\",SPHEROID[\"WGS "
        + "84\",6378137,298.257223563]],UNIT[\"degree\",0.0174532925199433]],PROJECTION[\"Krovak\"],UNIT[\"metre\",1]]")]
    [InlineData(
        "PROJCS[\"x\",GEOGCS[\"x\",DATUM[\"WGS_1984\",SPHEROID[\"WGS "
        + "84\",6378137,298.257223563]],UNIT[\"degree\",0.0174532925199433]],PROJECTION[\"Albers\"],UNIT[\"metre\",1]]")]
    [InlineData("PROJCS[\"x\",GEOGCS[")]
    [InlineData("VERT_CS[\"x\"]")]
    public void What_is_not_known_is_refused_and_not_guessed(string crs) => Assert.Throws<GridException>(() => Projection.FromText(crs));

    [Fact]
    public void A_datum_beside_WGS_84_is_taken_with_its_caveat()
    {
        Assert.Contains("NAD83", Projection.FromText("EPSG:5070").Caveat, StringComparison.Ordinal);
        Assert.Contains("metre or two", Projection.FromText("EPSG:3035").Caveat, StringComparison.Ordinal);
        Assert.Null(Projection.FromText("EPSG:32633").Caveat);
    }

    private static void IsAt(string code, double longitude, double latitude, double x, double y, double within)
    {
        Assert.True(Projection.FromText(code).TryProject(new GeoPoint(longitude, latitude), out double gotX, out double gotY));
        Assert.Equal(x, gotX, within);
        Assert.Equal(y, gotY, within);
    }

    private static void Example(
        ProjectionMethod method, Ellipsoid ellipsoid, GeoPoint point, double x, double y,
        double lon0 = 0, double lat0 = 0, double first = 0, double second = 0, double scale = 1)
    {
        Projection projection = new(new CrsDefinition("example", method, new Datum(ellipsoid, null))
        {
            LongitudeOfOrigin = lon0,
            LatitudeOfOrigin = lat0,
            Parallel1 = first,
            Parallel2 = second,
            Scale = scale,
        });
        Assert.True(projection.TryProject(point, out double gotX, out double gotY));
        Assert.True(Math.Abs(x - gotX) < 0.07 && Math.Abs(y - gotY) < 0.07, $"{method}: {gotX} {gotY}");
    }
}
