namespace DecayAtlas.Prediction.Maps;

/// <summary>The layers of a difference in one tile, 256 x 256 values each; NaN where a side has no prediction.</summary>
internal sealed class DifferenceBands
{
    public DifferenceBands() => All = [Before, After, Ratio, Lower, Upper, Applicable];

    public float[] Before { get; } = MapTile.NewBand();

    public float[] After { get; } = MapTile.NewBand();

    public float[] Ratio { get; } = MapTile.NewBand();

    public float[] Lower { get; } = MapTile.NewBand();

    public float[] Upper { get; } = MapTile.NewBand();

    /// <summary>1 inside the area of applicability on both sides, else 0.</summary>
    public float[] Applicable { get; } = MapTile.NewBand();

    /// <summary>In the order of the files.</summary>
    public IReadOnlyList<float[]> All { get; }

    public void Fill(TileBands before, TileBands after)
    {
        for (int i = 0; i < Ratio.Length; i++)
        {
            Before[i] = before.Prediction[i];
            After[i] = after.Prediction[i];
            Ratio[i] = Lower[i] = Upper[i] = Applicable[i] = float.NaN;
            if (float.IsNaN(Before[i]) || float.IsNaN(After[i]))
                continue;
            double one = Math.Log(before.Upper[i] / before.Lower[i]) / 2, two = Math.Log(after.Upper[i] / after.Lower[i]) / 2;
            double ratio = After[i] / (double)Before[i], factor = Math.Exp(Math.Sqrt(one * one + two * two));
            (Ratio[i], Lower[i], Upper[i]) = ((float)ratio, (float)(ratio / factor), (float)(ratio * factor));
            Applicable[i] = before.Applicable[i] == 1 && after.Applicable[i] == 1 ? 1 : 0;
        }
    }
}

/// <summary>Counts the cells of a difference and feeds its picture.</summary>
internal sealed class DifferenceTally(MapLattice lattice)
{
    private long _compared, _applicable, _toldApart;
    private double _area, _applicableArea, _logRatio;

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
                raster.Add(tile.Column + x, tile.Row + y, log, isApplicable);
                if (!isApplicable)
                    continue;
                _applicable++;
                _applicableArea += ground;
                _logRatio += ground * log;
                if (bands.Lower[at] > 1 || bands.Upper[at] < 1)
                    _toldApart++;
            }
        }
    }

    public DifferenceSummary Summary(RateSide before, RateSide after) => new(
        lattice.Projection.Name, lattice.Cells, _compared, _applicable, _toldApart, _area / 1e6, _applicableArea / 1e6,
        _applicableArea > 0 ? Math.Exp(_logRatio / _applicableArea) : null)
    {
        Before = DifferenceSource.Of(before),
        After = DifferenceSource.Of(after),
        Swapped = DifferenceMap.SwappedOf(before, after),
    };
}
