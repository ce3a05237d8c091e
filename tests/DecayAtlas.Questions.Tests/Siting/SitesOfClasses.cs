using System.Text.Json;
using DecayAtlas.Prediction.Siting;
using DecayAtlas.Questions.Siting;

namespace DecayAtlas.Questions.Tests.Siting;

/// <summary>Proposed places under a model of classes, by hand: what stands in the files, and what is said.</summary>
public sealed class SitesOfClasses
{
    private static readonly SitePlan Plan = new(["isle"], "m-1", "r-1", 0.9, new(0.10, 0.05, 0.02),
        [new(0, 0.11, 0.11, 0.11, 0.11, 0.11), new(1, 0.08, 0.09, 0.10, 0.09, 0.11)],
        [new(1, "isle", new(10, 50), 0.01, 0.008, 0.012, true, 0.1, null, false, [12.5, 1], 0.08)],
        new(3, 2, 1, 0, new Dictionary<string, int>()),
        [new("warmth", "degC", "Warmth", 0, 20),
            new("management", "", "Management", null, null) { Classes = new(["none", "organic"], [], [20, 20]), IsStated = true }]);

    private static IReadOnlyList<string> Said(string? asIf) =>
        SiteSentences.Of(new(null, null, null, 1), Plan, new(1, new(0.002, 0.001)), asIf);

    [Fact]
    public void A_class_is_told_by_its_name_in_every_format()
    {
        Assert.Equal("organic", SiteFiles.Places(Plan)[0]["covariate_management"]);
        string folder = Directory.CreateTempSubdirectory().FullName;
        try
        {
            SiteFiles.Write(folder, Plan);
            string[] csv = File.ReadAllLines(Path.Combine(folder, SiteFiles.CsvName));
            Assert.EndsWith("covariate_warmth,covariate_management", csv[0], StringComparison.Ordinal);
            Assert.EndsWith("12.5,organic", csv[1], StringComparison.Ordinal);
            using JsonDocument json = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, SiteFiles.GeoJsonName)));
            JsonElement properties = json.RootElement.GetProperty("features")[0].GetProperty("properties");
            Assert.Equal("organic", properties.GetProperty("covariate_management").GetString());
            Assert.Equal(12.5, properties.GetProperty("covariate_warmth").GetDouble());
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Fact]
    public void What_the_map_takes_places_for_comes_first_and_batches_are_not_said_to_stay()
    {
        Assert.StartsWith("The map is made as if management is organic,", Said("as if management is organic")[0], StringComparison.Ordinal);
        Assert.DoesNotContain(Said(null), s => s.Contains("as if", StringComparison.Ordinal));
        string parts = Said(null)[0];
        Assert.Contains("lots and batches \u00b1 5.1 % (left as it is", parts, StringComparison.Ordinal);
        Assert.Contains("what new batches lower of the part of batches is not counted", parts, StringComparison.Ordinal);
        Assert.Contains("with lots and batches left as they are, no number of sites", Said(null)[1], StringComparison.Ordinal);
    }
}
