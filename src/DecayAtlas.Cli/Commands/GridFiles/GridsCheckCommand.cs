using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.GridFiles;

/// <summary>Finds a catalogue's mistakes before a run does.</summary>
internal sealed class GridsCheckCommand(Screen screen) : PlainCommand<GridsCheckCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FILE>")]
        [Description("A grid catalogue, or a pipeline configuration, whose catalogue is then held against its sites.")]
        public required string File { get; init; }

        [CommandOption("--json")]
        [Description("Print the result as JSON and nothing else.")]
        public bool Json { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (!File.Exists(settings.File))
            throw new ConfigurationException($"There is no file {settings.File}; name a grid catalogue or a pipeline configuration.");
        (string catalogue, KnownSites? sites, RemoteGrids remote) = Subject(settings.File);
        IReadOnlyList<CatalogueFinding> findings = CatalogueCheck.Of(catalogue, sites?.Places ?? [], remote);
        if (settings.Json)
        {
            screen.Json(new { catalogue, sites = sites?.Places.Count, sites_from = sites?.Origin, findings });
        }
        else
        {
            screen.Lines(findings);
            string held = sites is null
                ? "; name a pipeline configuration to hold it against sites too"
                : $", held against {sites.Places.Count} site{(sites.Places.Count == 1 ? "" : "s")} of {sites.Origin}";
            screen.Line(findings.Count == 0 ? $"{catalogue}: nothing found{held}."
                : $"{catalogue}: {findings.Count} finding{(findings.Count == 1 ? "" : "s")}{held}.");
        }

        return findings.Count == 0 ? RecordedRun.Done : RecordedRun.NeedsPerson;
    }

    private static (string Catalogue, KnownSites? Sites, RemoteGrids Remote) Subject(string file)
    {
        bool isConfiguration;
        try
        {
            isConfiguration = YamlDocument.Parse(file, () => File.OpenRead(file)).Root is System.Text.Json.Nodes.JsonObject root
                && root.ContainsKey("atlas");
        }
        catch (YamlDocumentException)
        {
            return (file, null, RemoteGrids.None); // the catalogue's reader says what is wrong
        }

        if (!isConfiguration)
            return (file, null, RemoteGrids.None);
        PipelineConfiguration configuration = ConfigurationReader.Read(file);
        return (configuration.Grids
            ?? throw new ConfigurationException($"{file} names no grid catalogue; write grids: and its path, or name the catalogue "
            + "itself."), SitesOf(configuration), configuration.Remote);
    }

    /// <summary>Where the sites of a configuration lie, as far as may be told.</summary>
    internal static KnownSites SitesOf(PipelineConfiguration configuration) =>
        KnownSites.Of(new AtlasFolder(configuration.Atlas), configuration.Inbox, configuration.Limits);
}
