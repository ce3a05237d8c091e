namespace DecayAtlas.Prediction.Maps;

/// <summary>One covariate of a model over a map: the layers that its recipe asks for the stated season and depth, read in the map's cells
/// and combined.</summary>
internal sealed class MapCovariate(CatalogueEntry entry, CovariateRecipe recipe, IReadOnlyList<Grid> grids) : IDisposable
{
    private GridReader[] _readers = [];
    private double[][] _layers = [];

    public string Name => entry.Name;

    public IReadOnlyList<Grid> Grids => grids;

    /// <summary>How its grids come to the map's cells.</summary>
    public string Resampling => string.Join(", ", _readers.Select(r => r.Resampling.ToString().ToLowerInvariant()).Distinct());

    private bool IsOneGrid => entry.Made is OneLayer;

    /// <summary>Opens the grids that a model's covariate needs.</summary>
    /// <exception cref="PredictionException">The catalogue lacks it, gives something else than the model learnt from, or it needs a season
    /// or depth that is not stated.</exception>
    /// <exception cref="GridException">A grid cannot be opened.</exception>
    public static MapCovariate Open(CardCovariate covariate, IReadOnlyList<CatalogueEntry> catalogue, BurialConditions conditions)
    {
        CatalogueEntry found = CovariateMatch.EntryFor(covariate, catalogue);
        CovariateRecipe making = found.RecipeFor(conditions);
        if (making.Gap != RecipeGap.None)
            throw PredictionException.OfRequest($"Covariate '{found.Name}' ({found.Title}) {Asks(making.Gap)}.");
        List<Grid> open = new();
        try
        {
            foreach (LayerSource layer in making.Layers)
                open.Add(layer.Open());
            return new(found, making, open);
        }
        catch
        {
            open.ForEach(g => g.Dispose());
            throw;
        }
    }

    public void LayOut(MapLattice lattice)
    {
        _readers = [.. grids.Select((g, i) => new GridReader(g, recipe.Layers[i].Rule, entry.IsClass, lattice))];
        _layers = IsOneGrid ? [] : [.. grids.Select(_ => new double[MapTile.Size * MapTile.Size])];
    }

    /// <summary>Values at the cells of a tile, row by row; NaN where missing.</summary>
    public void Read(MapTile tile, double[] values)
    {
        if (IsOneGrid)
        {
            _readers[0].Read(tile, values);
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
            values[at] = recipe.Combine(tile.Centres[at].LatitudeDegrees, cell).Number ?? double.NaN;
        }
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
