namespace DecayAtlas.Grids;

/// <summary>A cell of a grid, counted from 0 in the north-west.</summary>
internal readonly record struct CellIndex(int Column, int Row)
{
    /// <summary>No cell: off the grid.</summary>
    public static readonly CellIndex None = new(-1, -1);
}

/// <summary>Reads scattered cells in the order in which their blocks stand in the file.</summary>
internal static class BlockOrder
{
    /// <summary>The value of each cell, in the order asked; NaN for <see cref="CellIndex.None"/>.</summary>
    public static double[] Read(Grid grid, ReadOnlySpan<CellIndex> cells)
    {
        double[] values = new double[cells.Length];
        foreach (int i in Of(grid, cells))
        {
            CellIndex cell = cells[i];
            values[i] = cell == CellIndex.None ? double.NaN : grid.ReadCell(cell.Column, cell.Row);
        }

        return values;
    }

    /// <summary>Indices of the cells, sorted by block.</summary>
    public static int[] Of(Grid grid, ReadOnlySpan<CellIndex> cells)
    {
        long[] blocks = new long[cells.Length];
        int[] order = new int[cells.Length];
        long across = (long)grid.Columns / grid.BlockColumns + 1;
        for (int i = 0; i < cells.Length; i++)
        {
            order[i] = i;
            blocks[i] = cells[i] == CellIndex.None
                ? -1
                : cells[i].Row / grid.BlockRows * across + cells[i].Column / grid.BlockColumns;
        }

        Array.Sort(blocks, order);
        return order;
    }
}
