using DecayAtlas.Grids;

namespace DecayAtlas.Prediction;

/// <summary>One covariate of a model over a map.</summary>
internal sealed class MapCovariate : IDisposable
{
    private readonly CatalogueEntry entry;
    private readonly Grid grid;
    private GridReader? reader;

    private MapCovariate(CatalogueEntry entry, Grid grid)
    {
        this.entry = entry;
        this.grid = grid;
    }

    /// <summary>The grids it is made from.</summary>
    public IReadOnlyList<Grid> Grids => [grid];

    /// <summary>How its grids come to the map's cells.</summary>
    public Resampling Resampling => reader!.Resampling;

    /// <summary>Opens the grids that a model's covariate needs.</summary>
    /// <exception cref="PredictionException">The catalogue lacks it, or gives something else than the model learnt from.</exception>
    /// <exception cref="GridException">A grid cannot be opened.</exception>
    public static MapCovariate Open(CardCovariate covariate, IReadOnlyList<CatalogueEntry> catalogue)
    {
        var entry = EntryFor(covariate, catalogue);
        return new(entry, entry.Open());
    }

    public static CatalogueEntry EntryFor(CardCovariate covariate, IReadOnlyList<CatalogueEntry> catalogue)
    {
        var entry = catalogue.FirstOrDefault(e => e.Name == covariate.Name)
            ?? throw new PredictionException($"The model needs covariate '{covariate.Name}' ({covariate.Title}), which the grid catalogue does not have; add it or train a model without it.");
        if (entry.Unit != covariate.Unit)
            throw new PredictionException($"Covariate '{covariate.Name}' was trained in unit '{covariate.Unit}' but the grid catalogue gives '{entry.Unit}'; use the grid of the training or set its scale, offset and unit.");
        if (entry.IsClass)
            throw new PredictionException($"Covariate '{covariate.Name}' is a class grid whose codes are names, not quantities, and cannot feed this model; leave it out of the model's covariates.");
        return entry;
    }

    public void LayOut(MapLattice lattice) => reader = new(grid, entry.Rule, entry.IsClass, lattice);

    /// <summary>Values at the cells of a tile, row by row; NaN where missing.</summary>
    public void Read(MapTile tile, double[] values) => reader!.Read(tile, values);

    public void Dispose() => grid.Dispose();
}
