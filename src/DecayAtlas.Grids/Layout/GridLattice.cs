using System.Runtime.CompilerServices;

namespace DecayAtlas.Grids.Layout;

/// <summary>
/// The cells of a grid in the coordinates of its reference system: columns run along the first axis from
/// <paramref name="West"/>, rows against the second from <paramref name="North"/>. Lengths in the unit of the system
/// (metres for most maps, degrees for longitude and latitude). The edges are the outer edges of the outer cells, whatever the file
/// says about its registration.
/// </summary>
public sealed record GridLattice(int Columns, int Rows, double West, double North, double CellWidth, double CellHeight)
{
    public double East => West + Columns * CellWidth;

    public double South => North - Rows * CellHeight;

    /// <summary>The centre of a cell of a lattice in degrees.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public GeoPoint CentreOf(int column, int row) => new(West + (column + 0.5) * CellWidth, North - (row + 0.5) * CellHeight);

    /// <summary>
    /// Fractional cell coordinates of a point on a lattice in degrees: (0, 0) is the north-west corner of the grid, (0.5, 0.5) the
    /// centre of its first cell. A cell owns its west and north edge; the east and south edge of the whole grid belong to
    /// the last column and row. A longitude outside the grid is tried again one turn (360 degrees) east and west.
    /// </summary>
    /// <returns>False where the point is not on the grid, or a coordinate is not a number.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public bool TryLocate(GeoPoint point, out double column, out double row)
    {
        row = (North - point.LatitudeDegrees) / CellHeight;
        column = ColumnOf(point.LongitudeDegrees);
        return row >= 0 && row <= Rows && column >= 0 && column <= Columns;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private double ColumnOf(double longitudeDegrees)
    {
        double column = (longitudeDegrees - West) / CellWidth;
        return column >= 0 && column < Columns ? column : Turned(longitudeDegrees, column);
    }

    private double Turned(double longitudeDegrees, double column)
    {
        double east = (longitudeDegrees + 360 - West) / CellWidth, west = (longitudeDegrees - 360 - West) / CellWidth;
        // The half-open test first: on a grid round the Earth the east edge is the west edge of column 0.
        return east >= 0 && east < Columns ? east
            : west >= 0 && west < Columns ? west
            : east == Columns || west == Columns ? Columns : column;
    }
}
