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

    /// <summary>Samples follow the soil: their numbers are held against the pH of the grid at the site, not against the formula.</summary>
    [Fact]
    public void Samples_have_results_that_follow_the_soil_and_some_were_never_sequenced()
    {
        (Contribution Of, SampleRow Row)[] samples = [.. scenario.Contributions.SelectMany(c => c.Samples.Select(row => (c, row)))];
        Assert.Contains(samples, s => s.Row is { Accession: null, GeneCopiesPerGramDry: not null });
        Assert.All(scenario.Results.Values, result => Assert.DoesNotContain(result.Warnings, warning => warning.File == "samples.csv"));

        (Contribution Of, SampleRow Row)[] both = [.. samples.Where(s => s.Row.FungiToBacteriaRatio is not null)];
        LayerSource ph = GridCatalogue.Load(Path.Combine(scenario.Folder, "grids.yaml")).Entries
            .First(entry => entry.Name == "soil_ph").Made.Layers[0];
        GeoPoint[] points =
        [
            .. both.Select(s => s.Of.Bags.First(bag => bag.BagId == s.Row.BagId).SiteId)
                .Zip(both, (id, s) => s.Of.Sites.First(site => site.SiteId == id))
                .Select(site => new GeoPoint(site.DecimalLongitude, site.DecimalLatitude)),
        ];
        double[] soil = [.. ph.Sample(points, new double?[points.Length]).Select(sample => sample.Sample.Value ?? double.NaN)];
        int[] known = [.. Enumerable.Range(0, soil.Length).Where(i => double.IsFinite(soil[i]))];

        Assert.True(known.Length > 20);
        Assert.InRange(MathNet.Numerics.Statistics.Correlation.Spearman(
            known.Select(i => soil[i]), known.Select(i => both[i].Row.FungiToBacteriaRatio!.Value)), -1, -0.5);
    }

    [Fact]
    public void The_summary_counts_what_the_reader_counts()
    {
        Assert.Equal(scenario.Contributions.Sum(c => c.Bags.Count), scenario.Summary.Bags);
        Assert.Equal(scenario.Contributions.Sum(c => c.Bags.Select(bag => bag.BurialId).Distinct().Count()), scenario.Summary.Burials);
        Assert.Equal(scenario.Planted.Count(fault => fault.FollowsFrom is null), scenario.Summary.PlantedFaults);
    }
}
