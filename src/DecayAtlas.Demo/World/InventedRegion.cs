namespace DecayAtlas.Demo.World;

/// <summary>
/// Where the invented islands lie: open South Atlantic, far from any land, across the meridian 30 W and the parallel
/// 40 S, so that the region falls into four blocks of ten degrees.
/// </summary>
internal static class InventedRegion
{
    public const double WestDegrees = -34, EastDegrees = -25, SouthDegrees = -43, NorthDegrees = -37;
    public const double CellDegrees = 0.0125;
    public const int Columns = 720, Rows = 480;

    /// <summary>Kilometres in one degree of latitude on the sphere of mean radius 6371 km.</summary>
    public const double KilometresPerDegree = 111.195;

    public static double LongitudeOf(double column) => WestDegrees + ((column + 0.5) * CellDegrees);

    public static double LatitudeOf(double row) => NorthDegrees - ((row + 0.5) * CellDegrees);

    /// <summary>A place in every cell of a square of some reach about a place.</summary>
    public static IEnumerable<(double Longitude, double Latitude)> Around(double longitude, double latitude, double reachDegrees)
    {
        for (double dy = -reachDegrees; dy <= reachDegrees + 1e-9; dy += CellDegrees)
            for (double dx = -reachDegrees; dx <= reachDegrees + 1e-9; dx += CellDegrees) yield return (longitude + dx, latitude + dy);
    }

    /// <summary>Great-circle distance in kilometres (haversine).</summary>
    public static double DistanceKilometres(double longitude1, double latitude1, double longitude2, double latitude2)
    {
        double radians = Math.PI / 180;
        double dLat = (latitude2 - latitude1) * radians, dLon = (longitude2 - longitude1) * radians;
        double h = (Math.Sin(dLat / 2) * Math.Sin(dLat / 2))
            + (Math.Cos(latitude1 * radians) * Math.Cos(latitude2 * radians) * Math.Sin(dLon / 2) * Math.Sin(dLon / 2));
        return 2 * 6371 * Math.Asin(Math.Sqrt(h));
    }
}

/// <summary>One quantity on the region's fine lattice, row 0 in the north; NaN over the sea.</summary>
internal sealed class Field
{
    public double[] Values { get; } = new double[InventedRegion.Columns * InventedRegion.Rows];

    public double this[int column, int row]
    {
        get => Values[(row * InventedRegion.Columns) + column];
        set => Values[(row * InventedRegion.Columns) + column] = value;
    }

    /// <summary>The value in the cell holding the place; NaN over the sea and outside the region.</summary>
    public double At(double longitude, double latitude)
    {
        int column = (int)Math.Floor((longitude - InventedRegion.WestDegrees) / InventedRegion.CellDegrees);
        int row = (int)Math.Floor((InventedRegion.NorthDegrees - latitude) / InventedRegion.CellDegrees);
        return column is < 0 or >= InventedRegion.Columns || row is < 0 or >= InventedRegion.Rows ? double.NaN : this[column, row];
    }

    /// <summary>
    /// Fills every cell from a function of column, row, longitude and latitude; rows run in parallel, which cannot change the values.
    /// </summary>
    public static Field Of(Func<int, int, double, double, double> value)
    {
        Field field = new();
        Parallel.For(0, InventedRegion.Rows, row =>
        {
            double latitude = InventedRegion.LatitudeOf(row);
            for (int column = 0; column < InventedRegion.Columns; column++)
                field[column, row] = value(column, row, InventedRegion.LongitudeOf(column), latitude);
        });
        return field;
    }

    /// <summary>Box mean over (2 reach + 1) squared cells, done twice, which is close to a Gaussian; for fields without gaps.</summary>
    public Field Smoothed(int reach)
    {
        Field current = this;
        for (int pass = 0; pass < 2; pass++)
            current = current.BoxMean(reach, alongRows: true).BoxMean(reach, alongRows: false);

        return current;
    }

    private Field BoxMean(int reach, bool alongRows)
    {
        Field result = new();
        int lines = alongRows ? InventedRegion.Rows : InventedRegion.Columns,
            length = alongRows ? InventedRegion.Columns : InventedRegion.Rows;
        int step = alongRows ? 1 : InventedRegion.Columns, lineStep = alongRows ? InventedRegion.Columns : 1;
        Parallel.For(0, lines, line =>
        {
            int start = line * lineStep;
            for (int i = 0; i < length; i++)
            {
                double sum = 0;
                for (int k = -reach; k <= reach; k++) sum += Values[start + (Math.Clamp(i + k, 0, length - 1) * step)];
                result.Values[start + (i * step)] = sum / ((2 * reach) + 1);
            }
        });
        return result;
    }
}
