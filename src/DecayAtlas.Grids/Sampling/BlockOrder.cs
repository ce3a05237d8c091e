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
        CellIndex[] asked = cells.ToArray();
        int[] order = Of(grid, cells);
        int first = 0;
        while (first < order.Length && asked[order[first]] == CellIndex.None)
        {
            values[order[first++]] = double.NaN;
        }

        List<(int Column, int Row)> blocks = [];
        List<int> starts = [];
        for (int at = first; at < order.Length; at++)
        {
            CellIndex cell = asked[order[at]];
            (int, int) block = (cell.Column / grid.BlockColumns, cell.Row / grid.BlockRows);
            if (blocks.Count == 0 || blocks[^1] != block)
            {
                blocks.Add(block);
                starts.Add(at);
            }
        }

        starts.Add(order.Length);
        grid.ForEachBlock(blocks, (i, block) =>
        {
            (int column, int row) = (blocks[i].Column * grid.BlockColumns, blocks[i].Row * grid.BlockRows);
            for (int at = starts[i]; at < starts[i + 1]; at++)
            {
                CellIndex cell = asked[order[at]];
                values[order[at]] = block[(cell.Row - row) * grid.BlockColumns + (cell.Column - column)];
            }
        });
        return values;
    }

    /// <summary>Indices of the cells, sorted by block.</summary>
    public static int[] Of(Grid grid, ReadOnlySpan<CellIndex> cells)
    {
        // Blocks are numbered first and only then sorted into the grid's order, so that the many cells sort by one number.
        Dictionary<(int Column, int Row), int> numbers = [];
        int[] blocks = new int[cells.Length];
        int[] order = new int[cells.Length];
        (int, int) last = (-1, -1);
        int number = -1;
        for (int i = 0; i < cells.Length; i++)
        {
            order[i] = i;
            if (cells[i] == CellIndex.None)
            {
                blocks[i] = -1;
                continue;
            }

            (int, int) block = (cells[i].Column / grid.BlockColumns, cells[i].Row / grid.BlockRows);
            if (block != last)
            {
                last = block;
                if (!numbers.TryGetValue(block, out number))
                {
                    number = numbers.Count;
                    numbers.Add(block, number);
                }
            }

            blocks[i] = number;
        }

        (int Column, int Row)[] found = [.. numbers.OrderBy(n => n.Value).Select(n => n.Key)];
        int[] sorted = [.. Enumerable.Range(0, found.Length).OrderBy(n => grid.OrderOf(found[n].Column, found[n].Row))];
        int[] places = new int[found.Length];
        for (int place = 0; place < sorted.Length; place++)
        {
            places[sorted[place]] = place;
        }

        for (int i = 0; i < blocks.Length; i++)
        {
            blocks[i] = blocks[i] < 0 ? -1 : places[blocks[i]];
        }

        Array.Sort(blocks, order);
        return order;
    }
}
