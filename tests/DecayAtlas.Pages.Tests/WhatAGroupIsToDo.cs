namespace DecayAtlas.Pages.Tests;

/// <summary>What a group is asked: to mend, to look, or nothing where a series lay as planned.</summary>
public class WhatAGroupIsToDo
{
    private static readonly FlagMeaning[] Meanings =
    [
        new("surprise", "outlier", "note", "site", "", "") { IsToCheck = true },
        new("bag-lost", "protocol", "note", "bag", "", "") { IsAsTold = true },
        new("bag-damaged", "protocol", "suspect", "bag", "", "") { IsAsTold = true },
        new("chemistry-basis-unstated", "protocol", "note", "bag", "", "") { IsOfLot = true },
        new("balance-unstated", "protocol", "note", "bag", "", ""), new("exposure-long", "protocol", "suspect", "bag", "", ""),
    ];

    [Fact]
    public void A_surprise_is_to_be_looked_at_a_lost_or_torn_bag_is_as_told_and_a_lot_is_not_the_groups()
    {
        GroupFlags flags = GroupFlags.Of(
            [Flag("bag-lost", "note", "bag", "b1"), Flag("surprise", "note", "site", "S1"), Flag("balance-unstated", "note", "bag", "b2"),
                Flag("bag-damaged", "suspect", "bag", "b3"), Flag("chemistry-basis-unstated", "note", "bag", "b4")],
            [Burial("b", 90)], Meanings);

        Assert.Equal(["surprise"], flags.Check.Select(f => f.Code));
        Assert.Equal(["bag-lost", "bag-damaged"], flags.Told.Select(f => f.Code));
        Assert.Equal(["balance-unstated"], flags.Notes.Select(f => f.Code));
        Assert.Empty(flags.Mend);
    }

    [Fact]
    public void A_time_series_is_not_told_to_mend_the_days_that_it_planned()
    {
        ReleasedBurial[] series = [Burial("a", 30), Burial("b", 90), Burial("c", 200)];

        GroupFlags flags = GroupFlags.Of([Flag("exposure-long", "suspect", "bag", "c-f"), Flag("mass-gain", "reject", "bag", "c-s")],
            series, Meanings);

        Assert.Equal(["exposure-long"], flags.Planned.Select(f => f.Code));
        Assert.Equal(["mass-gain"], flags.Mend.Select(f => f.Code));
    }

    [Fact]
    public void One_long_burial_is_to_be_mended() => Assert.Single(
        GroupFlags.Of([Flag("exposure-long", "suspect", "bag", "c-f")], [Burial("a", 90), Burial("c", 200)], Meanings).Mend);

    [Fact]
    public void What_a_curator_overruled_is_a_note() => Assert.Single(GroupFlags.Of(
        [Flag("exposure-long", "suspect", "bag", "c-f") with { OverruledBy = "c", OverruledBecause = "seen" }], [Burial("c", 200)],
        Meanings).Notes);

    [Fact]
    public void A_page_with_nothing_to_mend_says_so_in_its_heading_and_names_a_lost_bag_as_the_reason()
    {
        ReleasedBurial[] burials = [Burial("a", 90), Burial("b", 90) with { RatePerDay = null, RateMissingBecause = "mass-not-reported" }];
        ReleaseData data = new("0123456789ab", [Examples.Site("g0", "S1")], burials, [],
            [], [Examples.Contribution("g0")], [Flag("bag-lost", "note", "bag", "b-f"), Flag("bag-damaged", "suspect", "bag", "a-f")]);
        SiteFile[] files = [.. SiteMaker.Make(Examples.Inputs(data) with { FlagMeanings = Meanings }, Examples.Options(data))];
        string page = files.Single(f => f.Path == "contributions/c-g0.html").Text,
            german = files.Single(f => f.Path == "de/contributions/c-g0.html").Text;

        Assert.Contains("<h2>Nothing to mend</h2>", page, StringComparison.Ordinal);
        Assert.DoesNotContain("What to mend", page, StringComparison.Ordinal);
        Assert.DoesNotContain("slip", page, StringComparison.Ordinal);
        Assert.Contains("<h2>As you told us</h2>", page, StringComparison.Ordinal);
        Assert.Contains("der Beutel ging verloren", german, StringComparison.Ordinal);
        Assert.DoesNotContain("keine Masse gesendet", german, StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_numbers_of_places_mean_is_said_once_and_no_id_of_a_burial_breaks()
    {
        string[] places = ["S1", "S2", "S3"];
        ReleaseData data = new("0123456789ab", places.Select(p => Examples.Site("g0", p)),
            places.Select(p => Examples.Burial("g0", p, $"24S-{p}-1", 0.01)), [], [], [Examples.Contribution("g0")], []);
        string page = SiteMaker.Make(Examples.Inputs(data), Examples.Options(data)).Single(f => f.Path == "contributions/c-g0.html").Text;

        Assert.Equal(3, page.Split("<p class=\"card-site\">").Length - 1);
        Assert.Equal(1, page.Split("half of what can rot").Length - 1);
        Assert.All(places, p => Assert.Contains($"<span class=\"whole\">24S-{p}-1</span>", page, StringComparison.Ordinal));
    }

    // a site is the group's, and what is found of it bears on all that lies there
    [Fact]
    public void Why_burials_do_not_count_stands_on_the_page_where_the_flag_of_their_site_hangs_on_another_contribution_of_the_group()
    {
        ReleasedFlag moved = Flag("site-moved", "suspect", "site", "S1") with
        {
            ContributionId = "c-later",
            Explanation = "reported 100 km from where it was",
        };
        ReleasedContribution[] both = [Examples.Contribution("g0"), HandMade.Contribution("c-later", "g0"), Examples.Contribution("g1")];
        ReleaseData data = new("0123456789ab", [Examples.Site("g0", "S1"), Examples.Site("g1", "S1")],
            [Burial("a", 90) with { Use = "suspect" }, Examples.Burial("g1", "S1", "1", 0.01)], [], [], both,
            [moved, moved with { RecordKind = "bag", RecordId = "other" }]);
        FlagMeaning[] meanings = [.. Meanings, new("site-moved", "place", "suspect", "site", "", "")];
        SiteFile[] files = [.. SiteMaker.Make(Examples.Inputs(data) with { FlagMeanings = meanings }, Examples.Options(data))];

        string page = files.Single(f => f.Path == "contributions/c-g0.html").Text;
        Assert.Contains("What to mend", page, StringComparison.Ordinal);
        Assert.Contains("site <span class=\"whole\">S1</span>", page, StringComparison.Ordinal);
        Assert.Contains("site-moved", page, StringComparison.Ordinal);
        // what hangs on another group's site of the same id, or on another's bag, is not its own
        Assert.DoesNotContain("site-moved", files.Single(f => f.Path == "contributions/c-g1.html").Text, StringComparison.Ordinal);
        Assert.DoesNotContain("bag other", page, StringComparison.Ordinal);
    }

    // as people count them: 2 stands before 10
    [Fact]
    public void Burials_stand_in_the_order_of_their_numbers()
    {
        ReleaseData data = new("0123456789ab", [Examples.Site("g0", "S1")], [Burial("1", 90), Burial("10", 90), Burial("2", 90)], [], [],
            [Examples.Contribution("g0")], []);
        string page = SiteMaker.Make(Examples.Inputs(data), Examples.Options(data)).Single(f => f.Path == "contributions/c-g0.html").Text;

        int two = At("2"), ten = At("10");
        Assert.InRange(two, 0, ten);

        int At(string id) => page.IndexOf($"<th scope=\"row\"><span class=\"whole\">{id}</span></th>", StringComparison.Ordinal);
    }

    // its id holds the row of its kit's list of places, and nothing of its name
    [Theory]
    [InlineData("place-2", true, "place 2, hidden")]
    [InlineData("place-2", false, "place-2")]
    [InlineData("P-7", true, "P-7")]
    public void A_hidden_place_of_a_kit_is_called_so(string id, bool isHidden, string called)
    {
        ReleaseData data = new("0123456789ab", [Examples.Site("g0", id, generalised: isHidden)],
            [Examples.Burial("g0", id, "1", 0.01), Examples.Burial("g0", id, "2", 0.011)], [], [], [Examples.Contribution("g0")], []);
        SiteFile[] files = [.. SiteMaker.Make(Examples.Inputs(data), Examples.Options(data))];

        Assert.Contains($">{called}<", files.Single(f => f.Path == "contributions/c-g0.html").Text, StringComparison.Ordinal);
    }

    private static ReleasedFlag Flag(string code, string severity, string kind, string id) => new()
    {
        ContributionId = "c-g0",
        RecordKind = kind,
        RecordId = id,
        Code = code,
        Severity = severity,
        Explanation = code,
    };

    private static ReleasedBurial Burial(string id, int days) =>
        Examples.Burial("g0", "S1", id, 0.01) with { BurialId = id, FastBagId = id + "-f", SlowBagId = id + "-s", ExposureDays = days };
}
