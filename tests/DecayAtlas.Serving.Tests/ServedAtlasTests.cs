using DecayAtlas.Atlas;
using DecayAtlas.Serving.Following;

namespace DecayAtlas.Serving.Tests;

public sealed class ServedAtlasTests
{
    [Fact]
    public void An_atlas_without_a_release_is_refused_with_the_way_to_make_one()
    {
        AtlasException refusal = Assert.Throws<AtlasException>(() => new ServedAtlas(Path.Combine(Path.GetTempPath(), Path.GetRandomFileName())));
        Assert.Contains("has no release yet; publish one first", refusal.Message, StringComparison.Ordinal);
    }
}
