namespace DecayAtlas.Prediction.Maps;

/// <summary>
/// A model over its grids: what it predicts in the cells of a tile. Cells do not depend on each other and are shared out in fixed
/// portions, so threads change nothing.
/// </summary>
internal sealed class RateSurface : IDisposable
{
    private const int CellsPerTask = 4096;
    /// <summary>Decoded blocks of all grids together.</summary>
    private const long MostCacheBytes = 96L << 20;
    private const int TileCells = MapTile.Size * MapTile.Size;
    /// <summary>About so many cells are asked of the model without noted records too: enough for the 95th percentile of its
    /// difference.</summary>
    private const int MostAsked = 100_000;

    private readonly List<MapCovariate> _covariates = [];
    private readonly double[][] _values;
    private readonly (PredictionBlock Block, int[] Cell)[] _tasks;

    public RateSurface(RateModel model, IReadOnlyList<CatalogueEntry> catalogue, ClassChoices choices, BurialConditions conditions)
    {
        Model = model;
        Choices = choices;
        Bands = new TileBands(MapQuantity.Of(model.Card.Target));
        int width = model.Card.Covariates.Count;
        _values = [.. Enumerable.Range(0, width).Select(_ => new double[TileCells])];
        _tasks = [.. Enumerable.Range(0, TileCells / CellsPerTask)
            .Select(_ => (new PredictionBlock(width, CellsPerTask), new int[CellsPerTask]))];
        try
        {
            // every covariate is looked up before the first grid is opened
            CovariateSource[] sources = [.. model.Card.Covariates.Select(c => CovariateMatch.SourceFor(c, catalogue, choices))];
            if (sources.All(s => s.Entry is null))
                throw PredictionException.OfRequest(MapForesight.NoGridAtAll);

            foreach (CovariateSource source in sources)
                _covariates.Add(MapCovariate.Open(source, conditions));
        }
        catch
        {
            Dispose();
            throw;
        }
        foreach (Grid grid in Grids)
            grid.KeepAtMost(MostCacheBytes / Grids.Count);
    }

    public RateModel Model { get; }

    public ClassChoices Choices { get; }

    /// <summary>Cells whose covariates are all there, but of a class that the model never saw, by "covariate: class".</summary>
    public SortedDictionary<string, long> UnseenClasses { get; } = new(StringComparer.Ordinal);

    public IReadOnlyList<Grid> Grids => [.. _covariates.SelectMany(c => c.Grids)];

    public IReadOnlyDictionary<string, string> Resamplings => _covariates.ToDictionary(c => c.Name, c => c.Resampling);

    /// <summary>What the last tile holds; 256 x 256 values a band, missing where there is no prediction.</summary>
    public TileBands Bands { get; }

    /// <summary>Every so manieth cell in both directions is asked of the model without noted records too.</summary>
    public int EveryAsked { get; private set; } = 1;

    public void LayOut(MapLattice lattice)
    {
        EveryAsked = (int)Math.Ceiling(Math.Sqrt(Math.Max(1, lattice.Count / (double)MostAsked)));
        _covariates.ForEach(c => c.LayOut(lattice));
    }

    public void Predict(MapTile tile)
    {
        try
        {
            Parallel.For(0, _covariates.Count, c => _covariates[c].Read(tile, _values[c]));
        }
        catch (AggregateException e) when (GridException.FirstOf(e) is { } first)
        {
            throw new GridException(first.Message, e);
        }

        Bands.Clear();
        int count = tile.Count;
        Parallel.For(
            0, (count + CellsPerTask - 1) / CellsPerTask,
                task => Predict(tile, _tasks[task], task * CellsPerTask, Math.Min(count, (task + 1) * CellsPerTask)));
        CountUnseen(tile);
    }

    /// <summary>The model's features in a cell of the last tile.</summary>
    /// <param name="cell">Row by row.</param>
    public void FeaturesOf(int cell, Span<float> features)
    {
        for (int c = 0; c < _values.Length; c++)
            Model.Coding.Put(c, (float)_values[c][cell], features);
    }

    public void Dispose() => _covariates.ForEach(c => c.Dispose());

    private void CountUnseen(MapTile tile)
    {
        int[] classes = [.. Enumerable.Range(0, _values.Length).Where(Model.Coding.IsClass)];
        for (int cell = 0; classes.Length > 0 && cell < tile.Count; cell++)
        {
            if (!tile.Inside[cell] || _values.Any(v => double.IsNaN(v[cell])))
                continue;
            foreach (int c in classes.Where(c => _values[c][cell] < 0))
            {
                string name = $"{_covariates[c].Name}: {_covariates[c].UnseenAt(_values[c][cell])}";
                UnseenClasses[name] = UnseenClasses.GetValueOrDefault(name) + 1;
            }
        }
    }

    private void Predict(MapTile tile, (PredictionBlock Block, int[] Cell) task, int from, int to)
    {
        (PredictionBlock block, int[] cells) = task;
        ReadOnlySpan<bool> inside = tile.Inside;
        int rows = 0;
        for (int cell = from; cell < to; cell++)
        {
            // most of a coast is sea, and the model need not see it
            if (!inside[cell] || double.IsNaN(_values[0][cell]))
                continue;
            for (int c = 0; c < _values.Length; c++)
                block.Covariates[c][rows] = (float)_values[c][cell];
            block.Places[rows] = tile.Centres[cell];
            cells[rows++] = cell;
        }
        Model.Predict(block, rows);
        float[] features = new float[Model.Coding.Count];
        for (int row = 0; row < rows; row++)
        {
            if (float.IsNaN(block.Predictions[row]))
                continue;
            int at = cells[row] / tile.Columns * MapTile.Size + cells[row] % tile.Columns;
            Bands.Set(at, block.Predictions[row], block.Lower[row], block.Upper[row]);
            Bands.Dissimilarity[at] = block.Dissimilarity[row];
            Bands.Applicable[at] = block.Applicable[row] ? 1 : 0;
            if (Model.WithoutNoted is not { Predictor: var other } || (tile.Column + at % MapTile.Size) % EveryAsked != 0
                || (tile.Row + at / MapTile.Size) % EveryAsked != 0)
            {
                continue;
            }

            FeaturesOf(cells[row], features);
            Bands.WithoutNoted[at] = (float)Model.Card.ToTargetUnit(other.Predict(features, block.Places[row]));
        }
    }
}

/// <summary>The bands of a tile, 256 x 256 values each; NaN where there is no prediction.</summary>
internal sealed class TileBands
{
    private readonly float[][] _halfLives;

    public TileBands(MapQuantity of)
    {
        _halfLives = of.HasHalfLife ? [MapTile.NewBand(), MapTile.NewBand(), MapTile.NewBand()] : [];
        All = [Prediction, Lower, Upper, Dissimilarity, Applicable, .. _halfLives];
    }

    /// <summary>k, d⁻¹, or S, as the ends of the interval of what is true of the place.</summary>
    public float[] Prediction { get; } = MapTile.NewBand();

    public float[] Lower { get; } = MapTile.NewBand();

    public float[] Upper { get; } = MapTile.NewBand();

    public float[] Dissimilarity { get; } = MapTile.NewBand();

    /// <summary>1 inside the area of applicability, 0 outside.</summary>
    public float[] Applicable { get; } = MapTile.NewBand();

    /// <summary>The same predicted without noted records, in the cells where that is asked; in no file.</summary>
    public float[] WithoutNoted { get; } = MapTile.NewBand();

    /// <summary>In the order of the files.</summary>
    public IReadOnlyList<float[]> All { get; }

    /// <summary>What is predicted in a cell, and what follows from it.</summary>
    public void Set(int at, float value, float lower, float upper)
    {
        (Prediction[at], Lower[at], Upper[at]) = (value, lower, upper);
        if (_halfLives is not [var halfLife, var shortest, var longest])
            return;
        (halfLife[at], shortest[at], longest[at]) = (Days(value), Days(upper), Days(lower));

        // an end that no number of single precision holds is missing
        static float Days(float rate) => (float)HalfLife.Days(rate) is var days && float.IsFinite(days) ? days : float.NaN;
    }

    public void Clear()
    {
        foreach (float[] band in All)
            Array.Fill(band, float.NaN);
        Array.Fill(WithoutNoted, float.NaN);
    }
}
