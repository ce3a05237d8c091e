namespace DecayAtlas.Pipeline.Predictions;

/// <summary>Grid catalogues for those who predict.</summary>
public static class Catalogues
{
    /// <summary>The catalogue of a configuration.</summary>
    /// <exception cref="ConfigurationException">There is none, or it is not usable.</exception>
    public static IReadOnlyList<CatalogueEntry> Of(PipelineConfiguration configuration) => configuration.Grids is null
        ? throw new ConfigurationException($"{configuration.Path} names no grid catalogue, which a prediction needs; add grids.")
        : SharedInputs.CatalogueOf(configuration);

    /// <summary>Another catalogue.</summary>
    /// <exception cref="ConfigurationException">It is not usable.</exception>
    public static IReadOnlyList<CatalogueEntry> Load(string path)
    {
        try
        {
            return GridCatalogue.Load(path).Entries;
        }
        catch (GridException e)
        {
            throw new ConfigurationException(e.Message, e);
        }
    }
}
