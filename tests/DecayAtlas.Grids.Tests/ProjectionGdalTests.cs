namespace DecayAtlas.Grids.Tests;

/// <summary>
/// 1,000 random points of every projection against gdaltransform, under a millimetre. The peer's own system is given as
/// PROJ parameters on the same ellipsoid, so that only the map is compared and no change of datum.
/// </summary>
public sealed class ProjectionGdalTests
{
    /// <summary>Reference system, the peer's words for it, and the window of the points: west, south, east, north.</summary>
    public static TheoryData<string, string, double, double, double, double> Systems => new()
    {
        { "EPSG:32633", "EPSG:32633", 3, -80, 27, 84 },
        { "EPSG:32719", "EPSG:32719", -75, -80, -63, 10 },
        { "EPSG:25832", "EPSG:25832", 0, 35, 18, 75 },
        { "EPSG:26917", "EPSG:26917", -90, 10, -72, 80 },
        { "EPSG:5070", "EPSG:5070", -130, 15, -60, 60 },
        { "EPSG:3577", "EPSG:3577", 105, -50, 160, 5 },
        { "EPSG:3338", "EPSG:3338", 170, 45, 230, 75 },
        { "ESRI:102022", "ESRI:102022", -20, -40, 55, 40 },
        { "EPSG:3310", "EPSG:3310", -126, 30, -112, 44 },
        { "EPSG:3034", "EPSG:3034", -20, 25, 45, 75 },
        { "EPSG:3347", "EPSG:3347", -140, 40, -50, 80 },
        { "EPSG:2154", "EPSG:2154", -8, 40, 12, 52 },
        { "EPSG:3035", "EPSG:3035", -30, 25, 60, 80 },
        { "EPSG:6931", "EPSG:6931", -180, 0, 180, 90 },
        { "EPSG:6932", "EPSG:6932", -180, -90, 180, 0 },
        { "EPSG:3574", "EPSG:3574", -180, 30, 180, 89.9 },
        { "EPSG:3395", "EPSG:3395", -180, -85, 180, 85 },
        { "EPSG:3857", "EPSG:3857", -180, -85, 180, 85 },
        { "EPSG:6933", "EPSG:6933", -180, -89.9, 180, 89.9 },
        { "EPSG:3031", "EPSG:3031", -180, -90, 180, -40 },
        { "EPSG:3413", "EPSG:3413", -180, 40, 180, 90 },
        { "EPSG:32661", "EPSG:32661", -180, 60, 180, 89.9 },
        { "ESRI:54008", "ESRI:54008", -180, -90, 180, 90 },
        { "ESRI:53008", "ESRI:53008", -180, -90, 180, 90 },
        { "ESRI:54009", "ESRI:54009", -180, -89, 180, 89 },
        { "ESRI:54052", "ESRI:54052", -180, -89, 180, 89 },
    };

    [Theory]
    [MemberData(nameof(Systems))]
    public void A_thousand_points_are_where_PROJ_puts_them_and_come_back(
        string code, string peer, double west, double south, double east, double north)
    {
        Gdal.SkipUnlessInstalled();
        Projection projection = Projection.FromText(code);
        Random random = new(1987);
        GeoPoint[] points = [.. Enumerable.Range(0, 1000).Select(_ => new GeoPoint(
            west + random.NextDouble() * (east - west), south + random.NextDouble() * (north - south)))];
        (double X, double Y)[] expected = Gdal.Transform(peer, points);
        double worst = 0;
        for (int i = 0; i < points.Length; i++)
        {
            Assert.True(projection.TryProject(points[i], out double x, out double y), $"{points[i]} should be on the map");
            worst = Math.Max(worst, Math.Max(Math.Abs(x - expected[i].X), Math.Abs(y - expected[i].Y)));
        }

        Assert.InRange(worst, 0, 1e-3);
    }

    /// <summary>Definitions that name no code: what GDAL writes of its own must mean the same here, in well-known text of both
    /// versions.</summary>
    [Theory]
    [InlineData("wkt1")]
    [InlineData("wkt_esri")]
    [InlineData("wkt2_2019")]
    public void Well_known_text_of_every_kind_says_what_the_register_says(string version)
    {
        Gdal.SkipUnlessInstalled();
        int compared = 0;
        string[] codes =
        [
            "EPSG:4269", "EPSG:32733", "EPSG:3857", "EPSG:3395", "ESRI:54034", "EPSG:6932", "EPSG:3035", "EPSG:6350", "EPSG:3310",
            "EPSG:2154",
            "EPSG:3347", "EPSG:3979", "EPSG:3413", "EPSG:5042", "ESRI:54008", "ESRI:53009", "ESRI:54052",
        ];
        foreach (string code in codes)
        {
            string wkt = Gdal.Run("gdalsrsinfo", null, "-o", version, "--single-line", code);
            if (string.IsNullOrWhiteSpace(wkt))
                continue; // version 1 has no words for some

            CrsDefinition read = Projection.FromWkt(wkt).Definition;
            CrsDefinition known = Projection.FromText(code).Definition;
            Assert.True(read.IsSameAs(known), $"{code}: {read} and {known}");
            compared++;
        }

        Assert.InRange(compared, 15, 17);
    }

    /// <summary>Outside source: GDAL, which says under which code of the EPSG register it knows our text (and how sure it is, where names
    /// differ).</summary>
    [Theory]
    [InlineData("EPSG:6933")]
    [InlineData("EPSG:32725")]
    [InlineData("EPSG:3035")]
    [InlineData("EPSG:3413")]
    public void Text_of_a_known_code_is_recognised_as_that_code(string code)
    {
        Gdal.SkipUnlessInstalled();
        Assert.Equal(code, Gdal.Run("gdalsrsinfo", null, "-o", "epsg", Projection.FromText(code).Wkt).Trim().Split('\n')[^1]);
        Assert.True(Projection.FromWkt(Projection.FromText(code).Wkt).Definition.IsSameAs(Projection.FromText(code).Definition));
    }
}
