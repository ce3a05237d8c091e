namespace DecayAtlas.Grids.Inspection;

/// <summary>
/// What the values of a grid look like. Up to <see cref="MostCells"/> cells all are read; of a larger grid blocks spread evenly
/// over it, so that the cost is bounded. The same grid always gives the same numbers.
/// </summary>
public sealed class GridStatistics
{
    public const long MostCells = 64L << 20;

    /// <summary>Of a file that is read over the network.</summary>
    private const long MostRemoteCells = 1L << 20;

    /// <summary>More different values than this are not counted.</summary>
    public const int MostDistinct = 256;

    private const int MostKept = 1 << 20;

    private readonly HashSet<double> _distinct = [];
    private readonly List<(uint Lot, double Value)> _kept = [];
    private uint _highestLot = uint.MaxValue;
    private long _valid;
    private double _sum;

    private GridStatistics(long cells) => Cells = cells;

    public long Cells { get; }

    public long CellsRead { get; private set; }

    public bool IsExact => CellsRead == Cells;

    public double MissingShare => CellsRead == 0 ? 1 : 1 - _valid / (double)CellsRead;

    public double? Minimum { get; private set; }

    public double? Maximum { get; private set; }

    /// <summary>Mean of the cells, each counting the same.</summary>
    public double? Mean => _valid == 0 ? null : _sum / _valid;

    public bool AllWhole { get; private set; } = true;

    /// <summary>The different values in rising order; null where there are more than <see cref="MostDistinct"/>.</summary>
    public IReadOnlyList<double>? Distinct => _distinct.Count > MostDistinct ? null : [.. _distinct.Order()];

    /// <exception cref="GridException">The file is damaged.</exception>
    public static GridStatistics Of(Grid grid) => Of(grid, MostCells);

    internal static GridStatistics Of(Grid grid, long mostCells)
    {
        ArgumentNullException.ThrowIfNull(grid);
        if (RemoteAddress.Is(grid.Path))
            mostCells = Math.Min(mostCells, MostRemoteCells);
        GridStatistics found = new((long)grid.Columns * grid.Rows);
        long across = (grid.Columns + (long)grid.BlockColumns - 1) / grid.BlockColumns,
            down = (grid.Rows + (long)grid.BlockRows - 1) / grid.BlockRows;
        (long right, long below) = Steps(across, down, Math.Max(1, mostCells / ((long)grid.BlockColumns * grid.BlockRows)));
        double[] values = new double[(long)grid.BlockColumns * grid.BlockRows];
        for (long row = below / 2; row < down; row += below)
        {
            for (long column = right / 2; column < across; column += right)
            {
                int x = (int)(column * grid.BlockColumns), y = (int)(row * grid.BlockRows);
                int columns = Math.Min(grid.BlockColumns, grid.Columns - x), rows = Math.Min(grid.BlockRows, grid.Rows - y);
                Span<double> block = values.AsSpan(0, columns * rows);
                grid.ReadWindow(x, y, columns, rows, block);
                found.Add(block);
            }
        }

        found._kept.Sort((a, b) => a.Value.CompareTo(b.Value));
        return found;
    }

    /// <summary>The value below which that share of the values lies (linear between neighbours); null where there is none.</summary>
    public double? Quantile(double share)
    {
        if (_kept.Count == 0)
            return null;

        double place = Math.Clamp(share, 0, 1) * (_kept.Count - 1);
        int below = (int)place;
        return _kept[below].Value + (place - below) * (_kept[Math.Min(below + 1, _kept.Count - 1)].Value - _kept[below].Value);
    }

    /// <summary>Every how manieth block is read, across and down, so that no more than that many are.</summary>
    private static (long Right, long Below) Steps(long across, long down, long most)
    {
        double share = across * (double)down / most;
        if (share <= 1)
            return (1, 1);

        // Evenly in both directions; a direction with few blocks leaves the thinning to the other.
        long right = Math.Min(across, (long)Math.Ceiling(Math.Sqrt(share)));
        long below = Math.Min(down, (long)Math.Ceiling(share / right));
        right = Math.Min(across, (long)Math.Ceiling(share / below));
        return (right, below);
    }

    private void Add(ReadOnlySpan<double> values)
    {
        foreach (double value in values)
        {
            CellsRead++;
            if (double.IsNaN(value))
                continue;

            _sum += value;
            Minimum = Minimum is { } low && low <= value ? low : value;
            Maximum = Maximum is { } high && high >= value ? high : value;
            AllWhole &= Math.Floor(value) == value;
            if (_distinct.Count <= MostDistinct)
                _distinct.Add(value);

            // The multiples of the golden section scatter evenly and keep no step with rows or tiles.
            uint lot = unchecked((uint)++_valid * 2654435769u);
            if (lot <= _highestLot)
                Keep(lot, value);
        }
    }

    private void Keep(uint lot, double value)
    {
        _kept.Add((lot, value));
        if (_kept.Count >= MostKept)
        {
            _highestLot /= 2;
            _kept.RemoveAll(k => k.Lot > _highestLot);
        }
    }
}
