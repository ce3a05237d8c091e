namespace DecayAtlas.Prediction.Pictures;

/// <summary>
/// The map thinned to what a picture can show, filled while the map streams by: a pixel is the mean of the predicted cells of
/// a square of <see cref="CellsPerPixel"/> x <see cref="CellsPerPixel"/> cells. Never more than
/// <see cref="MaximumSide"/> x <see cref="MaximumSide"/> pixels of 20 bytes (29 MB), whatever the region.
/// </summary>
internal sealed class ThinnedMap
{
    public const int MaximumSide = 1200;

    private readonly double[] _sums;
    private readonly int[] _counts, _outside, _untold;

    public ThinnedMap(int cellColumns, int cellRows, int maximumSide = MaximumSide)
    {
        CellsPerPixel = (Math.Max(cellColumns, cellRows) + maximumSide - 1) / maximumSide;
        Columns = (cellColumns + CellsPerPixel - 1) / CellsPerPixel;
        Rows = (cellRows + CellsPerPixel - 1) / CellsPerPixel;
        CellColumns = cellColumns;
        CellRows = cellRows;
        _sums = new double[Columns * Rows];
        _counts = new int[Columns * Rows];
        _outside = new int[Columns * Rows];
        _untold = new int[Columns * Rows];
    }

    public int CellsPerPixel { get; }

    public int CellColumns { get; }

    public int CellRows { get; }

    public int Columns { get; }

    public int Rows { get; }

    public void Add(int cellColumn, int cellRow, double ratePerDay, bool isApplicable, bool isTold = true)
    {
        int pixel = cellRow / CellsPerPixel * Columns + cellColumn / CellsPerPixel;
        _sums[pixel] += ratePerDay;
        _counts[pixel]++;
        if (!isApplicable)
            _outside[pixel]++;
        if (!isTold)
            _untold[pixel]++;
    }

    /// <summary>Mean of the pixel; NaN where no cell has a prediction.</summary>
    public double RateAt(int column, int row)
    {
        int pixel = row * Columns + column;
        return _counts[pixel] == 0 ? double.NaN : _sums[pixel] / _counts[pixel];
    }

    /// <summary>Whether at least half of the pixel's predicted cells lie outside the area of applicability.</summary>
    public bool IsOutsideAt(int column, int row)
    {
        int pixel = row * Columns + column;
        return _counts[pixel] > 0 && _outside[pixel] * 2 >= _counts[pixel];
    }

    /// <summary>Whether at least half of the pixel's cells are not told apart from no change.</summary>
    public bool IsUntoldAt(int column, int row)
    {
        int pixel = row * Columns + column;
        return _counts[pixel] > 0 && _untold[pixel] * 2 >= _counts[pixel];
    }

    public PictureShows Shows() => new(
        Enumerable.Range(0, _counts.Length).Any(p => _counts[p] > 0 && _outside[p] * 2 >= _counts[p]),
        // hatched where it is both
        Enumerable.Range(0, _counts.Length).Any(p => _counts[p] > 0 && _untold[p] * 2 >= _counts[p] && _outside[p] * 2 < _counts[p]),
        _counts.Contains(0));

    /// <summary>Quantiles of the predicted pixels (linear between order statistics); null when there is none.</summary>
    public (double Low, double High)? Between(double low, double high) => Between(low, high, p => _counts[p] > 0);

    /// <summary>The same of those that lie within the area of applicability, so that what must not be used sets no colours; of all where
    /// none does.</summary>
    public (double Low, double High)? BetweenApplicable(double low, double high) =>
        Between(low, high, p => _counts[p] > 0 && _outside[p] * 2 < _counts[p]) ?? Between(low, high);

    private (double Low, double High)? Between(double low, double high, Func<int, bool> counts)
    {
        double[] rates = Quantiles.Sort(Enumerable.Range(0, _sums.Length).Where(counts).Select(p => _sums[p] / _counts[p]));
        return rates.Length == 0 ? null : (Quantiles.Of(rates, low), Quantiles.Of(rates, high));
    }
}
