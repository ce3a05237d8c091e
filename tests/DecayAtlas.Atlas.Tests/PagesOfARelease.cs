namespace DecayAtlas.Atlas.Tests;

public sealed class PagesOfARelease : AtlasInTemporaryFolder
{
    [Fact]
    public void Pages_of_which_one_could_not_be_made_count_as_not_made_under_any_key()
    {
        ReleasePages pages = new(Atlas, Publish().Release);
        pages.Make("first", folder => folder.WriteText("index.html", "whole"));
        Assert.True(pages.AreMadeFrom("first"));

        pages.Make("second", folder =>
        {
            folder.WriteText("index.html", "this page could not be made");
            folder.MarkIncomplete();
        });
        Assert.False(pages.AreMadeFrom("second"));
        Assert.False(pages.AreMadeFrom("first"));   // the ones of then are gone
        Assert.Equal("this page could not be made", File.ReadAllText(Path.Combine(pages.Folder, "index.html")));

        pages.Make("second", folder => folder.WriteText("index.html", "whole"));
        Assert.True(pages.AreMadeFrom("second"));
    }
}
