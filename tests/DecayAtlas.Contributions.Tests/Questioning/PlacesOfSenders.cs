namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Which places a table of one's own holds, and whether everybody may see them.</summary>
public class PlacesOfSenders
{
    // two holes in each of two fields; the fields lie a kilometre apart, which the table does not say
    private static string Fields(string heading) => heading
        + ",Hole,Buried,Dug up,Fast before (g),Fast after (g),Slow before (g),Slow after (g)\n"
        + "Trigal,1,2025-05-14,2025-08-12,2.40,1.30,2.60,2.00\nTrigal,2,2025-05-14,2025-08-12,2.41,1.31,2.61,2.01\n"
        + "Pinar,3,2025-05-14,2025-08-12,2.42,1.32,2.62,2.02\nPinar,4,2025-05-14,2025-08-12,2.43,1.33,2.63,2.03\n";

    [Theory]
    [InlineData("Campo")]
    [InlineData("Huerta")]
    [InlineData("Bancal")]
    [InlineData("Champ")]
    [InlineData("Schlag")]
    [InlineData("Acker")]
    [InlineData("Bed")]
    [InlineData("Garden")]
    public void A_field_or_garden_is_a_place(string heading) =>
        Assert.Equal(["place:Trigal", "place:Pinar"], AskedSheet.Ask(Fields(heading)).Ids());

    [Theory]
    [InlineData("Parcela")]
    [InlineData("Parcelle")]
    [InlineData("Parzelle")]
    [InlineData("Plot")]
    [InlineData("Zona")]
    public void Whether_a_column_that_parts_the_rows_names_places_is_asked_first_and_never_pooled(string heading)
    {
        string id = $"place-column:{heading}";
        Inquiry asked = AskedSheet.Ask(Fields(heading));
        Assert.Equal([id], asked.Ids());
        Assert.Null(asked.Questions[0].Suggested);

        Assert.Equal(["place:Trigal", "place:Pinar"], AskedSheet.Ask(Fields(heading), (id, "place")).Ids());
        ContributionTables places = AskedSheet.Tables(Fields(heading), (id, "place"), ("place:Trigal", "48.1 N, 9.2 E"),
            ("place:Pinar", "48.2 N, 9.3 E"));
        Assert.Equal([("Trigal", 48.1), ("Pinar", 48.2)], places.Sites.Select(site => (site.SiteId, site.DecimalLatitude)));
        Assert.Equal(["Trigal", "Trigal", "Trigal", "Trigal", "Pinar", "Pinar", "Pinar", "Pinar"],
            places.Bags.OrderBy(bag => bag.BurialId).Select(bag => bag.SiteId));

        ContributionTables plots = AskedSheet.Tables(Fields(heading), (id, "plot"), ("place:site-1", "48.1 N, 9.2 E"));
        Assert.Equal("site-1", Assert.Single(plots.Sites).SiteId);
        Assert.Equal(["Pinar", "Trigal"], plots.Bags.Select(bag => bag.Plot).Distinct().Order());

        ContributionTables neither = AskedSheet.Tables(Fields(heading), (id, "neither"), ("place:site-1", "48.1 N, 9.2 E"));
        Assert.All(neither.Bags, bag => Assert.Equal(("site-1", null), (bag.SiteId, bag.Plot)));
    }

    private static readonly string Two = AskedSheet.Head("Before (g),After (g)") + AskedSheet.Bags("1", "2.41,1.30", "2.61,2.01")
        + AskedSheet.Bags("2", "2.42,1.31", "2.62,2.02").Replace("meadow,48.1,9.2", "oak garden,48.2,9.3", StringComparison.Ordinal);

    [Fact]
    public void Whether_places_may_be_seen_is_asked_once_for_all_of_them()
    {
        Question question = Assert.Single(AskedSheet.Ask(Two, ("places", "")).Questions);
        Assert.Equal(("places", "open"), (question.Id, question.Suggested));
        Assert.Equal(["open", "10", "100", "1000", "hidden", "some"], question.Choices.Select(choice => choice.Value));
    }

    [Theory]
    [InlineData("open", null, false)]
    [InlineData("10", 10.0, false)]
    [InlineData("1000", 1000.0, false)]
    [InlineData("hidden", null, true)]
    public void The_answer_stands_in_the_sites(string answer, double? metres, bool isHidden)
    {
        ContributionTables tables = AskedSheet.Tables(Two, ("places", answer));
        Assert.All(tables.Sites, site => Assert.Equal((metres, (bool?)isHidden), (site.CoordinateUncertaintyMetres,
            site.CoordinatesSensitive)));
        // the id of a hidden place is published, and says nothing of its name
        Assert.Equal(isHidden ? ["place-1", "place-2"] : ["meadow", "oak-garden"], tables.Sites.Select(site => site.SiteId));
        Assert.Equal(tables.Sites.Select(site => site.SiteId), tables.Bags.Select(bag => bag.SiteId).Distinct());
    }

    [Fact]
    public void Some_places_may_be_hidden_and_others_not()
    {
        Assert.Equal(["hidden-of:meadow", "hidden-of:oak garden"], AskedSheet.Ask(Two, ("places", "some")).Ids());
        ContributionTables tables = AskedSheet.Tables(Two, ("places", "some"), ("hidden-of:meadow", "no"),
            ("hidden-of:oak garden", "yes"));
        Assert.Equal([("meadow", false), ("place-2", true)], tables.Sites.Select(site => (site.SiteId, site.CoordinatesSensitive == true)));
    }

    [Fact]
    public void An_accuracy_that_the_table_says_is_read()
    {
        string table = Two.Replace("Dug up\n", "Dug up,GPS accuracy (m)\n", StringComparison.Ordinal)
            .Replace("2025-08-12\n", "2025-08-12,8\n", StringComparison.Ordinal);
        Assert.Equal(["open", "hidden", "some"], Assert.Single(AskedSheet.Ask(table, ("places", "")).Questions).Choices
            .Select(choice => choice.Value));
        Assert.All(AskedSheet.Tables(table).Sites, site => Assert.Equal(8, site.CoordinateUncertaintyMetres));
    }
}
