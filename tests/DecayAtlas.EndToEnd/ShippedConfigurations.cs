using System.Text.RegularExpressions;

namespace DecayAtlas.EndToEnd;

/// <summary>Every configuration that the project hands out, with what it shows as a comment switched on: a curator takes out the marks and
/// has a night that works.</summary>
public sealed partial class ShippedConfigurations(DemoRun demo) : IDisposable
{
    private readonly Workspace _work = new();

    public void Dispose() => _work.Dispose();

    [Fact]
    public void The_nightly_configuration_with_all_its_sections_is_accepted()
    {
        PipelineConfiguration read = ConfigurationReader.Read(Nightly());
        Assert.NotNull(read.Map);
        Assert.NotNull(read.Pages);
        TrainSection train = read.Train!;
        Assert.Contains(train.Options.TemperatureCovariate, train.Covariates);
        Assert.Contains(train.Options.MoistureCovariate, train.Covariates);
        Assert.NotNull(read.Decisions);
        Assert.NotNull(read.Countries);
    }

    [Fact]
    public void The_nightly_configuration_with_all_its_sections_runs_to_its_pages()
    {
        string scenario = demo.Workspace.PathOf("scenario");
        File.WriteAllText(_work.PathOf("pipeline/decisions.yaml"), DocumentedYaml("docs/for-curators.md", "decisions"));
        // what the demo's groups sent in one campaign, and few trees, spare time
        foreach (string sent in Directory.GetDirectories($"{scenario}/inbox", "2024-autumn-*"))
            Workspace.CopyTree(sent, _work.PathOf($"inbox/{Path.GetFileName(sent)}"));
        // the paths of the demo; its islands are smaller than a world of blocks of five degrees
        Nightly(
            (" grids.yaml", $" {scenario}/grids.yaml"),
            (" countries.geojson", $" {scenario}/countries.geojson"), (" vocabulary.yaml", $" {scenario}/vocabulary.yaml"),
            ("block_degrees: 5", "block_degrees: 1"), ("folds: 10", "folds: 3"), ("trees: 300", "trees: 20\n  members: 20"),
            ("settings_tried: 4", "settings_tried: 1"));
        CommandResult run = _work.DecayAtlasHere("run", "pipeline/nightly.yaml");
        // the demo's broken contributions are quarantined, which is exit code 1 for a campaign of one's own
        Assert.True(run.ExitCode == 1, run.Everything);
        Assert.DoesNotContain("made a mistake", run.Everything, StringComparison.Ordinal);
        foreach (string made in new[] { "atlas/models/current/card.json", "atlas/maps/current/decay-rate.tif",
            "atlas/current/pages/index.html", "atlas/current/pages/de/index.html" })
        {
            Assert.True(File.Exists(_work.PathOf(made)), $"{made}\n{run.Everything}");
        }

        using RateModel model = RateModel.Load(_work.PathOf("atlas/models/current"));
        Assert.Contains(model.Card.Scores, s => s.Name == "warmth-moisture");
        Assert.Empty(model.Card.LeftOut);
    }

    [Fact]
    public void Each_piece_of_YAML_in_the_how_to_pages_is_accepted()
    {
        string decisions = Written("decisions.yaml", DocumentedYaml("docs/for-curators.md", "decisions"));
        Assert.NotEmpty(DecisionsFile.Read(decisions).All);
        Written("words.yaml", DocumentedYaml("docs/for-curators.md", "words"));
        Assert.NotEmpty(VocabularyFile.Read(_work.PathOf("words.yaml")).Entries);
        string pages = Written("pages.yaml", "version: 1\natlas: atlas\ninbox: inbox\n" + DocumentedYaml("docs/for-curators.md", "pages"));
        Assert.NotNull(ConfigurationReader.Read(pages).Pages);
        Written("CITATION.cff", File.ReadAllText(Project.PathOf("pipeline/demo.citation.cff")));
        string release = Written("release.yaml", "version: 1\natlas: atlas\ninbox: inbox\n" + DocumentedYaml("docs/for-curators.md", "release"));
        Assert.NotNull(ConfigurationReader.Read(release).Citation);
        string limits =
            Written("limits.yaml", "version: 1\natlas: atlas\ninbox: inbox\n" + DocumentedYaml("docs/for-curators.md", "limits"));
        Assert.Equal(IntakeLimits.Default, ConfigurationReader.Read(limits).Limits);
        string grids = Written("grids.yaml", DocumentedYaml("docs/grids.md", "grids"));
        Assert.Equal(5, GridCatalogue.Load(grids).Entries.Count);

        string remote =
            Written("remote.yaml", "version: 1\natlas: atlas\ninbox: inbox\n" + DocumentedYaml("docs/grids.md", "remote"));
        Assert.NotNull(ConfigurationReader.Read(remote).Remote);

        // a piece that is new has to be read here too
        Assert.Equal(7, Directory.GetFiles(Project.PathOf("docs"), "*.md").Append(Project.PathOf("README.md"))
            .Sum(f => YamlBlocks().Count(File.ReadAllText(f))));
        Assert.NotEmpty(CampaignReader.Read(Project.PathOf("pipeline/demo.campaign.yaml")).Lots);
        Assert.Equal(["demo.campaign.yaml", "demo.yaml", "nightly.yaml"], Directory.GetFiles(Project.PathOf("pipeline"), "*.yaml").Select(Path.GetFileName)
            .Order(StringComparer.Ordinal));
    }

    /// <summary>The shipped file with its commented settings switched on and some texts replaced, written to the workspace.</summary>
    private string Nightly(params (string From, string To)[] replaced)
    {
        string text = CommentedSetting().Replace(File.ReadAllText(Project.PathOf("pipeline/nightly.yaml")), "$1");
        foreach ((string from, string to) in replaced)
        {
            Assert.Contains(from, text, StringComparison.Ordinal);
            text = text.Replace(from, to, StringComparison.Ordinal);
        }

        return Written("pipeline/nightly.yaml", text);
    }

    private string Written(string path, string text)
    {
        File.WriteAllText(_work.PathOf(path), text);
        return _work.PathOf(path);
    }

    /// <summary>The piece of YAML on a page that has a key at its left edge.</summary>
    private static string DocumentedYaml(string page, string key) =>
        YamlBlocks().Matches(File.ReadAllText(Project.PathOf(page))).Select(m => m.Groups[1].Value)
            .Single(b => b.Split('\n').Any(l => l.StartsWith(key + ":", StringComparison.Ordinal)));

    [GeneratedRegex("^# ( *[a-z_]+:.*)$", RegexOptions.Multiline)]
    private static partial Regex CommentedSetting();

    [GeneratedRegex("^```yaml\n(.*?)^```", RegexOptions.Multiline | RegexOptions.Singleline)]
    private static partial Regex YamlBlocks();
}
