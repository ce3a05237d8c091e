namespace DecayAtlas.Grids.Formats.NetCdf;

/// <summary>How a reference system is written by the CF conventions 1.11: axes (chapter 4) and grid mapping (appendix F).</summary>
internal static class CfMapping
{
    public const string VariableName = "crs";

    public static (string Y, string X) AxisNames(Projection projection) => projection.IsGeographic ? ("lat", "lon") : ("y", "x");

    /// <summary>The attributes of a coordinate variable.</summary>
    public static HdfObject Axis(Projection projection, bool isY)
    {
        HdfObject axis = new();
        return projection.IsGeographic
            ? axis.Text("standard_name", isY ? "latitude" : "longitude").Text("long_name", isY ? "latitude" : "longitude")
                .Text("units", isY ? "degrees_north" : "degrees_east").Text("axis", isY ? "Y" : "X")
            : axis.Text("standard_name", isY ? "projection_y_coordinate" : "projection_x_coordinate")
                .Text("long_name", isY ? "y coordinate of projection" : "x coordinate of projection")
                .Text("units", UnitOf(projection)).Text("axis", isY ? "Y" : "X");
    }

    /// <summary>The attributes of the grid mapping. Where CF has no name for a projection the well-known text alone tells it.</summary>
    public static HdfObject Variable(Projection projection)
    {
        CrsDefinition crs = projection.Definition;
        HdfObject mapping = new();
        switch (crs.Method)
        {
            case ProjectionMethod.Geographic:
                mapping.Text("grid_mapping_name", "latitude_longitude");
                break;
            case ProjectionMethod.TransverseMercator:
                mapping.Text("grid_mapping_name", "transverse_mercator").Number("scale_factor_at_central_meridian", crs.Scale)
                    .Number("longitude_of_central_meridian", crs.LongitudeOfOrigin)
                    .Number("latitude_of_projection_origin", crs.LatitudeOfOrigin);
                break;
            case ProjectionMethod.Mercator:
                mapping.Text("grid_mapping_name", "mercator").Number("longitude_of_projection_origin", crs.LongitudeOfOrigin)
                    .Number("standard_parallel", crs.Parallel1);
                break;
            case ProjectionMethod.CylindricalEqualArea:
                mapping.Text("grid_mapping_name", "lambert_cylindrical_equal_area")
                    .Number("longitude_of_central_meridian", crs.LongitudeOfOrigin)
                    .Number("standard_parallel", crs.Parallel1);
                break;
            case ProjectionMethod.Albers or ProjectionMethod.LambertConformal:
                mapping.Text(
                    "grid_mapping_name", crs.Method == ProjectionMethod.Albers ? "albers_conical_equal_area" : "lambert_conformal_conic")
                    .Number("standard_parallel", crs.Parallel1, crs.Parallel2)
                    .Number("longitude_of_central_meridian", crs.LongitudeOfOrigin)
                    .Number("latitude_of_projection_origin", crs.LatitudeOfOrigin);
                break;
            case ProjectionMethod.LambertAzimuthal:
                mapping.Text("grid_mapping_name", "lambert_azimuthal_equal_area")
                    .Number("longitude_of_projection_origin", crs.LongitudeOfOrigin)
                    .Number("latitude_of_projection_origin", crs.LatitudeOfOrigin);
                break;
            case ProjectionMethod.PolarStereographic:
                mapping.Text("grid_mapping_name", "polar_stereographic")
                    .Number("straight_vertical_longitude_from_pole", crs.LongitudeOfOrigin)
                    .Number("latitude_of_projection_origin", crs.LatitudeOfOrigin);
                _ = Math.Abs(crs.Parallel1) == 90
                    ? mapping.Number("scale_factor_at_projection_origin", crs.Scale)
                    : mapping.Number("standard_parallel", crs.Parallel1);
                break;
            case ProjectionMethod.Sinusoidal:
                mapping.Text("grid_mapping_name", "sinusoidal").Number("longitude_of_projection_origin", crs.LongitudeOfOrigin);
                break;
        }

        if (crs.Method != ProjectionMethod.Geographic)
            mapping.Number("false_easting", crs.FalseEasting / crs.UnitMetres).Number("false_northing", crs.FalseNorthing / crs.UnitMetres);

        // spatial_ref is where GDAL looks for the text that CF calls crs_wkt
        return mapping.Number("semi_major_axis", crs.Ellipsoid.A).Number("inverse_flattening", crs.Ellipsoid.InverseFlattening)
            .Number("longitude_of_prime_meridian", 0).Text("crs_wkt", projection.Wkt).Text("spatial_ref", projection.Wkt);
    }

    private static string UnitOf(Projection projection) => projection.UnitMetres switch
    {
        1 => "m",
        1000 => "km",
        var metres => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{metres:R} m"),
    };
}
