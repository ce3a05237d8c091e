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
        Assert.Contains($"{night.Quarantined[0]}", atlas.Summary, StringComparison.Ordinal);
        Assert.EndsWith(" (came again in the same run)", night.Quarantined[0].ToString(), StringComparison.Ordinal);
        Assert.True(atlas.Summary.IndexOf(night.Quarantined[1].ContentHash![..12], StringComparison.Ordinal)
            < atlas.Summary.IndexOf(night.Quarantined[0].ContentHash![..12], StringComparison.Ordinal));
    }
}
