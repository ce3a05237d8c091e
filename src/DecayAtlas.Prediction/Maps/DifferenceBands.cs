namespace DecayAtlas.Prediction.Maps;

/// <summary>The layers of a difference in one tile, 256 x 256 values each; NaN where a side has no prediction.</summary>
/// <remarks>Cells do not depend on each other and are shared out in fixed portions, so threads change nothing.</remarks>
internal sealed class DifferenceBands
{
    private const int CellsPerTask = 4096;

    private readonly bool _isRatio;

    /// <param name="isRatio">Whether the change is after over before; else after less before.</param>
    public DifferenceBands(bool isRatio)
    {
        _isRatio = isRatio;
        All = [Before, After, Change, Lower, Upper, Applicable, ToldApart];
    }

    public float[] Before { get; } = MapTile.NewBand();

    public float[] After { get; } = MapTile.NewBand();

    public float[] Change { get; } = MapTile.NewBand();

    public float[] Lower { get; } = MapTile.NewBand();

    public float[] Upper { get; } = MapTile.NewBand();

    /// <summary>1 inside the area of applicability on both sides, else 0.</summary>
    public float[] Applicable { get; } = MapTile.NewBand();

    /// <summary>1 where the interval of the change leaves out no change, else 0.</summary>
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
        double[] halves = ChangeErrors.HalfWidths(before.Model, FeaturesOf(before), after.Model, FeaturesOf(after), places);
        for (int i = 0; i < cells.Length; i++)
        {
            int at = At(cells[i]);
            (Before[at], After[at]) = (first.Prediction[at], second.Prediction[at]);
            double change = _isRatio ? After[at] / (double)Before[at] : After[at] - (double)Before[at], factor = Math.Exp(halves[i]);
            (Change[at], Lower[at], Upper[at]) = _isRatio ? ((float)change, (float)(change / factor), (float)(change * factor))
                : ((float)change, (float)(change - halves[i]), (float)(change + halves[i]));
            float none = _isRatio ? 1 : 0;
            Applicable[at] = first.Applicable[at] == 1 && second.Applicable[at] == 1 ? 1 : 0;
            ToldApart[at] = Lower[at] > none || Upper[at] < none ? 1 : 0;
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
internal sealed class DifferenceTally(MapLattice lattice, MapQuantity of)
{
    private long _compared, _applicable, _toldApart;
    private double _area, _applicableArea, _toldApartArea, _change;

    public void Add(MapTile tile, DifferenceBands bands, ThinnedMap raster)
    {
        for (int y = 0; y < tile.Rows; y++)
        {
            for (int x = 0; x < tile.Columns; x++)
            {
                int at = y * MapTile.Size + x;
                if (float.IsNaN(bands.Change[at]))
                    continue;
                bool isApplicable = bands.Applicable[at] != 0;
                double ground = lattice.KnownAreaOf(tile.Column + x, tile.Row + y);
                double change = of.IsRatio ? Math.Log(bands.Change[at]) : bands.Change[at];
                _compared++;
                _area += ground;
                raster.Add(tile.Column + x, tile.Row + y, change, isApplicable, bands.ToldApart[at] == 1);
                if (!isApplicable)
                    continue;
                _applicable++;
                _applicableArea += ground;
                _change += ground * change;
                if (bands.ToldApart[at] != 1)
                    continue;
                _toldApart++;
                _toldApartArea += ground;
            }
        }
    }

    public DifferenceSummary Summary(RateSide before, RateSide after) => new(
        lattice.Projection.Name, lattice.Cells, _compared, _applicable, _toldApart, _area / 1e6, _applicableArea / 1e6,
        _applicableArea > 0 && of.IsRatio ? Math.Exp(_change / _applicableArea) : null)
    {
        MeanDifference = _applicableArea > 0 && !of.IsRatio ? _change / _applicableArea : null,
        ToldApartSquareKilometres = _toldApartArea / 1e6,
        Before = DifferenceSource.Of(before),
        After = DifferenceSource.Of(after),
        Swapped = DifferenceMap.SwappedOf(before, after),
    };
}
