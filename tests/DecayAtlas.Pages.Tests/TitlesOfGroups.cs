namespace DecayAtlas.Pages.Tests;

/// <summary>A group and a campaign are called as the curator calls them, where a campaign file does; their ids stay findable.</summary>
public class TitlesOfGroups
{
    private static readonly GivenTitles Titles = new(
        new Dictionary<string, string> { ["g0"] = "School in the <Hollow>" },
        new Dictionary<string, LocalText> { ["2024-spring"] = LocalText.Of("Spring", "en") });

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

    [Theory]
    [InlineData("de/contributions/c-g0.html")]
    [InlineData("de/contributions/index.html")]
    [InlineData("de/class/c-g0.html")]
    [InlineData("de/map.html")]
    public void A_campaign_with_titles_by_language_has_that_of_the_page(string file)
    {
        LocalText title = new("Roots & Bags", new Dictionary<string, string> { ["en"] = "Roots & Bags", ["de"] = "Wurzeln & Beutel" });
        GivenTitles titles = Titles with { Campaigns = new Dictionary<string, LocalText> { ["2024-spring"] = title } };
        string german = Made(file, titles), english = Made(file[3..], titles);

        Assert.Contains("Wurzeln &amp; Beutel", german, StringComparison.Ordinal);
        Assert.DoesNotContain("Roots &amp;", german, StringComparison.Ordinal);
        Assert.Contains("Roots &amp; Bags", english, StringComparison.Ordinal);
        Assert.DoesNotContain("Wurzeln", english, StringComparison.Ordinal);
    }

    // the sheet speaks as the class, and its reasons stand elsewhere
    [Fact]
    public void A_class_sheet_without_a_result_says_where_the_reason_stands()
    {
        ReleaseData data = new("r", [Examples.Site("g", "S")], [Examples.Burial("g", "S", "1", 0.01, use: "suspect")], [], [],
            [Examples.Contribution("g")], []);

        string sheet = SiteMaker.Make(Examples.Inputs(data), Examples.Options(data)).Single(f => f.Path == "de/class/c-g.html").Text;

        Assert.Contains("Noch keine unserer Vergrabungen", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("Keine eurer Vergrabungen", sheet, StringComparison.Ordinal);
    }

    [Fact]
    public void A_place_is_called_as_it_was_written_and_else_by_its_id()
    {
        ReleasedSite slope = Examples.Site("g", "Suedhang-Nord") with { SiteName = "Südhang-Nord <oben>" };
        ReleaseData data = new("r", [slope, Examples.Site("g", "Am-Bach")],
            [Examples.Burial("g", "Suedhang-Nord", "1", 0.01), Examples.Burial("g", "Am-Bach", "2", 0.02)], [], [],
            [Examples.Contribution("g")], []);
        Dictionary<string, string> made = SiteMaker.Make(Examples.Inputs(data), Examples.Options(data))
            .Where(f => f.Path is "class/c-g.html" or "contributions/c-g.html").ToDictionary(f => f.Path, f => f.Text);

        Assert.All(made.Values, page =>
        {
            Assert.Contains("Südhang-Nord &lt;oben&gt;", page, StringComparison.Ordinal);
            Assert.DoesNotContain("Suedhang Nord", page, StringComparison.Ordinal);
            Assert.Contains("Am Bach", page, StringComparison.Ordinal);
        });
        Assert.Equal(2, made.Count);
        // in the table of burials too
        Assert.Contains("<span title=\"Suedhang-Nord\">Südhang-Nord &lt;oben&gt;</span></a></td>", made["contributions/c-g.html"],
            StringComparison.Ordinal);
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
