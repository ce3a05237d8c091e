using System.Globalization;

namespace DecayAtlas.Grids.Projections;

/// <summary>
/// The reference systems known by code: those that soil, climate and land-cover grids are published in. Parameters: EPSG
/// register (and the Esri register for ESRI codes), checked one by one against PROJ in the tests.
/// </summary>
internal static class CrsRegister
{
    private static readonly Dictionary<string, CrsDefinition> ByCode = Table();

    /// <summary>Every code of the table, without the zones of UTM.</summary>
    public static IEnumerable<string> Codes => ByCode.Keys;

    /// <exception cref="GridException">The code is not in the register.</exception>
    public static CrsDefinition Find(string code)
    {
        string[] parts = code.ToUpperInvariant().Split(':', 2, StringSplitOptions.TrimEntries);
        if (parts.Length == 2)
        {
            if (ByCode.TryGetValue($"{parts[0]}:{parts[1]}", out CrsDefinition? known))
                return known;

            if (parts[0] == "EPSG" && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out int number)
                && Utm(number) is { } utm)
            {
                return utm;
            }
        }

        throw new GridException(
            $"The reference system {code} is none of those known here; declare it as well-known text (WKT), "
            + "or warp the grid, for example with gdalwarp -t_srs EPSG:4326.");
    }

    private static CrsDefinition? Utm(int code)
    {
        (int zone, bool north, int datum) = code switch
        {
            >= 32601 and <= 32660 => (code - 32600, true, 6326),
            >= 32701 and <= 32760 => (code - 32700, false, 6326),
            >= 26901 and <= 26923 => (code - 26900, true, 6269),
            >= 25828 and <= 25838 => (code - 25800, true, 6258),
            >= 28348 and <= 28358 => (code - 28300, false, 6283),
            >= 7846 and <= 7859 => (code - 7800, false, 1168),
            >= 31965 and <= 31976 => (code - 31954, true, 6674),
            >= 31977 and <= 31985 => (code - 31960, false, 6674),
            _ => (0, false, 0),
        };
        return zone == 0 ? null : Utm($"EPSG:{code}", zone, north, Datum.OfEpsg(datum, 0)!);
    }

    public static CrsDefinition Utm(string name, int zone, bool north, Datum datum) =>
        new($"UTM zone {zone}{(north ? 'N' : 'S')} ({name})", ProjectionMethod.TransverseMercator, datum)
        {
            Code = name.StartsWith("EPSG:", StringComparison.Ordinal) ? name : null,
            LongitudeOfOrigin = zone * 6 - 183,
            Scale = 0.9996,
            FalseEasting = 500_000,
            FalseNorthing = north ? 0 : 10_000_000,
        };

    private static Dictionary<string, CrsDefinition> Table()
    {
        Datum wgs84 = Datum.Wgs84, nad83 = Datum.OfEpsg(6269, 0)!, etrs89 = Datum.OfEpsg(6258, 0)!;
        Datum sphere = Datum.OfEllipsoid(new Ellipsoid(6_371_000, 0))!;
        Dictionary<string, CrsDefinition> table = new()
        {
            ["OGC:CRS84"] = Degrees("WGS 84", wgs84),
            ["EPSG:3857"] = new CrsDefinition("Web Mercator", ProjectionMethod.WebMercator, wgs84),
            ["EPSG:3395"] = new CrsDefinition("World Mercator", ProjectionMethod.Mercator, wgs84),
            ["EPSG:6933"] = Cylinder("EASE-Grid 2.0 Global", wgs84, 30),
            ["ESRI:54034"] = Cylinder("World Cylindrical Equal Area", wgs84, 0),
            ["EPSG:6931"] = Azimuthal("EASE-Grid 2.0 North", wgs84, 90, 0),
            ["EPSG:6932"] = Azimuthal("EASE-Grid 2.0 South", wgs84, -90, 0),
            ["EPSG:3035"] = Azimuthal("LAEA Europe", etrs89, 52, 10) with { FalseEasting = 4_321_000, FalseNorthing = 3_210_000 },
            ["EPSG:5070"] = Albers("Conus Albers", nad83, 23, -96, 29.5, 45.5),
            ["EPSG:6350"] = Albers("Conus Albers", Datum.OfEpsg(1116, 0)!, 23, -96, 29.5, 45.5),
            ["EPSG:3577"] = Albers("Australian Albers", Datum.OfEpsg(6283, 0)!, 0, 132, -18, -36),
            ["EPSG:3338"] = Albers("Alaska Albers", nad83, 50, -154, 55, 65),
            ["EPSG:3005"] = Albers("BC Albers", nad83, 45, -126, 50, 58.5) with { FalseEasting = 1_000_000 },
            ["EPSG:3310"] = Albers("California Albers", nad83, 0, -120, 34, 40.5) with { FalseNorthing = -4_000_000 },
            ["ESRI:102001"] = Albers("Canada Albers", nad83, 40, -96, 50, 70),
            ["ESRI:102003"] = Albers("USA Contiguous Albers", nad83, 37.5, -96, 29.5, 45.5),
            ["ESRI:102008"] = Albers("North America Albers", nad83, 40, -96, 20, 60),
            ["ESRI:102022"] = Albers("Africa Albers", wgs84, 0, 25, 20, -23),
            ["ESRI:102025"] = Albers("Asia North Albers", wgs84, 30, 95, 15, 65),
            ["ESRI:102028"] = Albers("Asia South Albers", wgs84, -15, 125, 7, -32),
            ["EPSG:3034"] = Conformal("LCC Europe", etrs89, 52, 10, 35, 65, 4_000_000, 2_800_000),
            ["EPSG:3347"] = Conformal("Statistics Canada Lambert", nad83, 63.390675, -(91 + 52 / 60.0), 49, 77, 6_200_000, 3_000_000),
            ["EPSG:3978"] = Conformal("Canada Atlas Lambert", nad83, 49, -95, 49, 77),
            ["EPSG:3979"] = Conformal("Canada Atlas Lambert", Datum.OfEpsg(6140, 0)!, 49, -95, 49, 77),
            ["EPSG:2154"] = Conformal("Lambert-93", Datum.OfEpsg(6171, 0)!, 46.5, 3, 49, 44, 700_000, 6_600_000),
            ["EPSG:3031"] = Polar("Antarctic Polar Stereographic", -90, 0, -71),
            ["EPSG:3976"] = Polar("NSIDC Sea Ice Polar Stereographic South", -90, 0, -70),
            ["EPSG:3995"] = Polar("Arctic Polar Stereographic", 90, 0, 71),
            ["EPSG:3413"] = Polar("NSIDC Sea Ice Polar Stereographic North", 90, -45, 70),
            ["ESRI:54008"] = new CrsDefinition("World Sinusoidal", ProjectionMethod.Sinusoidal, wgs84),
            ["ESRI:54009"] = new CrsDefinition("World Mollweide", ProjectionMethod.Mollweide, wgs84),
            ["ESRI:54052"] = new CrsDefinition("World Goode Homolosine Land", ProjectionMethod.GoodeInterrupted, wgs84),
            ["ESRI:53008"] = new CrsDefinition("Sphere Sinusoidal", ProjectionMethod.Sinusoidal, sphere),
            ["ESRI:53009"] = new CrsDefinition("Sphere Mollweide", ProjectionMethod.Mollweide, sphere),
        };
        foreach ((int code, string name) in ((int, string)[])[
            (4326, "WGS 84"), (4979, "WGS 84"), (4269, "NAD83"), (4258, "ETRS89"), (4283, "GDA94"), (7844, "GDA2020"), (4167, "NZGD2000"),
            (4674, "SIRGAS 2000"), (4617, "NAD83(CSRS)"), (6318, "NAD83(2011)"), (4152, "NAD83(HARN)"), (4171, "RGF93")])
        {
            table[$"EPSG:{code}"] = Degrees(name, Datum.OfEpsg(0, code)!);
        }

        foreach ((int code, int meridian) in ((int, int)[])[(3571, 180), (3572, -150), (3573, -100), (3574, -40), (3575, 10), (3576, 90)])
            table[$"EPSG:{code}"] = Azimuthal("North Pole LAEA", wgs84, 90, meridian);

        foreach ((int code, int pole) in ((int, int)[])[(5041, 90), (5042, -90), (32661, 90), (32761, -90)])
        {
            CrsDefinition polar = Polar("Universal Polar Stereographic", pole, 0, pole);
            table[$"EPSG:{code}"] = polar with { Scale = 0.994, FalseEasting = 2_000_000, FalseNorthing = 2_000_000 };
        }

        return table.ToDictionary(e => e.Key, e => e.Value with { Name = $"{e.Value.Name} ({e.Key})", Code = e.Key });
    }

    private static CrsDefinition Degrees(string name, Datum datum) => new(name, ProjectionMethod.Geographic, datum);

    private static CrsDefinition Cylinder(string name, Datum datum, double parallel) =>
        new(name, ProjectionMethod.CylindricalEqualArea, datum) { Parallel1 = parallel };

    private static CrsDefinition Azimuthal(string name, Datum datum, double latitude, double longitude) =>
        new(name, ProjectionMethod.LambertAzimuthal, datum) { LatitudeOfOrigin = latitude, LongitudeOfOrigin = longitude };

    private static CrsDefinition Albers(string name, Datum datum, double latitude, double longitude, double first, double second) =>
        Conformal(name, datum, latitude, longitude, first, second) with { Method = ProjectionMethod.Albers };

    private static CrsDefinition Conformal(string name, Datum datum, double latitude, double longitude, double first, double second,
        double falseEasting = 0, double falseNorthing = 0) =>
        new(name, ProjectionMethod.LambertConformal, datum)
        {
            LatitudeOfOrigin = latitude,
            LongitudeOfOrigin = longitude,
            Parallel1 = first,
            Parallel2 = second,
            FalseEasting = falseEasting,
            FalseNorthing = falseNorthing,
        };

    private static CrsDefinition Polar(string name, double pole, double longitude, double parallel) =>
        new(name, ProjectionMethod.PolarStereographic, Datum.Wgs84)
        {
            LatitudeOfOrigin = pole,
            LongitudeOfOrigin = longitude,
            Parallel1 = parallel,
        };
}
