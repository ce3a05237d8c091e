namespace DecayAtlas.Grids.Layout;

/// <summary>Cells in a reference system, and where they lie on the ground.</summary>
public record GroundLattice(Projection Projection, GridLattice Cells)
{
    public int Columns => Cells.Columns;

    public int Rows => Cells.Rows;

    public long Count => (long)Columns * Rows;

    /// <summary>The place of a cell's centre; not-a-number off the map. Longitudes of a map over the antimeridian run on beyond
    /// 180.</summary>
    public GeoPoint CentreOf(int column, int row) => PlaceOf(column + 0.5, row + 0.5);

    /// <summary>The place of fractional cell coordinates.</summary>
    public GeoPoint PlaceOf(double column, double row) =>
        Projection.TryUnproject(Cells.West + column * Cells.CellWidth, Cells.North - row * Cells.CellHeight, out GeoPoint place)
            ? place : new(double.NaN, double.NaN);

    /// <summary>Area of a cell on the WGS 84 ellipsoid, m²; NaN off the map.</summary>
    public double AreaOf(int column, int row) => EllipsoidalArea.OfCell(Projection, Cells, column, row);
}
