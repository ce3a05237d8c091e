namespace DecayAtlas.Questions.Predictions;

/// <summary>Polygons that a configuration or a command names.</summary>
public static class PolygonFile
{
    /// <param name="nameProperty">Property that names each polygon.</param>
    /// <exception cref="ConfigurationException">They are not usable.</exception>
    public static RegionSet Read(string path, string? nameProperty = null)
    {
        try
        {
            return RegionSet.Read(path, nameProperty);
        }
        catch (PredictionException e)
        {
            throw new ConfigurationException(e.Message, e);
        }
    }
}
