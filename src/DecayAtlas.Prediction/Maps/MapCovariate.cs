namespace DecayAtlas.Prediction.Maps;

/// <summary>One covariate of a model over a map: the layers that its recipe asks for the stated season and depth, read in the map's cells
/// and combined.</summary>
internal sealed class MapCovariate(CovariateSource source, CovariateRecipe? recipe, IReadOnlyList<Grid> grids) : IDisposable
{
    private readonly List<string> _unseen = [];
    private readonly Dictionary<(double, string?), double> _placeOfClass = [];
    private GridReader[] _readers = [];
    private double[][] _layers = [];

    public string Name => source.Covariate.Name;

    public IReadOnlyList<Grid> Grids => grids;

    /// <summary>How its grids come to the map's cells.</summary>
    public string Resampling => source.AsIf is not null ? "as-if"
        : string.Join(", ", _readers.Select(r => r.Resampling.ToString().ToLowerInvariant()).Distinct());

    private bool IsOneGrid => source.Entry!.Made is OneLayer;

    /// <summary>Opens the grids that a model's covariate needs.</summary>
    /// <exception cref="PredictionException">It needs a season or depth that is not stated, or is a map of units.</exception>
    /// <exception cref="GridException">A grid cannot be opened.</exception>
    public static MapCovariate Open(CovariateSource source, BurialConditions conditions)
    {
        if (source.Entry is not { } found)
            return new(source, null, []);
        CovariateRecipe making = RecipeOf(found, conditions);
        List<Grid> open = new();
        try
        {
            foreach (LayerSource layer in making.Layers)
                open.Add(layer.Open());
            return new(source, making, open);
        }
        catch
        {
            open.ForEach(g => g.Dispose());
            throw;
        }
    }

    /// <summary>What a map reads of a covariate.</summary>
    /// <exception cref="PredictionException">It needs a season or depth that is not stated, or a layer is no grid.</exception>
    /// <exception cref="GridException">The file of a series cannot be read.</exception>
    internal static CovariateRecipe RecipeOf(CatalogueEntry entry, BurialConditions conditions)
    {
        CovariateRecipe making = entry.RecipeFor(conditions);
        if (making.Gap != RecipeGap.None)
            throw PredictionException.OfRequest($"Covariate '{entry.Name}' ({entry.Title}) {Asks(making.Gap)}.");
        return making.Layers.Select(layer => layer.WhyNoGrid).FirstOrDefault(why => why is not null) is { } fault
            ? throw PredictionException.OfRequest(fault) : making;
    }

    public void LayOut(MapLattice lattice)
    {
        if (source.Entry is not { } entry)
            return;
        _readers = [.. grids.Select((g, i) => new GridReader(g, recipe!.Layers[i].Rule, entry.IsClass, lattice))];
        _layers = IsOneGrid ? [] : [.. grids.Select(_ => new double[MapTile.Size * MapTile.Size])];
    }

    /// <summary>Values at the cells of a tile, row by row; NaN where missing. Of a class its place among those of the model, and below 0
    /// one that it never saw.</summary>
    public void Read(MapTile tile, double[] values)
    {
        if (source.AsIf is { } place)
        {
            Array.Fill(values, place);
            return;
        }

        if (IsOneGrid)
        {
            _readers[0].Read(tile, values);
            for (int at = 0; source.Covariate.Classes is not null && at < tile.Count; at++)
                values[at] = tile.Inside[at] ? PlaceOf(values[at], null) : double.NaN;
            return;
        }
        for (int i = 0; i < _readers.Length; i++)
            _readers[i].Read(tile, _layers[i]);
        Span<double> cell = stackalloc double[_layers.Length];
        for (int at = 0; at < tile.Count; at++)
        {
            values[at] = double.NaN;
            if (!tile.Inside[at])
                continue;
            for (int i = 0; i < _layers.Length; i++)
                cell[i] = _layers[i][at];
            RecipeValue value = recipe!.Combine(tile.Centres[at].LatitudeDegrees, cell);
            values[at] = PlaceOf(value.Number ?? double.NaN, value.Label);
        }
    }

    /// <summary>The name of a class that the model never saw.</summary>
    /// <param name="value">What stands in its cells, below 0.</param>
    public string UnseenAt(double value) => _unseen[-1 - (int)value];

    /// <summary>Classes that were never seen are numbered -1, -2 and so on as they come.</summary>
    private double PlaceOf(double value, string? label)
    {
        if (source.Covariate.Classes is null || (double.IsNaN(value) && label is null))
            return value;
        if (_placeOfClass.TryGetValue((value, label), out double known))
            return known;
        double place = source.ValueOf(value, label);
        if (place < 0)
        {
            _unseen.Add(source.Entry!.ClassNameOf(double.IsNaN(value) ? null : value, label)!);
            place = -_unseen.Count;
        }

        return _placeOfClass[(value, label)] = place;
    }

    public void Dispose()
    {
        foreach (Grid grid in grids)
            grid.Dispose();
    }

    private static string Asks(RecipeGap gap) => gap switch
    {
        RecipeGap.NoDates =>
            "follows the days a bag is buried, and the map states none; add buried_on and retrieved_on to it, as 2024-04-15",
        RecipeGap.NoDepth => "follows the depth of a bag, and the map states none; add depth_cm to it",
        _ => "is not described by its layers over the whole season or depth that the map states; state another one or add layers",
    };
}
