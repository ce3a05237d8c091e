namespace DecayAtlas.Grids.Formats.Cf;

/// <summary>The reference system that a grid mapping variable describes (CF conventions 1.11, appendix F).</summary>
internal static class CfGridMapping
{
    private static readonly Dictionary<string, ProjectionMethod> Methods = new()
    {
        ["albers_conical_equal_area"] = ProjectionMethod.Albers,
        ["lambert_azimuthal_equal_area"] = ProjectionMethod.LambertAzimuthal,
        ["lambert_conformal_conic"] = ProjectionMethod.LambertConformal,
        ["lambert_cylindrical_equal_area"] = ProjectionMethod.CylindricalEqualArea,
        ["latitude_longitude"] = ProjectionMethod.Geographic,
        ["mercator"] = ProjectionMethod.Mercator,
        ["polar_stereographic"] = ProjectionMethod.PolarStereographic,
        ["sinusoidal"] = ProjectionMethod.Sinusoidal,
        ["transverse_mercator"] = ProjectionMethod.TransverseMercator,
    };

    public static string? NameOf(ProjectionMethod method) => Methods.FirstOrDefault(m => m.Value == method).Key;

    /// <param name="unitMetres">Metres in a unit of the x and y coordinates.</param>
    public static Projection Read(string path, CdfVariable mapping, double unitMetres)
    {
        try
        {
            string? text = mapping.Text("crs_wkt") ?? mapping.Text("spatial_ref");
            CrsDefinition crs = string.IsNullOrWhiteSpace(text) ? Described(mapping, unitMetres) : WktCrs.Read(text);
            if (crs.Method != ProjectionMethod.Geographic && Math.Abs(crs.UnitMetres - unitMetres) > 1e-9)
                crs = crs with { UnitMetres = unitMetres }; // the coordinates say their own unit, which counts

            return new Projection(crs);
        }
        catch (GridException e)
        {
            throw new GridException($"{path}, grid mapping {mapping.Name}: {e.Message}", e);
        }
    }

    private static CrsDefinition Described(CdfVariable mapping, double unitMetres)
    {
        string name = mapping.Text("grid_mapping_name")?.Trim() ?? "";
        if (mapping.Number("longitude_of_prime_meridian") is not (null or 0))
            throw new GridException("its longitudes are counted from another meridian than Greenwich.");

        Datum datum = DatumOf(mapping);
        if (!Methods.TryGetValue(name, out ProjectionMethod method))
        {
            throw new GridException(
                $"its projection \"{name}\" is none of those known here; warp it, for example with gdalwarp -t_srs EPSG:4326.");
        }

        if (method == ProjectionMethod.Geographic)
            return new CrsDefinition("degrees", method, datum);

        double[] parallels = mapping.Numbers("standard_parallel");
        double origin = mapping.Number("latitude_of_projection_origin") ?? double.NaN;
        double first = parallels.Length > 0 ? parallels[0] : double.NaN;
        if (method == ProjectionMethod.PolarStereographic && double.IsNaN(first))
            first = origin; // the scale is given at the pole

        CrsDefinition crs = new(name, method, datum)
        {
            LongitudeOfOrigin = mapping.Number("longitude_of_central_meridian") ?? mapping.Number("longitude_of_projection_origin")
                ?? mapping.Number("straight_vertical_longitude_from_pole") ?? 0,
            LatitudeOfOrigin = origin,
            Parallel1 = first,
            Parallel2 = parallels.Length > 1 ? parallels[1] : double.NaN,
            Scale = mapping.Number("scale_factor_at_projection_origin") ?? mapping.Number("scale_factor_at_central_meridian") ?? 1,
            FalseEasting = (mapping.Number("false_easting") ?? 0) * unitMetres,
            FalseNorthing = (mapping.Number("false_northing") ?? 0) * unitMetres,
            UnitMetres = unitMetres,
        };
        return Completed.Of(crs);
    }

    private static Datum DatumOf(CdfVariable mapping)
    {
        if ((mapping.Number("semi_major_axis") ?? mapping.Number("earth_radius")) is not { } a)
            return Unstated;

        double inverse = mapping.Number("inverse_flattening") ?? (mapping.Number("semi_minor_axis") is { } b && b != a ? a / (a - b) : 0);
        return Datum.OfName(mapping.Text("horizontal_datum_name") ?? "", new Ellipsoid(a, inverse))
            ?? throw new GridException("its datum may lie tens of metres and more from WGS 84.");
    }

    /// <summary>CF leaves the figure of the Earth open where none is stated.</summary>
    public static Datum Unstated { get; } = new(
        Ellipsoid.Wgs84,
        "The file names no figure of the Earth; its longitudes and latitudes are taken as WGS 84, as is the custom for climate grids.");
}
