namespace DecayAtlas.Prediction.Regions;

/// <summary>How far a map moved from the one before.</summary>
/// <param name="Cells">Cells that both predict.</param>
/// <param name="Outside">Those of them whose value now lies outside the interval of before.</param>
public sealed record MapMove(long Cells, long Outside)
{
    private const int Side = 256;

    public double ShareOutside => Cells == 0 ? 0 : Outside / (double)Cells;

    /// <summary>Compares two maps cell by cell; missing where one can't be read, or where they do not share their cells.</summary>
    public static MapMove? Between(string earlier, string later, MapQuantity of, Action<string, int, int>? progress = null)
    {
        try
        {
            using MapReader before = new(earlier, of), now = new(later, of);
            if (before.Lattice.Cells != now.Lattice.Cells || !before.Lattice.Projection.IsSameAs(now.Lattice.Projection))
                return null;
            int bands = MapBands.Tif(of).Count;
            double[][] then = Layers(bands), today = Layers(bands);
            long cells = 0, outside = 0;
            for (int row = 0; row < now.Lattice.Rows; row += Side)
            {
                for (int column = 0; column < now.Lattice.Columns; column += Side)
                {
                    before.Read(column, row, Side, then);
                    now.Read(column, row, Side, today);
                    for (int i = 0; i < Side * Side; i++)
                    {
                        double value = today[MapBands.Value][i], lower = then[MapBands.Lower][i], upper = then[MapBands.Upper][i];
                        if (!double.IsFinite(value) || !double.IsFinite(lower) || !double.IsFinite(upper))
                            continue;
                        cells++;
                        outside += value < lower || value > upper ? 1 : 0;
                    }
                }

                progress?.Invoke("beside the map before", Math.Min(row + Side, now.Lattice.Rows), now.Lattice.Rows);
            }

            return new MapMove(cells, outside);
        }
        catch (Exception e) when (e is GridException or PredictionException or IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    private static double[][] Layers(int bands) => [.. Enumerable.Range(0, bands).Select(_ => new double[Side * Side])];
}
