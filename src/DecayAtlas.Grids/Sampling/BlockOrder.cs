using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace DecayAtlas.Grids.Sampling;

/// <summary>A cell of a grid, counted from 0 in the north-west.</summary>
internal readonly record struct CellIndex(int Column, int Row)
{
    public static readonly CellIndex None = new(-1, -1);
}

/// <summary>Reads scattered cells in the order in which their blocks stand in the file.</summary>
internal static class BlockOrder
{
    /// <summary>The value of each cell, in the order asked; NaN for <see cref="CellIndex.None"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static double[] Read(Grid grid, CellIndex[] asked)
    {
        double[] values = new double[asked.Length];
        int[] order = Of(grid, asked);
        int first = 0;
        while (first < order.Length && asked[order[first]] == CellIndex.None)
            values[order[first++]] = double.NaN;

        List<BlockRequest> requests = [];
        for (int from = first; from < order.Length;)
        {
            (int column, int row) = (asked[order[from]].Column / grid.BlockColumns, asked[order[from]].Row / grid.BlockRows);
            int to = from + 1;
            while (to < order.Length && asked[order[to]].Column / grid.BlockColumns == column
                && asked[order[to]].Row / grid.BlockRows == row)
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

    /// <summary>Indices of the cells, sorted by block; within a block in the order given. Cells off the grid come first.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static int[] Of(Grid grid, ReadOnlySpan<CellIndex> cells)
    {
        // Blocks are numbered as they turn up, the numbers are put into the grid's order, and the cells are dealt out by
        // counting: the many cells are only walked through, and equal ones keep their order.
        BlockNumbers numbers = new(grid, cells.Length);
        int[] blocks = new int[cells.Length];
        for (int i = 0; i < cells.Length; i++)
            blocks[i] = cells[i] == CellIndex.None ? -1 : numbers.Of(cells[i]);

        int[] sorted = [.. Enumerable.Range(0, numbers.Count).OrderBy(n => grid.OrderOf(numbers[n].Column, numbers[n].Row))];
        int[] places = new int[sorted.Length];
        for (int place = 0; place < sorted.Length; place++)
            places[sorted[place]] = place + 1;

        int[] starts = new int[sorted.Length + 2];
        foreach (int block in blocks)
            starts[(block < 0 ? 0 : places[block]) + 1]++;

        for (int place = 1; place < starts.Length; place++)
            starts[place] += starts[place - 1];

        int[] order = new int[cells.Length];
        for (int i = 0; i < blocks.Length; i++)
            order[starts[blocks[i] < 0 ? 0 : places[blocks[i]]]++] = i;

        return order;
    }

    /// <summary>Numbers blocks from 0 in the order in which they turn up.</summary>
    private sealed class BlockNumbers
    {
        private readonly Dictionary<long, int>? _sparse;
        private readonly int[]? _dense;
        private readonly List<(int Column, int Row)> _found = [];
        private readonly uint _blockColumns;
        private readonly uint _blockRows;
        private readonly long _across;
        private long _last = -1;
        private int _lastNumber;

        public BlockNumbers(Grid grid, int cells)
        {
            (_blockColumns, _blockRows) = ((uint)grid.BlockColumns, (uint)grid.BlockRows);
            _across = (grid.Columns + (long)grid.BlockColumns - 1) / grid.BlockColumns;
            long blocks = _across * ((grid.Rows + (long)grid.BlockRows - 1) / grid.BlockRows);
            // A table of all blocks where it is no larger than what the cells take anyway.
            (_dense, _sparse) = blocks <= Math.Max(1 << 16, cells) ? (new int[blocks], (Dictionary<long, int>?)null) : (null, []);
        }

        public int Count => _found.Count;

        public (int Column, int Row) this[int number] => _found[number];

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public int Of(CellIndex cell)
        {
            int column = (int)((uint)cell.Column / _blockColumns), row = (int)((uint)cell.Row / _blockRows);
            long block = row * _across + column;
            if (block == _last)
                return _lastNumber;

            _last = block;
            ref int number =
                ref (_dense is not null ? ref _dense[block] : ref CollectionsMarshal.GetValueRefOrAddDefault(_sparse!, block, out _));
            if (number == 0)
            {
                _found.Add((column, row));
                number = _found.Count;
            }

            return _lastNumber = number - 1;
        }
    }
}
