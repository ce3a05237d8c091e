namespace DecayAtlas.Grids.Layout;

/// <summary>A tile of a lattice's cells with the places of their centres; used again for every tile.</summary>
public class LatticeTile(GroundLattice lattice)
{
    /// <summary>Columns and rows of a tile, as the writers of maps take them.</summary>
    public const int Size = 256;

    private readonly GeoPoint[] _centres = new GeoPoint[Size * Size];

    public GroundLattice Lattice { get; } = lattice;

    public int Column { get; private set; }

    public int Row { get; private set; }

    public int Columns { get; private set; }

    public int Rows { get; private set; }

    public int Count => Columns * Rows;

    /// <summary>Centres of the cells, row by row.</summary>
    public ReadOnlySpan<GeoPoint> Centres => _centres.AsSpan(0, Count);

    public void Place(int tileColumn, int tileRow)
    {
        (Column, Row) = (tileColumn * Size, tileRow * Size);
        (Columns, Rows) = (Math.Min(Size, Lattice.Columns - Column), Math.Min(Size, Lattice.Rows - Row));
        Parallel.For(0, Rows, y =>
        {
            for (int x = 0; x < Columns; x++)
                _centres[y * Columns + x] = Lattice.CentreOf(Column + x, Row + y);
        });
    }
}
