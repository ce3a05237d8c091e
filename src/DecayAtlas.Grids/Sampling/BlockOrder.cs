namespace DecayAtlas.Grids;

/// <summary>A cell of a grid, counted from 0 in the north-west.</summary>
internal readonly record struct CellIndex(int Column, int Row)
{
    /// <summary>No cell: off the grid.</summary>
    public static readonly CellIndex None = new(-1, -1);
}

/// <summary>Cells of one block that are wanted.</summary>
/// <param name="Column">Column of the block.</param>
/// <param name="Row">Row of the block.</param>
/// <param name="Cells">Where each cell stands in the block, row by row.</param>
/// <param name="Targets">Where its value goes.</param>
internal sealed record BlockRequest(int Column, int Row, int[] Cells, ReadOnlyMemory<int> Targets);

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

        List<BlockRequest> requests = [];
        for (int from = first; from < order.Length;)
        {
            (int column, int row) = (asked[order[from]].Column / grid.BlockColumns, asked[order[from]].Row / grid.BlockRows);
            int to = from + 1;
            while (to < order.Length && asked[order[to]].Column / grid.BlockColumns == column && asked[order[to]].Row / grid.BlockRows == row)
            {
                to++;
            }

            int[] places = new int[to - from];
            for (int i = 0; i < places.Length; i++)
            {
                CellIndex cell = asked[order[from + i]];
                places[i] = (cell.Row - row * grid.BlockRows) * grid.BlockColumns + (cell.Column - column * grid.BlockColumns);
            }

            requests.Add(new BlockRequest(column, row, places, order.AsMemory(from, to - from)));
            from = to;
        }

        grid.ReadBlocks(requests, values);
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
