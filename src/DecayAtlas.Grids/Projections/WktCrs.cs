namespace DecayAtlas.Grids.Projections;

/// <summary>Reads a reference system from well-known text of version 1 (OGC 01-009, the spelling of GDAL and Esri) or 2 (OGC
/// 18-010).</summary>
internal static class WktCrs
{
    private static readonly Dictionary<string, ProjectionMethod> Methods = new (ProjectionMethod Method, string[] Spellings)[]
    {
        (ProjectionMethod.TransverseMercator, ["transversemercator", "gausskruger"]),
        (ProjectionMethod.Mercator, ["mercator", "mercator1sp", "mercator2sp", "mercatorvarianta", "mercatorvariantb"]),
        (ProjectionMethod.WebMercator, ["mercatorauxiliarysphere", "popularvisualisationpseudomercator"]),
        (ProjectionMethod.CylindricalEqualArea, ["cylindricalequalarea", "lambertcylindricalequalarea",
            "lambertcylindricalequalareaellipsoidal", "lambertcylindricalequalareaspherical"]),
        (ProjectionMethod.Albers, ["albers", "albersequalarea", "albersconicequalarea"]),
        (ProjectionMethod.LambertConformal, ["lambertconformalconic", "lambertconformalconic1sp", "lambertconformalconic2sp",
            "lambertconicconformal1sp", "lambertconicconformal2sp"]),
        (ProjectionMethod.LambertAzimuthal, ["lambertazimuthalequalarea", "lambertazimuthalequalareaspherical"]),
        (ProjectionMethod.PolarStereographic, ["polarstereographic", "polarstereographicvarianta", "polarstereographicvariantb",
            "stereographicnorthpole", SouthPole]),
        (ProjectionMethod.Sinusoidal, ["sinusoidal"]),
        (ProjectionMethod.Mollweide, ["mollweide"]),
        (ProjectionMethod.GoodeInterrupted, ["interruptedgoodehomolosine"]),
    }.SelectMany(m => m.Spellings, (m, spelling) => (spelling, m.Method)).ToDictionary();

    private const string SouthPole = "stereographicsouthpole";

    public static CrsDefinition Read(string text)
    {
        WktNode root = WktNode.Parse(text);
        while (root.Keyword is "COMPD_CS" or "COMPOUNDCRS" or "BOUNDCRS" or "SOURCECRS")
        {
            // The height of a compound system, and the way to another datum of a bound one, do not move anything here.
            root = root.Children.Count > 0 ? root.Children[0] : throw Unknown($"its {root.Keyword} is empty");
        }

        return root.Keyword switch
        {
            "GEOGCS" or "GEOGCRS" or "GEODCRS" or "GEODETICCRS" or "GEOGRAPHICCRS" =>
                new CrsDefinition(root.Name, ProjectionMethod.Geographic, DatumOf(root)),
            "PROJCS" or "PROJCRS" or "PROJECTEDCRS" => Projected(root),
            _ => throw Unknown($"it starts with {root.Keyword}, and a geographic or projected system was expected"),
        };
    }

    private static CrsDefinition Projected(WktNode root)
    {
        WktNode geographic = root.Child("GEOGCS", "BASEGEOGCRS", "BASEGEODCRS")
            ?? throw Unknown("it names no geographic system beneath its projection");
        WktNode conversion = root.Child("CONVERSION") ?? root;
        WktNode method = conversion.Child("PROJECTION", "METHOD") ?? throw Unknown("it names no projection");
        string plain = Spelling.Plain(method.Name);
        Parameters parameters = new(conversion, LinearUnit(root));
        if (plain == "goodehomolosine" && parameters.Find("option") == 1)
            plain = "interruptedgoodehomolosine"; // how Esri spells it: option 1 cuts the oceans

        if (!Methods.TryGetValue(plain, out ProjectionMethod known))
            throw Unknown($"its projection \"{method.Name}\" is none of those known here");

        // Web Mercator as version 1 spells it: a Mercator with the true formulas in an extension.
        bool isWeb = root.Child("EXTENSION") is { } extension
            && extension.Texts
                .Exists(t => t.Contains("+proj=merc", StringComparison.Ordinal) && t.Contains("+b=6378137 ", StringComparison.Ordinal));
        double first = parameters.Find("standardparallel1", "latitudeof1ststandardparallel", "latitudeofstandardparallel") ?? double.NaN;
        double origin = parameters.Find(
            "latitudeoforigin", "latitudeofnaturalorigin", "latitudeoffalseorigin", "latitudeofcenter", "latitudeofcentre",
            "latitudeofprojectioncentre") ?? double.NaN;
        CrsDefinition crs = new(root.Name, isWeb ? ProjectionMethod.WebMercator : known, DatumOf(geographic))
        {
            LongitudeOfOrigin = parameters.Find(
                "centralmeridian", "longitudeofnaturalorigin", "longitudeoffalseorigin", "longitudeofcenter", "longitudeofcentre",
                "longitudeoforigin", "straightverticallongitudefrompole") ?? 0,
            LatitudeOfOrigin = origin,
            Parallel1 = first,
            Parallel2 = parameters.Find("standardparallel2", "latitudeof2ndstandardparallel") ?? double.NaN,
            Scale = parameters.Find("scalefactor", "scalefactoratnaturalorigin") ?? 1,
            FalseEasting = parameters.Length("falseeasting", "eastingatfalseorigin"),
            FalseNorthing = parameters.Length("falsenorthing", "northingatfalseorigin"),
            UnitMetres = LinearUnit(root),
        };
        return Completed.Of(crs, southByName: plain == SouthPole);
    }

    private static Datum DatumOf(WktNode geographic)
    {
        if (geographic.Child("PRIMEM", "PRIMEMERIDIAN") is { } meridian && meridian.Numbers.Exists(n => n != 0))
            throw Unknown($"it counts longitudes from {meridian.Name} and not from Greenwich");

        WktNode? unit = geographic.Child("UNIT", "ANGLEUNIT");
        if (unit is { Numbers.Count: > 0 } && Math.Abs(unit.Numbers[0] - Math.PI / 180) > 1e-9)
            throw Unknown($"its angles are in {unit.Name} and not in degrees");

        WktNode datum = geographic.Child("DATUM", "ENSEMBLE", "GEODETICDATUM", "TRF") ?? throw Unknown("it names no datum");
        WktNode? figure = datum.Child("SPHEROID", "ELLIPSOID");
        if (figure is not { Numbers.Count: >= 2 })
            throw Unknown("it names no ellipsoid");

        return Datum.OfName(datum.Name, new Ellipsoid(figure.Numbers[0], figure.Numbers[1]))
            ?? throw Unknown($"its datum \"{datum.Name}\" may lie tens of metres and more from WGS 84");
    }

    private static double LinearUnit(WktNode root)
    {
        WktNode? unit = root.Child("UNIT", "LENGTHUNIT") ?? root.Child("AXIS")?.Child("LENGTHUNIT", "UNIT");
        double metres = unit is { Numbers.Count: > 0 } ? unit.Numbers[0] : 1;
        return metres > 0 ? metres : throw Unknown($"its unit \"{unit!.Name}\" has no length");
    }

    private static GridException Unknown(string why) => new(
        $"The reference system in well-known text cannot be used: {why}; warp the grid, for example with gdalwarp -t_srs EPSG:4326.");

    private sealed class Parameters(WktNode conversion, double unitMetres)
    {
        public double? Find(params string[] names) => First(names)?.Numbers[0];

        /// <summary>A length in metres; its own unit counts before that of the system.</summary>
        public double Length(params string[] names)
        {
            WktNode? node = First(names);
            double unit = node?.Child("LENGTHUNIT", "UNIT") is { Numbers.Count: > 0 } own ? own.Numbers[0] : unitMetres;
            return (node?.Numbers[0] ?? 0) * unit;
        }

        private WktNode? First(string[] names) => names
            .Select(name => conversion.Children.Find(child => child.Keyword == "PARAMETER" && Spelling.Plain(child.Name) == name))
            .FirstOrDefault(node => node is { Numbers.Count: > 0 });
    }
}
