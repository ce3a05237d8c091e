namespace DecayAtlas.Pipeline.Tests;

/// <summary>What was set aside in a run is not always what waits after it.</summary>
public sealed class WhatARunSaysOfTheQuarantine
{
    private static string Broken(string file, string text) =>
        file == "bags.csv" ? text.Replace("2024-", "2024-13-", StringComparison.Ordinal) : text;

    [Fact]
    public void Of_two_broken_revisions_in_one_night_the_first_is_told_as_answered_and_only_the_second_waits()
    {
        using SmallAtlas atlas = new();
        atlas.Receives("c1", "g1", revision: 1, Broken).Receives("c1", "g1", revision: 2, Broken);

        RunRecord night = atlas.Night();

        Assert.Equal([true, false], night.Quarantined.Select(q => q.CameAgain));
        Assert.Equal(1, night.QuarantineOpen);
        string waiting = File.ReadAllText(atlas.PathOf("atlas/quarantine/waiting.md"));
        Assert.All(night.Quarantined, one => Assert.Equal(!one.CameAgain, waiting.Contains(one.ContentHash!, StringComparison.Ordinal)));
        Assert.Contains("Quarantined in this run: 2. ", atlas.Summary, StringComparison.Ordinal);
        Assert.Contains("What waits is in quarantine/waiting.md", atlas.Summary, StringComparison.Ordinal);
        Assert.All(night.Quarantined, one => Assert.True(File.Exists(one.Report)));
        Assert.Contains($"- {night.Quarantined[1]}; report: {night.Quarantined[1].Report}\n", atlas.Summary, StringComparison.Ordinal);
        Assert.Contains($"{night.Quarantined[0]}", atlas.Summary, StringComparison.Ordinal);
        Assert.EndsWith(" (came again in the same run)", night.Quarantined[0].ToString(), StringComparison.Ordinal);
        Assert.True(atlas.Summary.IndexOf(night.Quarantined[1].ContentHash![..12], StringComparison.Ordinal)
            < atlas.Summary.IndexOf(night.Quarantined[0].ContentHash![..12], StringComparison.Ordinal));
    }

    [Fact]
    public void One_without_an_id_is_told_by_what_it_is_and_one_of_a_known_group_by_the_title_that_the_curator_gave_it()
    {
        using SmallAtlas atlas = new("campaigns: [campaign.yaml]\n");
        File.WriteAllText(atlas.PathOf("campaign.yaml"), MailsOfANight.Campaign);
        atlas.Receives("c1", "hollow-school", edit: Broken)
            .Receives("c2", "g2", edit: (file, text) => file == "datapackage.json" ? text.Replace("\"c2\"", "\"C 2!\"", StringComparison.Ordinal)
                : text);

        RunRecord night = atlas.Night();

        Assert.Contains(night.Quarantined, q => q.ToString().StartsWith($"c1 ({q.ContentHash![..12]}), School in the Hollow: table bags",
            StringComparison.Ordinal));
        Assert.Contains(night.Quarantined, q => q.ToString().StartsWith($"a data package without an id ({q.ContentHash![..12]}): ",
            StringComparison.Ordinal));
        Assert.DoesNotContain("C 2!", atlas.Told, StringComparison.Ordinal);
    }
}
