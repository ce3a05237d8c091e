namespace DecayAtlas.Pipeline.Tests;

/// <summary>A map that cannot be drawn is told before anything is taken in, and not after a release and minutes of training.</summary>
public sealed class MapsForeseen : IDisposable
{
    private const string Grids = """
        version: 1
        grids:
          - { name: clay, title: Clay, file: clay.asc, unit: "%", rule: nearest, kind: continuous, crs: "EPSG:4326" }
          - { name: soil, title: Soil, polygons: soil.geojson, attribute: unit, unit: "", kind: class }
        """;

    private const string Square = """
        {"type":"FeatureCollection","features":[{"type":"Feature","properties":{"unit":"Cambisols"},
        "geometry":{"type":"Polygon","coordinates":[[[-170,-80],[170,-80],[170,80],[-170,80],[-170,-80]]]}}]}
        """;

    private SmallAtlas? _atlas;

    public void Dispose() => _atlas?.Dispose();

    private RunRecord Night(string covariates, string map)
    {
        _atlas = new SmallAtlas($"grids: g.yaml\ntrain: {{ covariates: [{covariates}] }}\nmap: {map}\n").Receives("c1", "g1");
        File.WriteAllText(_atlas.PathOf("g.yaml"), Grids);
        File.WriteAllText(_atlas.PathOf("soil.geojson"), Square);
        File.WriteAllText(_atlas.PathOf("clay.asc"),
            "ncols 36\nnrows 18\nxllcorner -180\nyllcorner -90\ncellsize 10\n" + string.Concat(Enumerable.Repeat("20 ", 36 * 18)));
        return _atlas.Night();
    }

    [Theory]
    [InlineData("clay, management", "{}", "The model takes management as sites state it, and no grid tells it; state a class for")]
    [InlineData("clay, stated:ecosystem", "{ as_if: { ecosystem: forest, land_use: arable } }", "chosen for land_use, which is no class")]
    [InlineData("clay, land_use", "{ from_grid: { land_use: clay } }", "from clay, which is no class grid of the catalogue; it has soil")]
    [InlineData("clay, land_use", "{ from_grid: { land_use: soil } }", "soil.geojson is a map of units and no grid; rasterise it")]
    [InlineData("clay, soil", "{}", "soil.geojson is a map of units and no grid; rasterise it")]
    [InlineData("management", "{ as_if: { management: organic } }", "no grid says where a map lies")]
    [InlineData("clay", "{ as_if: { clay: heavy } }", "chosen for clay, which is no class of the model; its covariates are all numbers")]
    [InlineData("clay", "{ polygons: none.geojson }", "There is no polygon file")]
    [InlineData("clay", "{ regions: soil.geojson, region_name: colour }", "has no property colour")]
    public void What_cannot_be_mapped_is_told_before_anything_is_taken_in(string covariates, string map, string says)
    {
        RunRecord night = Night(covariates, map);

        Assert.Contains(says, night.Failure, StringComparison.Ordinal);
        Assert.Equal(RecordedRun.Usage, night.ExitCode);
        Assert.Empty(night.Stages);
        Assert.Null(_atlas!.Atlas.CurrentRelease());
        Assert.Contains("The release that was current before still is.", _atlas.Summary, StringComparison.Ordinal);
        Assert.Throws<FailedRunException>(() => RunPlan.Make(ConfigurationReader.Read(_atlas.PathOf("p.yaml"))));
    }

    /// <summary>One contribution is too few to train on, so that the run fails after its release is published.</summary>
    [Theory]
    [InlineData("clay, management", "{ as_if: { management: organic } }")]
    [InlineData("clay, soil", "{ as_if: { soil: Cambisols }, regions: soil.geojson, region_name: unit }")]
    public void What_can_be_mapped_goes_on_and_a_failure_after_the_release_says_that_it_is_published(string covariates, string map)
    {
        RunRecord night = Night(covariates, map);

        Assert.Equal((RecordedRun.Failed, "publish"), (night.ExitCode, night.Stages[^1].Stage));
        Assert.Equal(_atlas!.Atlas.CurrentRelease()?.ToString(), night.ReleaseId);
        Assert.Contains($"Release {night.ReleaseId} is published; map and pages are still those of before, or missing.", _atlas.Summary,
            StringComparison.Ordinal);
        Assert.DoesNotContain("that was current before still is", _atlas.Summary, StringComparison.Ordinal);

        // the next night finds nothing new, and fails in the same place
        RunRecord next = _atlas.Night();
        Assert.Equal((RecordedRun.Failed, false), (next.ExitCode, next.ReleaseIsNew));
        Assert.Contains("The release that was current before still is.", _atlas.Summary, StringComparison.Ordinal);
    }
}
