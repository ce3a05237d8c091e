namespace DecayAtlas.Pipeline.Tests;

public class GridDigests
{
    private static readonly CatalogueEntry Rain = new("rain", "Rain", "rain.nc", 1, "mm", SamplingRule.Nearest, false, null, null, null,
        null, null,
        Variable: "pr", Select: new Dictionary<string, string> { ["time"] = "month 7" });

    private static string Digest(CatalogueEntry entry, string fingerprint = "sha256:0") => GridInput.Of(entry, _ => fingerprint).Digest;

    [Fact]
    public void All_that_shapes_a_value_is_in_the_digest_and_what_does_not_is_not()
    {
        Assert.Equal(Digest(Rain), Digest(Rain with { Path = "elsewhere/rain.nc", Title = "Precipitation", Source = "a survey" }));
        string[] different =
        [
            Digest(Rain), Digest(Rain, "sha256:1"), Digest(Rain with { Band = 2 }), Digest(Rain with { Unit = "cm" }),
            Digest(Rain with { Rule = SamplingRule.Bilinear }),
            Digest(Rain with { ValidWithinMetres = 1000 }), Digest(Rain with { Scale = 0.1 }), Digest(Rain with { Offset = 1 }),
            Digest(Rain with { MissingValue = -1 }),
            Digest(Rain with { Crs = "EPSG:4326" }), Digest(Rain with { Variable = "tas" }),
            Digest(Rain with { Select = new Dictionary<string, string> { ["time"] = "month 8" } }), Digest(Rain with { Select = null }),
        ];
        Assert.Equal(different.Length, different.Distinct().Count());
    }
}
