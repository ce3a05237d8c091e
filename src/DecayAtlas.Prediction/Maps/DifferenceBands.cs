namespace DecayAtlas.Prediction.Maps;

/// <summary>The layers of a difference in one tile, 256 x 256 values each; NaN where a side has no prediction.</summary>
/// <remarks>Cells do not depend on each other and are shared out in fixed portions, so threads change nothing.</remarks>
internal sealed class DifferenceBands
{
    private const int CellsPerTask = 4096;

    public DifferenceBands() => All = [Before, After, Ratio, Lower, Upper, Applicable, ToldApart];

    public float[] Before { get; } = MapTile.NewBand();

    public float[] After { get; } = MapTile.NewBand();

    public float[] Ratio { get; } = MapTile.NewBand();

    public float[] Lower { get; } = MapTile.NewBand();

    public float[] Upper { get; } = MapTile.NewBand();

    /// <summary>1 inside the area of applicability on both sides, else 0.</summary>
    public float[] Applicable { get; } = MapTile.NewBand();

    /// <summary>1 where the interval of the ratio leaves out 1, else 0.</summary>
    public float[] ToldApart { get; } = MapTile.NewBand();

    /// <summary>In the order of the files.</summary>
    public IReadOnlyList<float[]> All { get; }

    public void Fill(MapTile tile, RateSurface before, RateSurface after)
    {
        foreach (float[] band in All)
            Array.Fill(band, float.NaN);
        Parallel.For(0, (tile.Count + CellsPerTask - 1) / CellsPerTask,
            task => Fill(tile, before, after, task * CellsPerTask, Math.Min(tile.Count, (task + 1) * CellsPerTask)));
    }

    private void Fill(MapTile tile, RateSurface before, RateSurface after, int from, int to)
    {
        (TileBands first, TileBands second) = (before.Bands, after.Bands);
        int[] cells = [.. Enumerable.Range(from, to - from).Where(c =>
            !float.IsNaN(first.Prediction[At(c)]) && !float.IsNaN(second.Prediction[At(c)]))];
        GeoPoint[] places = new GeoPoint[cells.Length];
        for (int i = 0; i < cells.Length; i++)
            places[i] = tile.Centres[cells[i]];
        double[] halves = RatioErrors.HalfWidths(before.Model, FeaturesOf(before), after.Model, FeaturesOf(after), places);
        for (int i = 0; i < cells.Length; i++)
        {
            int at = At(cells[i]);
            (Before[at], After[at]) = (first.Prediction[at], second.Prediction[at]);
            double ratio = After[at] / (double)Before[at], factor = Math.Exp(halves[i]);
            (Ratio[at], Lower[at], Upper[at]) = ((float)ratio, (float)(ratio / factor), (float)(ratio * factor));
            Applicable[at] = first.Applicable[at] == 1 && second.Applicable[at] == 1 ? 1 : 0;
            ToldApart[at] = Lower[at] > 1 || Upper[at] < 1 ? 1 : 0;
        }

        int At(int cell) => cell / tile.Columns * MapTile.Size + cell % tile.Columns;

        float[] FeaturesOf(RateSurface side)
        {
            int width = side.Model.Coding.Count;
            float[] features = new float[cells.Length * width];
            for (int i = 0; i < cells.Length; i++)
                side.FeaturesOf(cells[i], features.AsSpan(i * width, width));
            return features;
        }
    }
}

/// <summary>Counts the cells of a difference and feeds its picture.</summary>
internal sealed class DifferenceTally(MapLattice lattice)
{
    private long _compared, _applicable, _toldApart;
    private double _area, _applicableArea, _toldApartArea, _logRatio;

    public void Add(MapTile tile, DifferenceBands bands, ThinnedMap raster)
    {
        for (int y = 0; y < tile.Rows; y++)
        {
            for (int x = 0; x < tile.Columns; x++)
            {
                int at = y * MapTile.Size + x;
                if (float.IsNaN(bands.Ratio[at]))
                    continue;
                bool isApplicable = bands.Applicable[at] != 0;
                double ground = lattice.KnownAreaOf(tile.Column + x, tile.Row + y), log = Math.Log(bands.Ratio[at]);
                _compared++;
                _area += ground;
                raster.Add(tile.Column + x, tile.Row + y, log, isApplicable, bands.ToldApart[at] == 1);
                if (!isApplicable)
                    continue;
                _applicable++;
                _applicableArea += ground;
                _logRatio += ground * log;
                if (bands.ToldApart[at] != 1)
                    continue;
                _toldApart++;
                _toldApartArea += ground;
            }
        }
    }

    public DifferenceSummary Summary(RateSide before, RateSide after) => new(
        lattice.Projection.Name, lattice.Cells, _compared, _applicable, _toldApart, _area / 1e6, _applicableArea / 1e6,
        _applicableArea > 0 ? Math.Exp(_logRatio / _applicableArea) : null)
    {
        ToldApartSquareKilometres = _toldApartArea / 1e6,
        Before = DifferenceSource.Of(before),
        After = DifferenceSource.Of(after),
        Swapped = DifferenceMap.SwappedOf(before, after),
    };
}
