namespace DecayAtlas.Grids.Layout;

/// <summary>
/// The cells of a grid in the coordinates of its reference system: columns run along the first axis from
/// <paramref name="West"/>, rows against the second from <paramref name="North"/>. Lengths in the unit of the system
/// (metres for most maps, degrees for longitude and latitude). The edges are the outer edges of the outer cells.
/// </summary>
public sealed record GridLattice(int Columns, int Rows, double West, double North, double CellWidth, double CellHeight)
{
    public double East => West + Columns * CellWidth;

    public double South => North - Rows * CellHeight;
}
