namespace DecayAtlas.Pages.Tests;

/// <summary>A group and a campaign are called as the curator calls them, where a campaign file does; their ids stay findable.</summary>
public class TitlesOfGroups
{
    private static readonly GivenTitles Titles = new(
        new Dictionary<string, string> { ["g0"] = "School in the <Hollow>" }, new Dictionary<string, string> { ["2024-spring"] = "Spring" });

    private static string Made(string file, GivenTitles? titles)
    {
        ReleaseData data = Examples.WarmerIsFaster(12);
        PagesInputs inputs = Examples.Inputs(data) with { Titles = titles ?? GivenTitles.None };
        return Assert.Single(SiteMaker.Make(inputs, Examples.Options(data)), f => f.Path == file).Text;
    }

    [Theory]
    [InlineData("contributions/c-g0.html")]
    [InlineData("contributions/index.html")]
    [InlineData("class/c-g0.html")]
    [InlineData("de/class/c-g0.html")]
    public void Pages_and_class_sheets_show_titles_and_keep_the_ids_in_a_quieter_place(string file)
    {
        string titled = Made(file, Titles), bare = Made(file, null);

        Assert.Contains("School in the &lt;Hollow&gt;", titled, StringComparison.Ordinal);
        Assert.Contains("Spring", titled, StringComparison.Ordinal);
        Assert.Contains("c-g0", titled, StringComparison.Ordinal);
        Assert.DoesNotContain("Hollow", bare, StringComparison.Ordinal);
        Assert.DoesNotContain("Spring", bare, StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_of_a_group_begins_with_its_title_and_sites_keep_their_ids()
    {
        string page = Made("contributions/c-g0.html", Titles);
        Assert.Contains("<h1>School in the &lt;Hollow&gt;</h1>", page, StringComparison.Ordinal);
        Assert.Contains("<span class=\"nothing\">g0</span>", page, StringComparison.Ordinal);
        Assert.Contains("<h1>c-g0</h1>", Made("contributions/c-g0.html", null), StringComparison.Ordinal);
        Assert.Contains("<option value=\"2024-spring\">Spring</option>", Made("map.html", Titles), StringComparison.Ordinal);
    }
}
