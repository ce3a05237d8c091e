namespace DecayAtlas.Serving.Tests;

public sealed class ServedAtlasTests
{
    [Fact]
    public void An_atlas_without_a_release_is_refused_with_the_way_to_make_one()
    {
        AtlasException refusal =
            Assert.Throws<AtlasException>(() => new ServedAtlas(Path.Combine(Path.GetTempPath(), Path.GetRandomFileName())));
        Assert.Contains("has no release yet; publish one first", refusal.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("sites")]
    [InlineData("burials")]
    public void A_release_that_lost_a_file_of_a_table_is_refused_rather_than_served_as_a_smaller_one(string table)
    {
        using ExampleAtlas example = new();
        string file = Directory.GetFiles(Path.Combine(example.Atlas.Current, table), "*.parquet", SearchOption.AllDirectories)[0];
        File.Delete(file);
        AtlasException refusal = Assert.Throws<AtlasException>(() => new ServedAtlas(example.Atlas.Root));
        Assert.Contains($"has no file {Path.GetRelativePath(example.Atlas.Current, file).Replace('\\', '/')} any more", refusal.Message,
            StringComparison.Ordinal);
    }
}
