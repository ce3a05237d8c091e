using NetTopologySuite.Features;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Union;
using NetTopologySuite.Precision;
using NetTopologySuite.Simplify;

namespace DecayAtlas.Demo.World;

/// <summary>
/// Two invented countries, told apart by ISO 3166-1 codes that the standard leaves free for users (XA to XZ): Vessany
/// in the north with the volcano island, Torrel in the south.
/// </summary>
internal sealed class Countries(int seed)
{
    public const string North = "XA", South = "XB";

    private const double CoarseDegrees = 0.05, BufferDegrees = 0.05, SimplifyDegrees = 0.02;

    // a map names them; no country is told by them
    private static readonly (string Name, double Longitude, double Latitude)[] Islands =
        [("Kettle Isle", -26.9, -39.1), ("Lesser Isle", -27.2, -41.75), ("Western Isles", -32.7, -40.5), ("Lone Rock", -28.4, -37.8)];

    private static readonly PrecisionModel Precision = new(10_000); // four decimals, about ten metres
    private readonly Noise _border = new(seed, "border");

    public string CodeOf(double longitude, double latitude) => latitude > BorderLatitude(longitude) ? North : South;

    /// <summary>How far a place lies from the border, in degrees of latitude.</summary>
    public double DegreesFromBorder(double longitude, double latitude) => Math.Abs(latitude - BorderLatitude(longitude));

    /// <summary>
    /// The outlines, following the coast a few kilometres out at sea, cut along the border, as GeoJSON with property <c>country_code</c>.
    /// </summary>
    public string GeoJson(Field elevation)
    {
        Geometry land = DouglasPeuckerSimplifier.Simplify(LandOnCoarseLattice(elevation).Buffer(BufferDegrees), SimplifyDegrees);
        Polygon northHalf = NorthHalf();
        return GeoJsonText.Of(
        [
            Outline(land.Intersection(northHalf), North, "Vessany"),
            Outline(land.Difference(northHalf), South, "Torrel"),
            .. Islands.Select(i => new Feature(new Point(i.Longitude, i.Latitude), new AttributesTable { { "name", i.Name } })),
        ]) + "\n";
    }

    private double BorderLatitude(double longitude)
    {
        double x = longitude + 29.5;
        double onMainIsland = -40.45 + (0.16 * x) + (0.22 * _border.Fractal(x * 1.3, 0.5, 3));
        // At sea the border turns south, so that it runs between the smaller islands and not across them.
        double east = Ramp(x, 1.45, 1.95), west = Ramp(-x, 2.05, 2.45);
        return (onMainIsland * (1 - east - west)) + (-40.95 * east) + (-41.75 * west);
    }

    private static double Ramp(double value, double from, double to) => Math.Clamp((value - from) / (to - from), 0, 1);

    private static Feature Outline(Geometry geometry, string code, string name) =>
        new(GeometryPrecisionReducer.Reduce(geometry, Precision), new AttributesTable { { "country_code", code }, { "name", name } });

    private Polygon NorthHalf()
    {
        List<Coordinate> ring =
        [
            new(InventedRegion.EastDegrees + 1, InventedRegion.NorthDegrees + 1),
            new(InventedRegion.WestDegrees - 1, InventedRegion.NorthDegrees + 1),
        ];
        for (double x = InventedRegion.WestDegrees - 1; x <= InventedRegion.EastDegrees + 1.001; x += 0.1)
            ring.Add(new Coordinate(Math.Round(x, 3), Math.Round(BorderLatitude(x), 4)));

        ring.Add(ring[0].Copy());
        return new Polygon(new LinearRing([.. ring]));
    }

    private static Geometry LandOnCoarseLattice(Field elevation)
    {
        int factor = (int)Math.Round(CoarseDegrees / InventedRegion.CellDegrees);
        GeometryFactory factory = GeometryFactory.Default;
        List<Geometry> boxes = [];
        for (int row = 0; row < InventedRegion.Rows / factor; row++)
        {
            double north = InventedRegion.NorthDegrees - (row * CoarseDegrees);
            int? start = null;
            for (int column = 0; column <= InventedRegion.Columns / factor; column++)
            {
                bool land = column < InventedRegion.Columns / factor && HasLand(elevation, column * factor, row * factor, factor);
                if (land) start ??= column;
                if (land || start is not { } first) continue;
                boxes.Add(factory.ToGeometry(new Envelope(
                    InventedRegion.WestDegrees + (first * CoarseDegrees), InventedRegion.WestDegrees + (column * CoarseDegrees),
                    north - CoarseDegrees, north)));
                start = null;
            }
        }

        return CascadedPolygonUnion.Union(boxes);
    }

    private static bool HasLand(Field elevation, int column, int row, int size) =>
        Enumerable.Range(0, size * size).Any(i => !double.IsNaN(elevation[column + (i % size), row + (i / size)]));
}
