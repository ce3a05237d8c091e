namespace DecayAtlas.Demo.Scoring;

/// <summary>How close a predicted map of decay rate comes to the true one, over the cells that have a value in both.</summary>
/// <param name="Cells">Cells compared.</param>
/// <param name="RootMeanSquareErrorLn">Root mean square of ln k predicted - ln k true (1).</param>
/// <param name="BiasLn">Mean of ln k predicted - ln k true (1); positive where the map is too fast.</param>
/// <param name="RSquared">1 - sum of squared errors / sum of squares of the truth about its mean (1); can be negative.</param>
/// <param name="Correlation">Pearson's correlation of the two ln k (1).</param>
public sealed record TruthComparison(long Cells, double RootMeanSquareErrorLn, double BiasLn, double RSquared, double Correlation)
{
    /// <summary>
    /// Compares cell by cell; a predicted cell is held against the true cell its centre lies in, so that the maps need
    /// not share a lattice. Reads strips of rows: memory grows with the maps' width, not with their height.
    /// </summary>
    /// <param name="predicted">Map of k per day; cells that are missing or not above zero are left out.</param>
    /// <param name="truth">True map of k per day.</param>
    /// <exception cref="DemoException">The maps have fewer than two cells in common.</exception>
    public static TruthComparison Of(Grid predicted, Grid truth)
    {
        ArgumentNullException.ThrowIfNull(predicted);
        ArgumentNullException.ThrowIfNull(truth);
        Sums sums = new();
        GridLattice map = predicted.LatticeInDegrees;
        int stripRows = Math.Max(1, predicted.BlockRows);
        double[] values = new double[(long)map.Columns * stripRows];
        double[] trueRow = new double[truth.LatticeInDegrees.Columns];
        for (int top = 0; top < map.Rows; top += stripRows)
        {
            int rows = Math.Min(stripRows, map.Rows - top);
            Span<double> strip = values.AsSpan(0, map.Columns * rows);
            predicted.ReadWindow(0, top, map.Columns, rows, strip);
            for (int row = 0; row < rows; row++)
            {
                if (TrueRowOf(map, truth.LatticeInDegrees, top + row) is not { } trueIndex) continue;
                truth.ReadWindow(0, trueIndex, truth.LatticeInDegrees.Columns, 1, trueRow);
                AddRow(sums, map, top + row, strip.Slice(row * map.Columns, map.Columns), truth.LatticeInDegrees, trueRow);
            }
        }

        return sums.Count >= 2 ? sums.Compare() : throw new DemoException(
            $"{predicted.Path} and {truth.Path} have {sums.Count} cells with a value in both; at least 2 are needed to compare them. "
            + "Do both cover the same region?");
    }

    /// <summary>Opens both files and compares them.</summary>
    /// <param name="predictedPath">Map of k per day.</param>
    /// <param name="truthPath">True map of k per day.</param>
    /// <param name="predictedBand">Band of the prediction in its file, from 1.</param>
    /// <exception cref="GridException">A file cannot be read.</exception>
    public static TruthComparison OfFiles(string predictedPath, string truthPath, int predictedBand = 1)
    {
        using Grid predicted = GridFile.Open(predictedPath, new GridReadOptions(predictedBand));
        using Grid truth = GridFile.Open(truthPath);
        return Of(predicted, truth);
    }

    private static int? TrueRowOf(GridLattice map, GridLattice truth, int row)
    {
        double y = (truth.North - map.CentreOf(0, row).LatitudeDegrees) / truth.CellHeight;
        return y >= 0 && y < truth.Rows ? (int)y : null;
    }

    private static void AddRow(Sums sums, GridLattice map, int row, ReadOnlySpan<double> predicted, GridLattice truth, double[] trueRow)
    {
        for (int column = 0; column < predicted.Length; column++)
        {
            double k = predicted[column];
            if (!(k > 0) || !truth.TryLocate(map.CentreOf(column, row), out double x, out _)) continue;
            double known = trueRow[Math.Min((int)x, truth.Columns - 1)];
            if (known > 0) sums.Add(Math.Log(k), Math.Log(known));
        }
    }

    // Running means (Welford 1962): sums of squares of nearly equal numbers would lose digits over millions of cells.
    private sealed class Sums
    {
        private double _meanX, _meanY, _sxx, _syy, _sxy, _squaredErrors;

        public long Count { get; private set; }

        public void Add(double x, double y)
        {
            Count++;
            double dx = x - _meanX, dy = y - _meanY;
            _meanX += dx / Count;
            _meanY += dy / Count;
            _sxx += dx * (x - _meanX);
            _syy += dy * (y - _meanY);
            _sxy += dx * (y - _meanY);
            _squaredErrors += (x - y) * (x - y);
        }

        public TruthComparison Compare() => new(
            Count, Math.Sqrt(_squaredErrors / Count), _meanX - _meanY, 1 - (_squaredErrors / _syy), _sxy / Math.Sqrt(_sxx * _syy));
    }
}
