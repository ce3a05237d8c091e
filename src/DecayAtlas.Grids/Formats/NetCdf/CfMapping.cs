namespace DecayAtlas.Grids.Formats.NetCdf;

/// <summary>How a reference system is written by the CF conventions 1.11: axes (chapter 4) and grid mapping (appendix F).</summary>
internal static class CfMapping
{
    public const string VariableName = "crs";

    public static (string Y, string X) AxisNames(Projection projection) => projection.IsGeographic ? ("lat", "lon") : ("y", "x");

    public static HdfObject Axis(Projection projection, bool isY)
    {
        (string standard, string name, string unit) = (projection.IsGeographic, isY) switch
        {
            (true, true) => ("latitude", "latitude", "degrees_north"),
            (true, false) => ("longitude", "longitude", "degrees_east"),
            (false, true) => ("projection_y_coordinate", "y coordinate of projection", UnitOf(projection)),
            (false, false) => ("projection_x_coordinate", "x coordinate of projection", UnitOf(projection)),
        };
        return new HdfObject().Text("standard_name", standard).Text("long_name", name).Text("units", unit).Text("axis", isY ? "Y" : "X");
    }

    /// <summary>The attributes of the grid mapping. Where CF has no name for a projection the well-known text alone tells it.</summary>
    public static HdfObject Variable(Projection projection)
    {
        CrsDefinition crs = projection.Definition;
        HdfObject mapping = new();
        if (CfGridMapping.NameOf(crs.Method) is { } name)
            mapping.Text("grid_mapping_name", name);

        foreach ((string parameter, double[] values) in ParametersOf(crs))
            mapping.Number(parameter, values);

        if (crs.Method != ProjectionMethod.Geographic)
            mapping.Number("false_easting", crs.FalseEasting / crs.UnitMetres).Number("false_northing", crs.FalseNorthing / crs.UnitMetres);

        // spatial_ref is where GDAL looks for the text that CF calls crs_wkt
        return mapping.Number("semi_major_axis", crs.Ellipsoid.A).Number("inverse_flattening", crs.Ellipsoid.InverseFlattening)
            .Number("longitude_of_prime_meridian", 0).Text("crs_wkt", projection.Wkt).Text("spatial_ref", projection.Wkt);
    }

    private static (string Name, double[] Values)[] ParametersOf(CrsDefinition crs)
    {
        (string, double[]) centralMeridian = ("longitude_of_central_meridian", [crs.LongitudeOfOrigin]);
        (string, double[]) originLongitude = ("longitude_of_projection_origin", [crs.LongitudeOfOrigin]);
        (string, double[]) originLatitude = ("latitude_of_projection_origin", [crs.LatitudeOfOrigin]);
        (string, double[]) parallel = ("standard_parallel", [crs.Parallel1]);
        return crs.Method switch
        {
            ProjectionMethod.TransverseMercator => [("scale_factor_at_central_meridian", [crs.Scale]), centralMeridian, originLatitude],
            ProjectionMethod.Mercator => [originLongitude, parallel],
            ProjectionMethod.CylindricalEqualArea => [centralMeridian, parallel],
            ProjectionMethod.Albers or ProjectionMethod.LambertConformal =>
                [("standard_parallel", [crs.Parallel1, crs.Parallel2]), centralMeridian, originLatitude],
            ProjectionMethod.LambertAzimuthal => [originLongitude, originLatitude],
            ProjectionMethod.PolarStereographic =>
            [
                ("straight_vertical_longitude_from_pole", [crs.LongitudeOfOrigin]), originLatitude,
                Math.Abs(crs.Parallel1) == 90 ? ("scale_factor_at_projection_origin", [crs.Scale]) : parallel,
            ],
            ProjectionMethod.Sinusoidal => [originLongitude],
            _ => [],
        };
    }

    private static string UnitOf(Projection projection) => projection.UnitMetres switch
    {
        1 => "m",
        1000 => "km",
        var metres => Invariant($"{metres:R} m"),
    };
}
