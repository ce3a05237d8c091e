namespace DecayAtlas.Questions.Predictions;

/// <summary>A grid catalogue that a configuration or a command names.</summary>
public static class CatalogueFile
{
    /// <exception cref="ConfigurationException">It is not usable.</exception>
    public static IReadOnlyList<CatalogueEntry> Read(string path)
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
