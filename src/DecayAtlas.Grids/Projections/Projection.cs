namespace DecayAtlas.Grids.Projections;

/// <summary>
/// The way between a place on the ground and the coordinates that a grid is laid out in. Formulas: Snyder 1987, USGS
/// Professional Paper 1395, and Karney 2011 for the transverse Mercator; ellipsoidal, and exact to well under a millimetre.
/// A reference system that is not known for certain is refused, never guessed.
/// </summary>
public sealed class Projection
{
    private readonly PlaneMethod? _method;

    internal Projection(CrsDefinition definition)
    {
        Definition = definition;
        _method = definition.Method == ProjectionMethod.Geographic ? null : PlaneMethod.Of(definition);
    }

    public static Projection Wgs84 { get; } = new(
        new CrsDefinition("WGS 84", ProjectionMethod.Geographic, Datum.Wgs84) { Code = "EPSG:4326" });

    public string Name => Definition.Name;

    /// <summary>The code it was found by, such as EPSG:3035; null where it was read from a description.</summary>
    public string? Code => Definition.Code;

    /// <summary>Well-known text of version 1 in the spelling of Esri, which most programs read.</summary>
    public string Wkt => WktText.Of(Definition);

    /// <summary>Metres in a unit of the coordinates; of no meaning for degrees.</summary>
    public double UnitMetres => Definition.UnitMetres;

    /// <summary>Whether an area on the map is the area on the WGS 84 ellipsoid.</summary>
    public bool IsEqualArea => !Definition.Ellipsoid.IsSphere && Definition.Method
        is ProjectionMethod.CylindricalEqualArea or ProjectionMethod.Albers or ProjectionMethod.LambertAzimuthal
        or ProjectionMethod.Sinusoidal;

    public bool IsSameAs(Projection other)
    {
        ArgumentNullException.ThrowIfNull(other);
        // Degrees are degrees: datums that may stand for WGS 84 may stand for each other.
        return (IsGeographic && other.IsGeographic) || Definition.IsSameAs(other.Definition);
    }

    /// <summary>Whether the coordinates are degrees of longitude and latitude.</summary>
    public bool IsGeographic => _method is null;

    /// <summary>What is neglected, for people: null, or that another datum is taken as WGS 84 to a metre or two.</summary>
    public string? Caveat => Definition.Datum.Caveat;

    /// <summary>Width of one turn round the Earth in the unit of the coordinates; null where the map is not a plain cylinder.</summary>
    public double? TurnWidth => IsGeographic ? 360 : _method!.TurnWidth / Definition.UnitMetres;

    internal CrsDefinition Definition { get; }

    /// <exception cref="GridException">The text is damaged, or says something that is not known here.</exception>
    public static Projection FromWkt(string text) => new(WktCrs.Read(text));

    /// <summary>The projection of a code such as EPSG:6933, ESRI:54009 or OGC:CRS84, or of well-known text.</summary>
    /// <exception cref="GridException">The reference system is not known here.</exception>
    public static Projection FromText(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string plain = text.Trim();
        return plain.Contains('[', StringComparison.Ordinal) || plain.Contains('(', StringComparison.Ordinal)
            ? FromWkt(plain)
            : new Projection(CrsRegister.Find(plain));
    }

    /// <summary>Coordinates of a place, in the unit of the reference system (metres; degrees where <see cref="IsGeographic"/>).</summary>
    /// <returns>False where the place is not on the map, or a coordinate is not a number.</returns>
    public bool TryProject(GeoPoint point, out double x, out double y)
    {
        if (_method is null)
        {
            (x, y) = (point.LongitudeDegrees, point.LatitudeDegrees);
            return double.IsFinite(x + y);
        }

        bool onMap = _method.Forward(
            FromMeridian(point.LongitudeDegrees), double.DegreesToRadians(point.LatitudeDegrees), out x, out y)
            && Math.Abs(point.LatitudeDegrees) <= 90;
        x = (x + Definition.FalseEasting) / Definition.UnitMetres;
        y = (y + Definition.FalseNorthing) / Definition.UnitMetres;
        return onMap && double.IsFinite(x + y);
    }

    /// <summary>The place of coordinates; longitude in -180..180 for a map.</summary>
    /// <returns>False where there is no ground under the coordinates.</returns>
    public bool TryUnproject(double x, double y, out GeoPoint point)
    {
        if (_method is null)
        {
            point = new GeoPoint(x, y);
            return double.IsFinite(x + y) && Math.Abs(y) <= 90;
        }

        bool onMap = _method.Inverse(
            x * Definition.UnitMetres - Definition.FalseEasting, y * Definition.UnitMetres - Definition.FalseNorthing,
            out double lambda, out double phi);
        double meridian = _method.CountsFromGreenwich ? 0 : Definition.LongitudeOfOrigin;
        double longitude = double.RadiansToDegrees(lambda) + meridian;
        longitude -= 360 * Math.Round(longitude / 360);
        point = new GeoPoint(longitude, double.RadiansToDegrees(phi));
        return onMap && double.IsFinite(point.LongitudeDegrees + point.LatitudeDegrees);
    }

    public override string ToString() => Name;

    // Radians east of the map's meridian, in -pi..pi; the edge keeps the side it was given on.
    private double FromMeridian(double longitudeDegrees)
    {
        double degrees = longitudeDegrees - (_method!.CountsFromGreenwich ? 0 : Definition.LongitudeOfOrigin);
        return double.DegreesToRadians(Math.Abs(degrees) <= 180 ? degrees : Math.IEEERemainder(degrees, 360));
    }
}
