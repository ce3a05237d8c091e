namespace DecayAtlas.Prediction.Pictures;

/// <summary>
/// The map thinned to what a picture can show, filled while the map streams by: a pixel is the mean of the predicted cells of
/// a square of <see cref="CellsPerPixel"/> x <see cref="CellsPerPixel"/> cells. Never more than
/// <see cref="MaximumSide"/> x <see cref="MaximumSide"/> pixels of 16 bytes (23 MB), whatever the region.
/// </summary>
internal sealed class ThinnedMap
{
    public const int MaximumSide = 1200;

    private readonly double[] sums;
    private readonly int[] counts;
    private readonly int[] outside;

    public ThinnedMap(int cellColumns, int cellRows)
    {
        CellsPerPixel = (Math.Max(cellColumns, cellRows) + MaximumSide - 1) / MaximumSide;
        Columns = (cellColumns + CellsPerPixel - 1) / CellsPerPixel;
        Rows = (cellRows + CellsPerPixel - 1) / CellsPerPixel;
        CellColumns = cellColumns;
        CellRows = cellRows;
        sums = new double[Columns * Rows];
        counts = new int[Columns * Rows];
        outside = new int[Columns * Rows];
    }

    public int CellsPerPixel { get; }

    public int CellColumns { get; }

    public int CellRows { get; }

    public int Columns { get; }

    public int Rows { get; }

    public void Add(int cellColumn, int cellRow, double ratePerDay, bool isApplicable)
    {
        int pixel = cellRow / CellsPerPixel * Columns + cellColumn / CellsPerPixel;
        sums[pixel] += ratePerDay;
        counts[pixel]++;
        if (!isApplicable)
            outside[pixel]++;
    }

    /// <summary>Mean rate of the pixel in d⁻¹; NaN where no cell has a prediction.</summary>
    public double RateAt(int column, int row)
    {
        int pixel = row * Columns + column;
        return counts[pixel] == 0 ? double.NaN : sums[pixel] / counts[pixel];
    }

    /// <summary>Whether at least half of the pixel's predicted cells lie outside the area of applicability.</summary>
    public bool IsOutsideAt(int column, int row)
    {
        int pixel = row * Columns + column;
        return counts[pixel] > 0 && outside[pixel] * 2 >= counts[pixel];
    }

    /// <summary>Whether any pixel counts as outside the area of applicability, and whether any has no prediction.</summary>
    public (bool Outside, bool Missing) Shows() => (
        Enumerable.Range(0, counts.Length).Any(p => counts[p] > 0 && outside[p] * 2 >= counts[p]),
        counts.Contains(0));

    /// <summary>Quantiles of the predicted pixels (linear between order statistics); null when there is none.</summary>
    public (double Low, double High)? Between(double low, double high)
    {
        double[] rates = Quantiles.Sort(Enumerable.Range(0, sums.Length).Where(p => counts[p] > 0).Select(p => sums[p] / counts[p]));
        return rates.Length == 0 ? null : (Quantiles.Of(rates, low), Quantiles.Of(rates, high));
    }
}
