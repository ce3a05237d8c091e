namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>The release that questions are asked of.</summary>
internal static class CurrentRelease
{
    /// <summary>The current release of the atlas that a configuration names.</summary>
    public static ReleaseReader Of(string configuration) => new(new AtlasFolder(ConfigurationReader.Read(configuration).Atlas));
}
