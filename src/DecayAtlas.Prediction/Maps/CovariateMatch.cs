namespace DecayAtlas.Prediction.Maps;

/// <summary>Finds in a catalogue what a model learnt from.</summary>
public static class CovariateMatch
{
    /// <exception cref="PredictionException">The catalogue lacks it, or gives something else than the model learnt from.</exception>
    public static CatalogueEntry EntryFor(CardCovariate covariate, IReadOnlyList<CatalogueEntry> catalogue)
    {
        CatalogueEntry entry = catalogue.FirstOrDefault(e => e.Name == covariate.Name)
            ?? throw new PredictionException($"The model needs covariate '{covariate.Name}' ({covariate.Title}), which the grid "
            + "catalogue does not have; add it or train a model without it.");
        if (entry.Unit != covariate.Unit)
        {
            throw new PredictionException($"Covariate '{covariate.Name}' was trained in unit '{covariate.Unit}' but the grid catalogue "
                + $"gives '{entry.Unit}'; use the grid of the training or set its scale, offset and unit.");
        }

        if (entry.IsClass)
        {
            throw new PredictionException($"Covariate '{covariate.Name}' is a class grid whose codes are names, not quantities, and "
                + "cannot feed this model; leave it out of the model's covariates.");
        }

        return entry;
    }
}
