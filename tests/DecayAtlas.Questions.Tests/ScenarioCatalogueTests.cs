namespace DecayAtlas.Questions.Tests;

public sealed class ScenarioCatalogueTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("scenario-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void What_is_computed_from_a_swapped_grid_is_computed_anew_and_the_rest_stays()
    {
        IReadOnlyList<CatalogueEntry> now = Catalogue("now", Air("now.tif", "degC") + Response + Soil);
        IReadOnlyList<CatalogueEntry> later = ScenarioCatalogue.Of(now, Catalogue("later", Air("later.tif", "degC")), "later.yaml");
        Assert.Equal(["later.tif", "later.tif", "clay.tif"], later.Select(e => Path.GetFileName(Assert.Single(e.Files))));
        Assert.Same(now[2], later[2]);
        Assert.Equal(["air", "response", "clay"], later.Select(e => e.Name));
    }

    [Fact]
    public void A_scenario_that_changes_nothing_or_brings_an_input_in_another_unit_is_one_clear_sentence()
    {
        IReadOnlyList<CatalogueEntry> now = Catalogue("now", Air("now.tif", "degC") + Response + Soil);
        Assert.Contains("nothing would differ",
            Assert.Throws<ConfigurationException>(() =>
                ScenarioCatalogue.Of(now, Catalogue("other", Soil.Replace("clay", "loam", StringComparison.Ordinal)),
                    "other.yaml")).Message, StringComparison.Ordinal);
        Assert.Contains("air has the unit 'K', while response is computed from it in 'degC'",
            Assert.Throws<ConfigurationException>(() =>
                ScenarioCatalogue.Of(now, Catalogue("kelvin", Air("later.tif", "K")), "kelvin.yaml")).Message, StringComparison.Ordinal);
    }

    private const string Response = """
          - { name: response, title: Response, derived: temperature_response, inputs: { temperature: air }, unit: "", kind: continuous }

        """;

    private const string Soil = """
          - { name: clay, title: Clay, file: clay.tif, unit: "%", rule: nearest, kind: continuous, source: invented }

        """;

    private static string Air(string file, string unit) => $$"""
          - { name: air, title: Air, file: {{file}}, months: bands, statistic: mean, unit: "{{unit}}", rule: bilinear, kind: continuous, source: invented }

        """;

    private IReadOnlyList<CatalogueEntry> Catalogue(string name, string grids)
    {
        string path = Path.Combine(_folder, name + ".yaml");
        File.WriteAllText(path, "version: 1\ngrids:\n" + grids);
        return GridCatalogue.Load(path).Entries;
    }
}
