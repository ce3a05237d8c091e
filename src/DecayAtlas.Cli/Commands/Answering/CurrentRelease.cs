namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>The release that questions are asked of: the current one of the atlas that a configuration names.</summary>
internal sealed record CurrentRelease(PipelineConfiguration Configuration, ReleaseReader Tables)
{
    public static CurrentRelease Of(string file)
    {
        PipelineConfiguration configuration = ConfigurationReader.Read(file);
        return new(configuration, new ReleaseReader(new AtlasFolder(configuration.Atlas)));
    }

    public string Id => Tables.ReleaseId;

    /// <summary>Its rates, of the kinds of evidence that the configuration names.</summary>
    public ReleasedRates Rates() => new(Tables, Configuration.Answers.Evidence);

    public SensitivityBasis Basis => SensitivitySettings.Of(Configuration);
}
