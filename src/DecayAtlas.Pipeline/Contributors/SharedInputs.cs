using System.Text.Json;

namespace DecayAtlas.Pipeline.Contributors;

/// <summary>What bears on the rows of every contributor. A change of any of it is seen in the keys of all of them.</summary>
internal sealed record SharedInputs(
    string Settings, string CountriesDigest, CountryOutlines? Countries, IReadOnlyList<GridInput> Grids)
{
    /// <summary>Which words of senders are which of ours.</summary>
    public LocalWords Words { get; init; } = LocalWords.None;

    /// <summary>Names of the grids that hold quantities and not classes, in ordinal order.</summary>
    public IReadOnlyList<string> Quantities { get; } = [.. Grids.Where(g => !g.Entry.IsClass).Select(g => g.Entry.Name)
        .Order(StringComparer.Ordinal)];

    /// <exception cref="ConfigurationException">The catalogue or the outlines are not usable.</exception>
    /// <exception cref="GridException">A grid file is missing.</exception>
    public static SharedInputs Of(PipelineConfiguration configuration)
    {
        FileFingerprints fingerprints = new(new AtlasFolder(configuration.Atlas));
        IReadOnlyList<GridInput> grids = [.. CatalogueOf(configuration).Select(entry => GridInput.Of(entry, fingerprints.OfFile))];
        CountryOutlines? countries = configuration.Countries is { } outlines ? CountryOutlines.Load(outlines) : null;
        string countriesDigest = configuration.Countries is { } file ? fingerprints.OfFile(file) : "none";
        fingerprints.Save();
        return new SharedInputs(SettingsOf(configuration), countriesDigest, countries, grids) { Words = VocabularyFile.Of(configuration) };
    }

    /// <summary>The entries of the grid catalogue; none where the configuration names no catalogue.</summary>
    /// <exception cref="ConfigurationException">The catalogue is not usable.</exception>
    public static IReadOnlyList<CatalogueEntry> CatalogueOf(PipelineConfiguration configuration) =>
        configuration.Grids is { } path ? CatalogueFile.Read(path, configuration.Remote) : [];

    /// <summary>Every setting that bears on a released number; paths do not.</summary>
    public static string SettingsOf(PipelineConfiguration configuration) =>
        JsonSerializer.Serialize(new
        {
            configuration.Assumptions,
            configuration.BagHeightCentimetres,
            Evidence = configuration.Answers.Evidence.Kinds,
            Flags = FlagCatalogue.LimitsOf(configuration.Flags)
        }, JsonText.Options);

    /// <summary>
    /// The build of every assembly that makes rows. Another build of the same version may make other rows, so that remembered ones
    /// are not believed; it does not enter a release, which another build of the same code must be able to make again.
    /// </summary>
    public static string CodeIdentity { get; } = InputDigest.Of(new[]
    {
        typeof(SharedInputs), typeof(AtlasFolder), typeof(Contribution), typeof(Grid), typeof(TwoLitterIndex),
    }.Select(type => type.Module.ModuleVersionId.ToString()));

    public static string CodeVersion { get; } = typeof(SharedInputs).Assembly.GetName().Version!.ToString(3);
}
