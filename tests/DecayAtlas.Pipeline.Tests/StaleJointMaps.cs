using DecayAtlas.Storage;

namespace DecayAtlas.Pipeline.Tests;

/// <summary>A joint map stands beside the two maps that it was made of, and beside no others.</summary>
public sealed class StaleJointMaps : IDisposable
{
    private readonly AtlasFolder _atlas = new(Directory.CreateTempSubdirectory("decayatlas-").FullName);

    public void Dispose() => Directory.Delete(_atlas.Root, recursive: true);

    [Fact]
    public void One_of_other_maps_of_the_same_models_is_not_shown_and_its_link_goes()
    {
        Given("m-k-1", MapQuantity.DecayRate.Link);
        Given("m-s-1", MapQuantity.Stabilisation.Link);
        Given("m-k-joint-1", JointMap.Link, """
            { "rate_model_id": "m-k", "stabilisation_model_id": "m-s", "rate_map_id": "m-k-1", "stabilisation_map_id": "m-s-1" }
            """);
        JointStep.UnlinkIfStale(_atlas);
        Assert.Equal(Path.Combine(_atlas.Maps, "m-k-joint-1"), Shown("m-k-1", "m-s-1"));
        Assert.Null(Shown("m-k-2", "m-s-1"));
        Assert.Null(Shown("m-k-1", null));

        // the same models over other grids
        Given("m-k-2", MapQuantity.DecayRate.Link);
        JointStep.UnlinkIfStale(_atlas);
        Assert.Null(Shown("m-k-1", "m-s-1"));
        Assert.False(Path.Exists(MadeFolder.CurrentOf(_atlas.Maps, JointMap.Link)));
        Assert.True(Directory.Exists(Path.Combine(_atlas.Maps, "m-k-joint-1")));
    }

    [Fact]
    public void One_that_does_not_say_its_maps_is_not_shown()
    {
        Given("m-k-joint-1", JointMap.Link, """{ "rate_model_id": "m-k", "stabilisation_model_id": "m-s" }""");
        Assert.Null(Shown("m-k-1", "m-s-1"));
        Assert.Null(Shown(null, null));
    }

    private string? Shown(string? ofRate, string? ofShare) => JointStep.FolderOf(_atlas,
        ofRate is null ? null : Path.Combine("maps", ofRate), ofShare is null ? null : Path.Combine("maps", ofShare));

    private void Given(string id, string link, string? joint = null) => MadeFolder.Ensure(_atlas.Maps, id, folder =>
    {
        if (joint is not null)
            File.WriteAllText(Path.Combine(folder, JointFiles.SummaryName), joint);
    }, link);
}
