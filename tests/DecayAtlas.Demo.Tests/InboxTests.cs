namespace DecayAtlas.Demo.Tests;

/// <summary>The inbox held against the schema's own reader, which knows nothing of the generator.</summary>
public sealed class InboxTests(ScenarioFixture scenario)
{
    [Fact]
    public void Every_sound_contribution_is_accepted()
    {
        HashSet<string> broken = [.. scenario.Planted.Where(fault => fault is { RecordType: "contribution", Size: null })
            .Select(fault => fault.ContributionId)];
        foreach ((string name, ReadResult result) in scenario.Results.Where(pair => !broken.Contains(pair.Key)))
        {
            Assert.True(result.Contribution is not null, $"{name}: {string.Join(" ", result.Findings)}");
            Assert.Equal(name, result.Contribution.Header.ContributionId);
        }

        Assert.Equal(scenario.Summary.SoundContributions, scenario.Contributions.Count);
    }

    [Fact]
    public void Every_broken_contribution_is_refused_for_the_reason_planted_in_it_and_no_other()
    {
        PlantedFault[] broken = [.. scenario.Planted.Where(fault => fault is { RecordType: "contribution", Size: null })];
        Assert.Equal(scenario.Summary.BrokenContributions, broken.Length);
        Assert.True(broken.Length >= 5);
        foreach (PlantedFault fault in broken)
        {
            ReadResult result = scenario.Results[fault.ContributionId];
            Assert.Null(result.Contribution);
            Assert.Equal([fault.Code], result.Findings.Select(finding => finding.Code).Where(code => code != FindingCode.MoreFindings)
                .Distinct());
        }
    }

    [Fact]
    public void The_inbox_has_the_size_that_was_asked_for()
    {
        Assert.True(scenario.Contributions.Count >= 36);
        Assert.True(scenario.Contributions.SelectMany(c => c.Sites.Select(site => (c.Header.ContributorId, site.SiteId))).Distinct()
            .Count() >= 200);
        Assert.True(scenario.Contributions.Sum(c => c.Bags.Count) >= 2500);
        Assert.True(scenario.Contributions.Select(c => c.Header.Campaign).Distinct().Count() >= 2);
        Assert.Contains(scenario.Contributions, c => c.Samples.Count > 0);
        Assert.Contains(scenario.Contributions, c => c.Sites.Any(site => site.CoordinatesSensitive == true));
        Assert.Contains(
            Directory.EnumerateFiles(Path.Combine(scenario.Folder, "inbox")), path => path.EndsWith(".zip", StringComparison.Ordinal));
    }

    [Fact]
    public void The_summary_counts_what_the_reader_counts()
    {
        Assert.Equal(scenario.Contributions.Sum(c => c.Bags.Count), scenario.Summary.Bags);
        Assert.Equal(scenario.Contributions.Sum(c => c.Bags.Select(bag => bag.BurialId).Distinct().Count()), scenario.Summary.Burials);
        Assert.Equal(scenario.Planted.Count(fault => fault.FollowsFrom is null), scenario.Summary.PlantedFaults);
    }
}
