using System.Runtime.CompilerServices;

namespace DecayAtlas.Grids.Layout;

/// <summary>
/// Where the cells of a north-up grid lie: columns run east from <paramref name="WestDegrees"/>, rows run south
/// from <paramref name="NorthDegrees"/>. The edges are the outer edges of the outer cells, whatever the file says
/// about its registration.
/// </summary>
/// <param name="Columns">Number of columns.</param>
/// <param name="Rows">Number of rows.</param>
/// <param name="WestDegrees">Longitude of the west edge of column 0, degrees.</param>
/// <param name="NorthDegrees">Latitude of the north edge of row 0, degrees.</param>
/// <param name="CellWidthDegrees">East-west size of a cell, degrees, positive.</param>
/// <param name="CellHeightDegrees">North-south size of a cell, degrees, positive.</param>
public sealed record GridGeometry(
    int Columns,
    int Rows,
    double WestDegrees,
    double NorthDegrees,
    double CellWidthDegrees,
    double CellHeightDegrees)
{
    public double EastDegrees => WestDegrees + Columns * CellWidthDegrees;

    public double SouthDegrees => NorthDegrees - Rows * CellHeightDegrees;

    /// <summary>Whether the columns go once round the Earth, so that the last one touches the first.</summary>
    public bool GoesRoundTheEarth => Math.Abs(Columns * CellWidthDegrees - 360) < 1e-6 * CellWidthDegrees * Columns;

    /// <summary>The centre of a cell.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public GeoPoint CentreOf(int column, int row) => new(
        WestDegrees + (column + 0.5) * CellWidthDegrees,
        NorthDegrees - (row + 0.5) * CellHeightDegrees);

    /// <summary>
    /// Fractional cell coordinates of a point: (0, 0) is the north-west corner of the grid, (0.5, 0.5) the centre
    /// of its first cell. A cell owns its west and north edge; the east and south edge of the whole grid belong to
    /// the last column and row. A longitude outside the grid is tried again one turn (360 degrees) east and west.
    /// </summary>
    /// <returns>False where the point is not on the grid, or a coordinate is not a number.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public bool TryLocate(GeoPoint point, out double column, out double row)
    {
        row = (NorthDegrees - point.LatitudeDegrees) / CellHeightDegrees;
        column = ColumnOf(point.LongitudeDegrees);
        return row >= 0 && row <= Rows && column >= 0 && column <= Columns;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private double ColumnOf(double longitudeDegrees)
    {
        double column = (longitudeDegrees - WestDegrees) / CellWidthDegrees;
        return column >= 0 && column < Columns ? column : Turned(longitudeDegrees, column);
    }

    private double Turned(double longitudeDegrees, double column)
    {
        double east = (longitudeDegrees + 360 - WestDegrees) / CellWidthDegrees;
        double west = (longitudeDegrees - 360 - WestDegrees) / CellWidthDegrees;
        // The half-open test first: on a grid round the Earth the east edge is the west edge of column 0.
        foreach (double turned in (ReadOnlySpan<double>)[east, west])
        {
            if (turned >= 0 && turned < Columns)
                return turned;
        }

        return east == Columns || west == Columns ? Columns : column;
    }
}
