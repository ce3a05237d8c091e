namespace DecayAtlas.Prediction.Maps;

/// <summary>Where the values of a model's covariate come from at places.</summary>
/// <param name="Entry">Of the catalogue; missing where every place is taken for one class, or where places must state it.</param>
/// <param name="AsIf">The place of that class.</param>
public sealed record CovariateSource(CardCovariate Covariate, CatalogueEntry? Entry, int? AsIf)
{
    /// <summary>The value that a model takes for what a grid has at a place: the number, or the place of the class.</summary>
    /// <param name="value">Of the grid; NaN where it has none.</param>
    /// <param name="label">The name of the class, where the grid has names.</param>
    public double ValueOf(double value, string? label = null) => Covariate.Classes is not { } classes ? value
        : Entry!.ClassNameOf(double.IsNaN(value) ? null : value, label) is { } name ? classes.PlaceOf(name)
        : double.NaN;
}

/// <summary>Finds in a catalogue what a model learnt from.</summary>
public static class CovariateMatch
{
    /// <exception cref="PredictionException">The catalogue lacks it, gives something else than the model learnt from, or nothing tells what
    /// sites state.</exception>
    public static CovariateSource SourceFor(CardCovariate covariate, IReadOnlyList<CatalogueEntry> catalogue, ClassChoices choices)
    {
        CovariateSource source = StatedOr(covariate, catalogue, choices);
        return source.Entry is not null || source.AsIf is not null ? source
            : throw NothingTells(covariate.Name, covariate.Classes);
    }

    /// <summary>As <see cref="SourceFor"/>, but with neither grid nor class for what places themselves must state.</summary>
    /// <exception cref="PredictionException">The catalogue lacks it, or gives something else than the model learnt from.</exception>
    public static CovariateSource StatedOr(CardCovariate covariate, IReadOnlyList<CatalogueEntry> catalogue, ClassChoices choices)
    {
        if (covariate.Classes is not null && choices.PlaceOf(covariate) is { } place)
            return new(covariate, null, place);
        if (!covariate.IsStated)
            return new(covariate, EntryFor(covariate, catalogue), null);
        return choices.FromGrid.TryGetValue(covariate.Name, out string? grid)
            ? new(covariate, GridThatTells(covariate, grid, catalogue), null) : new(covariate, null, null);
    }

    /// <param name="classes">Missing before the model is trained.</param>
    internal static PredictionException NothingTells(string name, CovariateClasses? classes) => PredictionException.OfRequest(
        $"The model takes {name} as sites state it, and no grid tells it; state a class for all places (map.as_if in the configuration"
        + (classes is null ? ")" : $", or --as-if {name}={classes.Names[0]}), one of {classes.Choice}")
        + ", or name a class grid in map.from_grid.");

    /// <summary>The class grid that map.from_grid names for a covariate.</summary>
    /// <exception cref="PredictionException">The catalogue has no class grid of that name.</exception>
    internal static CatalogueEntry ClassGrid(string name, string grid, IReadOnlyList<CatalogueEntry> catalogue)
    {
        if (catalogue.FirstOrDefault(e => e.Name == grid) is { IsClass: true } entry)
            return entry;
        string[] classes = [.. catalogue.Where(e => e.IsClass).Select(e => e.Name)];
        throw PredictionException.OfRequest($"map.from_grid takes {name} from {grid}, which is no class grid of the catalogue; it "
            + (classes.Length == 0 ? "has none." : $"has {string.Join(", ", classes)}."));
    }

    private static CatalogueEntry EntryFor(CardCovariate covariate, IReadOnlyList<CatalogueEntry> catalogue)
    {
        CatalogueEntry entry = catalogue.FirstOrDefault(e => e.Name == covariate.Name)
            ?? throw new PredictionException($"The model needs covariate '{covariate.Name}' ({covariate.Title}), which the grid "
            + "catalogue does not have; add it or train a model without it.");
        if (entry.IsClass != covariate.Classes is not null)
        {
            throw new PredictionException(entry.IsClass
                ? $"Covariate '{covariate.Name}' is a class grid whose codes are names, not quantities, and the model learnt it as a "
                    + "number; use the grid of the training or train the model again."
                : $"Covariate '{covariate.Name}' was trained as a class but the grid catalogue gives a number; use the grid of the "
                    + "training or write kind: class.");
        }

        return entry.Unit == covariate.Unit ? entry
            : throw new PredictionException($"Covariate '{covariate.Name}' was trained in unit '{covariate.Unit}' but the grid catalogue "
                + $"gives '{entry.Unit}'; use the grid of the training or set its scale, offset and unit.");
    }

    private static CatalogueEntry GridThatTells(CardCovariate covariate, string grid, IReadOnlyList<CatalogueEntry> catalogue)
    {
        CatalogueEntry entry = ClassGrid(covariate.Name, grid, catalogue);
        // a map of units has names of its own, and a formula may give them
        if (entry is { Classes: null, Made: OneLayer { Layer.Attribute: null } } && !covariate.Classes!.HasCodes)
        {
            throw PredictionException.OfRequest($"map.from_grid takes {covariate.Name} from {grid}, whose codes have no names, and the "
                + $"model knows {covariate.Classes.Choice}; name the codes in the grid catalogue (classes), or name another grid.");
        }

        return entry.Classes is not { } named || named.Values.Any(name => covariate.Classes!.PlaceOf(name) >= 0) ? entry
            : throw PredictionException.OfRequest($"map.from_grid takes {covariate.Name} from {grid}, none of whose classes "
                + $"({string.Join(", ", named.OrderBy(c => c.Key).Select(c => c.Value).Take(8))}) the model knows; it knows "
                + $"{covariate.Classes!.Choice}.");
    }
}
