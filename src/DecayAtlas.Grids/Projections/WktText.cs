namespace DecayAtlas.Grids.Projections;

/// <summary>Writes a reference system as well-known text of version 1 (OGC 01-009) in Esri's spelling, whose names GDAL, PROJ and R read
/// alike.</summary>
internal static class WktText
{
    public static string Of(CrsDefinition crs)
    {
        string geographic = Geographic(crs);
        if (crs.Method == ProjectionMethod.Geographic)
            return geographic;

        IEnumerable<string> parameters = ParametersOf(crs).Select(p => Invariant($",PARAMETER[\"{p.Name}\",{p.Value:R}]"));
        return $"PROJCS[\"{Quoted(crs.Name)}\",{geographic},PROJECTION[\"{MethodName(crs)}\"]{string.Concat(parameters)}"
            + $",UNIT[\"{(crs.UnitMetres == 1 ? "Meter" : "unit")}\",{crs.UnitMetres:R}]{Authority(crs.Code)}]";
    }

    private static string MethodName(CrsDefinition crs) => crs.Method switch
    {
        ProjectionMethod.TransverseMercator => "Transverse_Mercator",
        ProjectionMethod.Mercator => "Mercator",
        ProjectionMethod.WebMercator => "Mercator_Auxiliary_Sphere",
        ProjectionMethod.CylindricalEqualArea => "Cylindrical_Equal_Area",
        ProjectionMethod.Albers => "Albers",
        ProjectionMethod.LambertConformal => "Lambert_Conformal_Conic",
        ProjectionMethod.LambertAzimuthal => "Lambert_Azimuthal_Equal_Area",
        ProjectionMethod.PolarStereographic => crs.LatitudeOfOrigin > 0 ? "Stereographic_North_Pole" : "Stereographic_South_Pole",
        ProjectionMethod.Sinusoidal => "Sinusoidal",
        ProjectionMethod.Mollweide => "Mollweide",
        ProjectionMethod.GoodeInterrupted => "Goode_Homolosine",
        _ => throw new InvalidOperationException($"No text for {crs.Method}."),
    };

    private static IEnumerable<(string Name, double Value)> ParametersOf(CrsDefinition crs)
    {
        yield return ("False_Easting", crs.FalseEasting / crs.UnitMetres);
        yield return ("False_Northing", crs.FalseNorthing / crs.UnitMetres);
        yield return ("Central_Meridian", crs.LongitudeOfOrigin);
        switch (crs.Method)
        {
            case ProjectionMethod.TransverseMercator:
                yield return ("Scale_Factor", crs.Scale);
                yield return ("Latitude_Of_Origin", crs.LatitudeOfOrigin);
                break;
            case ProjectionMethod.Mercator or ProjectionMethod.CylindricalEqualArea or ProjectionMethod.PolarStereographic:
                yield return ("Standard_Parallel_1", crs.Parallel1);
                break;
            case ProjectionMethod.WebMercator:
                yield return ("Standard_Parallel_1", 0);
                yield return ("Auxiliary_Sphere_Type", 0);
                break;
            case ProjectionMethod.Albers or ProjectionMethod.LambertConformal:
                yield return ("Standard_Parallel_1", crs.Parallel1);
                yield return ("Standard_Parallel_2", crs.Parallel2);
                yield return ("Latitude_Of_Origin", crs.LatitudeOfOrigin);
                break;
            case ProjectionMethod.LambertAzimuthal:
                yield return ("Latitude_Of_Origin", crs.LatitudeOfOrigin);
                break;
            case ProjectionMethod.GoodeInterrupted:
                yield return ("Option", 1);
                break;
        }
    }

    private static string Geographic(CrsDefinition crs)
    {
        Ellipsoid e = crs.Ellipsoid;
        (string name, string datum, string spheroid) = crs.Datum.Caveat is null ? ("GCS_WGS_1984", "D_WGS_1984", "WGS_1984")
            : e.IsSphere ? ("GCS_Sphere", "D_Sphere", "Sphere")
            : ("Unknown datum based upon the GRS 1980 ellipsoid", "D_Not_specified_based_on_GRS_1980_ellipsoid", "GRS_1980");
        return $"GEOGCS[\"{name}\",DATUM[\"{datum}\",SPHEROID[\"{spheroid}\",{e.A:R},{e.InverseFlattening:R}]],"
            + "PRIMEM[\"Greenwich\",0],UNIT[\"Degree\",0.0174532925199433]]";
    }

    /// <summary>The code, by which programs see that two files share a reference system.</summary>
    private static string Authority(string? code) => code?.Split(':') is [var register, var number]
        ? $",AUTHORITY[\"{Quoted(register)}\",\"{Quoted(number)}\"]" : "";

    private static string Quoted(string text) => text.Replace('"', '\'');
}
