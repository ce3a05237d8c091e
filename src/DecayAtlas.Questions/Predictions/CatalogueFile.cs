namespace DecayAtlas.Questions.Predictions;

/// <summary>A grid catalogue that a configuration or a command names.</summary>
public static class CatalogueFile
{
    /// <param name="remote">What may be read over the network; nothing unless stated.</param>
    /// <exception cref="ConfigurationException">It is not usable.</exception>
    public static IReadOnlyList<CatalogueEntry> Read(string path, RemoteGrids? remote = null)
    {
        try
        {
            return GridCatalogue.Load(path, remote).Entries;
        }
        catch (GridException e)
        {
            throw new ConfigurationException(e.Message, e);
        }
    }
}
