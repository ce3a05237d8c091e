namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>The release that questions are asked of.</summary>
internal static class CurrentRelease
{
    /// <summary>The current release of the atlas that a configuration names.</summary>
    public static ReleaseReader Of(string configuration) => new(new AtlasFolder(ConfigurationReader.Read(configuration).Atlas));

    /// <summary>Its rates, of the kinds of evidence that the configuration names.</summary>
    public static ReleasedRates RatesOf(string configuration, ReleaseReader release) =>
        new(release, ConfigurationReader.Read(configuration).Answers.Evidence);
}
