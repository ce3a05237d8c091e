namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>The reference system that the keys of a GeoTIFF describe, by code or parameter by parameter.</summary>
internal static class GeoKeyCrs
{
    private const int ModelType = 1024;
    private const int GeodeticCrs = 2048;
    private const int GeodeticDatum = 2050;
    private const int PrimeMeridian = 2051;
    private const int AngularUnits = 2054;
    private const int EllipsoidCode = 2056;
    private const int SemiMajorAxis = 2057;
    private const int SemiMinorAxis = 2058;
    private const int InverseFlattening = 2059;
    private const int PrimeMeridianLongitude = 2061;
    private const int ProjectedCrs = 3072;
    private const int ProjectedCitation = 3073;
    private const int Citation = 1026;
    private const int ProjectionCode = 3074;
    private const int Method = 3075;
    private const int LinearUnits = 3076;
    private const int LinearUnitSize = 3077;
    private const int UserDefined = 32767;

    private static readonly Dictionary<int, ProjectionMethod> Methods = new()
    {
        [1] = ProjectionMethod.TransverseMercator,
        [7] = ProjectionMethod.Mercator,
        [8] = ProjectionMethod.LambertConformal, // two standard parallels
        [9] = ProjectionMethod.LambertConformal, // one
        [10] = ProjectionMethod.LambertAzimuthal,
        [11] = ProjectionMethod.Albers,
        [15] = ProjectionMethod.PolarStereographic,
        [24] = ProjectionMethod.Sinusoidal,
        [28] = ProjectionMethod.CylindricalEqualArea,
    };

    public static bool IsSilent(GeoKeys keys) => !keys.Has(ModelType) && !keys.Has(GeodeticCrs) && !keys.Has(ProjectedCrs);

    public static bool IsGeographic(GeoKeys keys) => keys.Code(ModelType) == 2 || (keys.Code(ModelType) == 0 && !keys.Has(ProjectedCrs));

    /// <exception cref="GridException">The keys describe something that is not known here; the sentence does not name the file.</exception>
    public static CrsDefinition Read(GeoKeys keys)
    {
        if (!CountsDegreesFromGreenwich(keys))
            throw Unknown("its longitudes are counted from another prime meridian than Greenwich, or not in degrees");

        if (IsGeographic(keys))
        {
            Datum datum = DatumOf(keys);
            return new CrsDefinition(datum.Caveat is null ? "WGS 84 longitude and latitude" : "longitude and latitude",
                ProjectionMethod.Geographic, datum);
        }

        int code = keys.Code(ProjectedCrs);
        if (code is not (0 or UserDefined))
            return CrsRegister.Find($"EPSG:{code}");

        foreach (int key in (ReadOnlySpan<int>)[ProjectedCitation, Citation])
        {
            // What the keys cannot say, GDAL and Esri write as text beside them.
            const string mark = "ESRI PE String = ";
            if (keys.Text(key) is { } text && text.StartsWith(mark, StringComparison.Ordinal))
                return WktCrs.Read(text[mark.Length..]);
        }

        if (keys.Code(ModelType) is not (0 or 1 or 2))
            throw Unknown($"its model type is {keys.Code(ModelType)}, and a geographic or projected one was expected");

        return Projected(keys);
    }

    private static CrsDefinition Projected(GeoKeys keys)
    {
        Datum datum = DatumOf(keys);
        int zone = keys.Code(ProjectionCode);
        if (zone is >= 16001 and <= 16060 or >= 16101 and <= 16160)
            return CrsRegister.Utm("keys", zone % 100, zone < 16100, datum);

        int code = keys.Code(Method);
        if (!Methods.TryGetValue(code, out ProjectionMethod method))
        {
            string which = zone is not (0 or UserDefined) ? $"{zone} of the EPSG register" : $"method {code}";
            throw Unknown($"its projection {which} is none of those known here");
        }

        double unit = LinearUnit(keys);
        CrsDefinition crs = new("user-defined projection", method, datum)
        {
            LongitudeOfOrigin = keys.Number(3080, 3084, 3088, 3095) ?? 0,
            LatitudeOfOrigin = keys.Number(3081, 3085, 3089) ?? double.NaN,
            Parallel1 = keys.Number(3078) ?? double.NaN,
            Parallel2 = keys.Number(3079) ?? double.NaN,
            Scale = keys.Number(3092, 3093) ?? 1,
            FalseEasting = (keys.Number(3082, 3086, 3090) ?? 0) * unit,
            FalseNorthing = (keys.Number(3083, 3087, 3091) ?? 0) * unit,
            UnitMetres = unit,
        };
        if (method == ProjectionMethod.PolarStereographic && keys.Number(3095) is { } straight)
            crs = crs with { LongitudeOfOrigin = straight };

        return Completed.Of(crs);
    }

    private static Datum DatumOf(GeoKeys keys)
    {
        int crs = keys.Code(GeodeticCrs);
        int code = keys.Code(GeodeticDatum);
        if (Datum.OfEpsg(code, crs) is { } named)
            return named;

        if (crs is 0 or UserDefined && code is 0 or UserDefined && EllipsoidOf(keys) is { } ellipsoid)
            return Datum.OfEllipsoid(ellipsoid) ?? throw Unknown("its datum is not named, and its ellipsoid is not that of WGS 84");

        string which = crs is 0 or UserDefined ? code is 0 or UserDefined ? "not named" : $"EPSG:{code}" : $"that of EPSG:{crs}";
        throw Unknown($"its datum is {which} and may lie tens of metres and more from WGS 84");
    }

    private static Ellipsoid? EllipsoidOf(GeoKeys keys)
    {
        switch (keys.Code(EllipsoidCode))
        {
            case 7030: return Ellipsoid.Wgs84;
            case 7019: return Ellipsoid.Grs80;
            case 7035: return new Ellipsoid(6_371_000, 0);
            case 7048: return new Ellipsoid(6_371_007, 0);
            case 7057: return new Ellipsoid(6_371_228, 0);
            case 0 or UserDefined: break;
            default: return null;
        }

        double? a = keys.Number(SemiMajorAxis), b = keys.Number(SemiMinorAxis);
        double? inverse = keys.Number(InverseFlattening) ?? (a == b ? 0 : a / (a - b));
        return a is { } axis && inverse is { } f ? new Ellipsoid(axis, f) : null;
    }

    /// <summary>Whether angles are degrees and longitudes are counted from Greenwich, which no declaration can mend.</summary>
    public static bool CountsDegreesFromGreenwich(GeoKeys keys) =>
        (keys.Code(PrimeMeridian) is 0 or 8901 || (keys.Code(PrimeMeridian) == UserDefined && keys.Number(PrimeMeridianLongitude) == 0))
        && keys.Number(PrimeMeridianLongitude) is null or 0
        && keys.Code(AngularUnits) is 0 or 9102 or 9122;

    private static double LinearUnit(GeoKeys keys) => keys.Code(LinearUnits) switch
    {
        0 or 9001 => 1,
        9002 => 0.3048,
        9003 => 1200.0 / 3937,
        9036 => 1000,
        UserDefined when keys.Number(LinearUnitSize) is > 0 and var size => size,
        int other =>
            throw Unknown($"its coordinates are in unit {other} of the EPSG register, and metres, kilometres or feet were expected"),
    };

    private static GridException Unknown(string why) => new($"its reference system cannot be used: {why}");
}
