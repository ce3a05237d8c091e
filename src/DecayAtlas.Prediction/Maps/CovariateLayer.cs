using DecayAtlas.Grids;

namespace DecayAtlas.Prediction;

/// <summary>
/// One covariate, read at the cell centres of a map, a window at a time. The catalogue's rule (nearest or bilinear) applies;
/// its search for the nearest valid cell does not: that search forgives a site whose stated position falls just off a
/// coast, and on a map it would invent land.
/// </summary>
internal sealed class CovariateLayer : IDisposable
{
    private const double Aligned = 1e-6;

    private readonly Grid grid;
    private readonly SamplingRule rule;
    private readonly GridGeometry lattice;
    private readonly (int Column, int Row)? shift;

    public CovariateLayer(Grid grid, SamplingRule rule, GridGeometry lattice)
    {
        this.grid = grid;
        this.rule = rule;
        this.lattice = lattice;
        shift = ShiftOf(grid.Geometry, lattice);
    }

    /// <summary>Values at the cell centres of the window, row by row; NaN where missing or off the grid.</summary>
    public void Read(int column, int row, int columns, int rows, double[] values)
    {
        if (shift is { } s)
            ReadAligned(column + s.Column, row + s.Row, columns, rows, values);
        else
            ReadSampled(column, row, columns, rows, values);
    }

    public void Dispose() => grid.Dispose();

    /// <summary>Cell centres coincide, so either rule gives the cell itself and no sampling is needed.</summary>
    private void ReadAligned(int column, int row, int columns, int rows, double[] values)
    {
        values.AsSpan(0, columns * rows).Fill(double.NaN);
        int west = Math.Max(column, 0), east = Math.Min(column + columns, grid.Geometry.Columns);
        int north = Math.Max(row, 0), south = Math.Min(row + rows, grid.Geometry.Rows);
        if (west >= east || north >= south)
            return;
        // Row by row into place; the grid keeps decoded blocks, so this decodes nothing twice.
        for (int y = north; y < south; y++)
            grid.ReadWindow(west, y, east - west, 1, values.AsSpan((y - row) * columns + (west - column), east - west));
    }

    private void ReadSampled(int column, int row, int columns, int rows, double[] values)
    {
        var centres = new GeoPoint[columns * rows];
        for (int y = 0, i = 0; y < rows; y++)
            for (int x = 0; x < columns; x++, i++)
                centres[i] = lattice.CentreOf(column + x, row + y);
        var samples = GridSampler.Sample(grid, centres, rule, validWithinMetres: null);
        for (int i = 0; i < samples.Count; i++)
            values[i] = samples[i].Value ?? double.NaN;
    }

    /// <summary>How many cells the lattice's first cell lies into the grid, when both have the same cells.</summary>
    private static (int, int)? ShiftOf(GridGeometry grid, GridGeometry lattice)
    {
        double columns = (lattice.WestDegrees - grid.WestDegrees) / grid.CellWidthDegrees;
        double rows = (grid.NorthDegrees - lattice.NorthDegrees) / grid.CellHeightDegrees;
        bool SameStep(double one, double other, int count) => Math.Abs(one - other) * count < Aligned * other;
        bool Whole(double v) => Math.Abs(v - Math.Round(v)) < Aligned;
        bool aligned = SameStep(grid.CellWidthDegrees, lattice.CellWidthDegrees, lattice.Columns)
            && SameStep(grid.CellHeightDegrees, lattice.CellHeightDegrees, lattice.Rows)
            && Whole(columns) && Whole(rows)
            // Columns west of a grid round the Earth are its eastern ones; the sampler turns them, a window does not.
            && !(grid.GoesRoundTheEarth && (columns < -0.5 || columns + lattice.Columns > grid.Columns + 0.5));
        return aligned ? ((int)Math.Round(columns), (int)Math.Round(rows)) : null;
    }
}
