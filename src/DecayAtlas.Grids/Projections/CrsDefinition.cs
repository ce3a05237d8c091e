namespace DecayAtlas.Grids.Projections;

internal enum ProjectionMethod
{
    Geographic,
    TransverseMercator,
    Mercator,
    WebMercator,
    CylindricalEqualArea,
    Albers,
    LambertConformal,
    LambertAzimuthal,
    PolarStereographic,
    Sinusoidal,
    Mollweide,
    GoodeInterrupted,
}

/// <summary>
/// A coordinate reference system reduced to what its formulas need. Angles in degrees, false origin in metres. The polar
/// stereographic has its pole in <see cref="LatitudeOfOrigin"/> and its true parallel in <see cref="Parallel1"/>.
/// </summary>
internal sealed record CrsDefinition(string Name, ProjectionMethod Method, Datum Datum)
{
    public Ellipsoid Ellipsoid => Datum.Ellipsoid;

    /// <summary>The code it was found by, such as EPSG:3035; null where it was read from a description.</summary>
    public string? Code { get; init; }

    public double LongitudeOfOrigin { get; init; }

    public double LatitudeOfOrigin { get; init; }

    public double Parallel1 { get; init; }

    public double Parallel2 { get; init; }

    public double Scale { get; init; } = 1;

    public double FalseEasting { get; init; }

    public double FalseNorthing { get; init; }

    public double UnitMetres { get; init; } = 1;

    /// <summary>Whether two definitions give the same coordinates (to a tenth of a millimetre of the ellipsoid, 1e-9 degrees).</summary>
    public bool IsSameAs(CrsDefinition other) =>
        Method == other.Method
        && Math.Abs(Ellipsoid.A - other.Ellipsoid.A) < 1e-3
        && Math.Abs(Ellipsoid.E2 - other.Ellipsoid.E2) < 1e-9
        && Near(LongitudeOfOrigin, other.LongitudeOfOrigin) && Near(LatitudeOfOrigin, other.LatitudeOfOrigin)
        && Near(Parallel1, other.Parallel1) && Near(Parallel2, other.Parallel2)
        && Near(Scale, other.Scale) && Near(UnitMetres, other.UnitMetres)
        && Math.Abs(FalseEasting - other.FalseEasting) < 1e-4 && Math.Abs(FalseNorthing - other.FalseNorthing) < 1e-4;

    private static bool Near(double a, double b) => Math.Abs(a - b) < 1e-9;
}

/// <summary>The figure of the Earth that longitudes and latitudes are counted on, as far as it may stand for WGS 84.</summary>
/// <param name="Caveat">What is neglected where it is taken as WGS 84; null for WGS 84 itself.</param>
internal sealed record Datum(Ellipsoid Ellipsoid, string? Caveat)
{
    public static readonly Datum Wgs84 = new(Ellipsoid.Wgs84, null);

    private static readonly (int Code, int Crs, string Name, string[] Spellings)[] CloseDatums =
    [
        (6269, 4269, "NAD83", ["nad83", "northamericandatum1983", "northamerican1983"]),
        (6258, 4258, "ETRS89", ["etrs89", "etrs1989", "europeanterrestrialreferencesystem1989"]),
        (6283, 4283, "GDA94", ["gda94", "gda1994", "geocentricdatumofaustralia1994"]),
        (1168, 7844, "GDA2020", ["gda2020", "geocentricdatumofaustralia2020"]),
        (6167, 4167, "NZGD2000", ["nzgd2000", "newzealandgeodeticdatum2000"]),
        (6674, 4674, "SIRGAS 2000", ["sirgas2000", "sistemadereferenciageocentricoparalasamericas2000",
            "sistemadereferenciageocentricoparaamericadelsur2000"]),
        (6140, 4617, "NAD83(CSRS)", ["nad83csrs", "nad83canadianspatialreferencesystem", "northamerican1983csrs", "nad83csrsv2"]),
        (1116, 6318, "NAD83(2011)", ["nad832011", "nad83nationalspatialreferencesystem2011", "nad19832011"]),
        (6152, 4152, "NAD83(HARN)", ["nad83harn", "nad83highaccuracyreferencenetwork", "northamerican1983harn"]),
        (6171, 4171, "RGF93", ["rgf93", "rgf1993", "rgf93v1", "reseaugeodesiquefrancais1993", "reseaugeodesiquefrancais1993v1"]),
    ];

    /// <summary>The datum of an EPSG datum code or of an EPSG geographic reference system; null where it may not stand for WGS
    /// 84.</summary>
    public static Datum? OfEpsg(int datumCode, int crsCode)
    {
        if (datumCode == 6326 || crsCode is 4326 or 4979)
            return Wgs84;

        return CloseDatums.FirstOrDefault(d => d.Code == datumCode || d.Crs == crsCode) is { Name: { } name } ? Close(name) : null;
    }

    /// <summary>The datum of a name as well-known text spells it, with the ellipsoid that the text states.</summary>
    public static Datum? OfName(string name, Ellipsoid ellipsoid)
    {
        string plain = Spelling.Plain(name);
        plain = plain.StartsWith('d') && !plain.StartsWith("datum", StringComparison.Ordinal) ? plain[1..] : plain;
        if (plain is "wgs84" or "wgs1984" or "worldgeodeticsystem1984" or "worldgeodeticsystem1984ensemble" or "wgs1984ensemble")
            return Wgs84;

        if (CloseDatums.FirstOrDefault(d => d.Spellings.Any(s => plain == s || plain == s + "ensemble")) is { Name: { } close })
            return Close(close);

        string[] unnamed = ["unknown", "notspecified", "unnamed", "sphere"];
        return plain is "" or "custom" || unnamed.Any(word => plain.Contains(word, StringComparison.Ordinal))
            ? OfEllipsoid(ellipsoid)
            : null;
    }

    /// <summary>A datum known by nothing but its ellipsoid: a sphere, WGS 84's or GRS 80; null otherwise.</summary>
    public static Datum? OfEllipsoid(Ellipsoid ellipsoid)
    {
        if (ellipsoid.IsSphere && Math.Abs(ellipsoid.A - 6_371_000) < 30_000)
        {
            return new Datum(ellipsoid,
                "The file's Earth is a sphere; its latitudes are taken as WGS 84 latitudes, as is the custom for such grids.");
        }

        return Math.Abs(ellipsoid.A - 6_378_137) < 1e-3 && Math.Abs(ellipsoid.InverseFlattening - 298.2572) < 1e-3
            ? new Datum(ellipsoid, "The file names no datum but the ellipsoid of WGS 84; its coordinates are taken as WGS 84.")
            : null;
    }

    private static Datum Close(string name) => new(
        Ellipsoid.Grs80, $"{name} coordinates are taken as WGS 84 coordinates; the two differ by about a metre or two.");
}

/// <summary>Names of reference systems are spelled many ways: only letters and digits count.</summary>
internal static class Spelling
{
    public static string Plain(string name) =>
        new([.. name.Where(char.IsAsciiLetterOrDigit).Select(char.ToLowerInvariant)]);
}
