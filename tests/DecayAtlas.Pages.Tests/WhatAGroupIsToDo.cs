namespace DecayAtlas.Pages.Tests;

/// <summary>What a group is asked: to mend, to look, or nothing where a series lay as planned.</summary>
public class WhatAGroupIsToDo
{
    private static readonly FlagMeaning[] Meanings =
    [
        new("surprise", "outlier", "note", "site", "", "", IsToCheck: true), new("bag-lost", "protocol", "note", "bag", "", "", IsToCheck: true),
        new("balance-unstated", "protocol", "note", "bag", "", ""), new("exposure-long", "protocol", "suspect", "bag", "", ""),
    ];

    [Fact]
    public void A_lost_bag_and_a_surprise_are_to_be_looked_at_and_other_notes_are_not()
    {
        GroupFlags flags = GroupFlags.Of(
            [Flag("bag-lost", "note", "bag", "b1"), Flag("surprise", "note", "site", "S1"), Flag("balance-unstated", "note", "bag", "b2")],
            [Burial("b", 90)], Meanings);

        Assert.Equal(["bag-lost", "surprise"], flags.Check.Select(f => f.Code));
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
