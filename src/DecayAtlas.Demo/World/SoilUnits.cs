using NetTopologySuite.Features;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Union;

namespace DecayAtlas.Demo.World;

/// <summary>A coarse map of soil units, as polygons, and organic carbon by depth: both follow what the fine grids show.</summary>
internal static class SoilUnits
{
    /// <summary>Cells of the fine lattice on a side of a square of the map.</summary>
    private const int Side = 8;

    /// <summary>Layers of the carbon grid, cm below the surface, and how much each holds of what the surface does.</summary>
    public static readonly IReadOnlyList<(double Top, double Bottom, double Share)> CarbonLayers =
        [(0, 5, 1), (5, 15, 0.7), (15, 30, 0.42)];

    /// <summary>Organic carbon at the surface, g/kg: wet and cold soils hold more.</summary>
    public static double SurfaceCarbon(double soilMoisture, double temperatureCelsius) =>
        8 + (70 * soilMoisture * soilMoisture) + (1.2 * Math.Max(0, 14 - temperatureCelsius));

    /// <summary>The units that there are, in order of their names, each with its squares drawn together, as GeoJSON.</summary>
    public static string GeoJson(InventedWorld world) => GeoJsonText.Of(
        from row in Enumerable.Range(0, InventedRegion.Rows / Side)
        from column in Enumerable.Range(0, InventedRegion.Columns / Side)
        let unit = UnitOf(world, column * Side, row * Side)
        where unit is not null
        group Square(column, row) by unit into squares
        orderby squares.Key
        select new Feature(UnaryUnionOp.Union(squares), new AttributesTable { { "unit", squares.Key } }));

    /// <summary>The unit of a square from the means over its land; null over the sea.</summary>
    private static string? UnitOf(InventedWorld world, int column, int row)
    {
        (double Height, double Moisture, double Clay, int Count) sum = default;
        for (int i = 0; i < Side * Side; i++)
        {
            int x = column + (i % Side), y = row + (i / Side);
            if (double.IsNaN(world.Elevation[x, y])) continue;
            sum = (sum.Height + world.Elevation[x, y], sum.Moisture + world.SoilMoisture[x, y], sum.Clay + world.Clay[x, y], sum.Count + 1);
        }

        return sum.Count == 0 ? null
            : sum.Height / sum.Count > 900 ? "stony-soil"
            : sum.Moisture / sum.Count > 0.78 ? "peaty-soil"
            : (sum.Clay / sum.Count) switch { > 32 => "clay-loam", < 20 => "sandy-loam", _ => "loam" };
    }

    private static Polygon Square(int column, int row)
    {
        // Corners come from whole numbers, so that neighbours share them to the last digit.
        double West(int c) => Math.Round(InventedRegion.WestDegrees + (c * Side * InventedRegion.CellDegrees), 6);
        double North(int r) => Math.Round(InventedRegion.NorthDegrees - (r * Side * InventedRegion.CellDegrees), 6);
        return (Polygon)new GeometryFactory().ToGeometry(new Envelope(West(column), West(column + 1), North(row + 1), North(row)));
    }
}
