namespace DecayAtlas.Pipeline.Tests;

/// <summary>Which burials notes cast doubt on, what the means are without them, and what a decision does to it.</summary>
public sealed class NotedBurials
{
    private static ReleasedBurial Burial(string contribution, string id, string site, double? k, double s = 0.2, string use = "accepted") =>
        new()
        {
            ContributionId = contribution,
            BurialId = id,
            SiteKey = "g/" + site,
            Campaign = "2024",
            BuriedOn = new DateOnly(2024, 5, 1),
            RatePerDay = k,
            Stabilisation = s,
            IsAshFree = false,
            Use = use,
        };

    private static Flag Note(string contribution, RecordKind kind, string id, string code) =>
        new(new RecordKey(contribution, kind, id), code, Severity.Note, null, null, null, "found");

    private static string[] Said(NotedRecords noted) => [.. noted.Burials.Select(b => $"{b.ContributionId} {b.BurialId}: {b.Because}")];

    private static readonly ReleasedBurial[] All =
    [
        Burial("c1", "1", "A", 0.01), Burial("c1", "2", "A", 0.01 * Math.E, s: 0.3), Burial("c1", "3", "B", 0.02),
        Burial("c2", "1", "A", 0.03), Burial("c2", "2", "B", 0.04, use: "suspect"),
    ];

    [Fact]
    public void A_note_on_a_site_is_about_all_its_burials_one_on_a_contribution_about_all_it_brought()
    {
        Assert.Equal(["c1 1: surprise", "c1 2: surprise", "c2 1: surprise"],
            Said(NotedRecords.Of("g", [Note("c2", RecordKind.Site, "A", "surprise")], All)));
        Assert.Equal(["c2 1: contributor-bias", "c2 2: contributor-bias"],
            Said(NotedRecords.Of("g", [Note("c2", RecordKind.Contribution, "c2", "contributor-bias")], All)));
        // the same id in another contribution is another burial, and several notes are all named
        Assert.Equal(["c1 3: contributor-bias,multivariate-outlier"],
            Said(NotedRecords.Of("g", [Note("c1", RecordKind.Burial, "3", "multivariate-outlier"),
                Note("c1", RecordKind.Contribution, "c1", "contributor-bias")], All))[2..]);
    }

    [Fact]
    public void Means_without_them_are_those_of_the_others()
    {
        // left at A are ln 0.01 and ln 0.01 + 1: mean ln 0.01 + 0.5, sd √0.5; S 0.2 and 0.3
        ReleasedNotedSiteCampaign a = Assert.Single(
            NotedRecords.Of("g", [Note("c2", RecordKind.Contribution, "c2", "contributor-bias")], All).SiteCampaigns);
        Assert.Equal(("g/A", 1, 2, 2), (a.SiteKey, a.NotedBurials, a.LnRateBurials, a.StabilisationBurials));
        Assert.Equal(Math.Log(0.01) + 0.5, a.LnRateMean!.Value, 12);
        Assert.Equal(Math.Sqrt(0.5), a.LnRateSd!.Value, 12);
        Assert.Equal(0.25, a.StabilisationMean!.Value, 12);
        // of the burial at B that is suspect no mean was made, and so none is made without it
    }

    [Fact]
    public void Of_a_site_all_of_whose_burials_are_noted_nothing_is_left()
    {
        ReleasedNotedSiteCampaign b = Assert.Single(
            NotedRecords.Of("g", [Note("c1", RecordKind.Burial, "3", "multivariate-outlier")], All).SiteCampaigns);
        Assert.Equal((0, null, null), (b.LnRateBurials, b.LnRateMean, b.RateMeanPerDay));
    }

    [Fact]
    public void A_decision_lets_noted_burials_stand_and_one_that_finds_no_such_note_is_told()
    {
        // both groups send the same example; so few burials need a wider level
        using SmallAtlas atlas = new("flags:\n  pasted_across_level: 1\n");
        atlas.Receives("c1", "g1").Receives("c2", "g2");
        atlas.Night();
        ReleaseReader release = new(atlas.Atlas);
        IReadOnlyList<ReleasedNoted> noted = release.Rows(AtlasTables.Noted);
        Assert.True(noted.Count >= 4, $"{noted.Count}");
        Assert.Equal(noted.Where(n => n.ContributionId == "c1").Select(n => n.BurialId),
            noted.Where(n => n.ContributionId == "c2").Select(n => n.BurialId));
        Assert.All(noted, n => Assert.Equal("masses-repeated-across", n.Because));
        Assert.All(release.Rows(AtlasTables.NotedAnswers), a => Assert.Equal(2, a.NotedContributions));
        Assert.Contains(noted, n => n.Use == "accepted");   // a note bears on no use

        string[] signed =
        [
            .. noted.Where(n => n.ContributionId == "c1").Select(n => Overruling("masses-repeated-across", "burial", n.BurialId)),
            Overruling("contributor-bias", "contribution", "c1"),
        ];
        File.WriteAllText(atlas.PathOf("d.yaml"), "version: 1\ndecisions:\n" + string.Concat(signed));
        RunRecord record = atlas.Night();

        release = new(atlas.Atlas);
        Assert.Equal(noted.Where(n => n.ContributionId == "c2"), release.Rows(AtlasTables.Noted));
        Assert.All(release.Rows(AtlasTables.Flags).Where(f => f.Code == "masses-repeated-across"),
            f => Assert.Equal(f.ContributionId == "c1" ? "curator" : null, f.OverruledBy));
        Assert.Contains("contributor-bias on contribution c1", Assert.Single(record.IdleDecisions), StringComparison.Ordinal);
        Assert.Equal(RecordedRun.NeedsPerson, record.ExitCode);
        Assert.Equal(record.IdleDecisions, RunPlan.Make(atlas.Read()).IdleDecisions);

        static string Overruling(string code, string record, string id) => $"  - {{ overrule: {code}, contribution: c1, record: {record}, "
            + $"id: \"{id}\", by: curator, on: \"2025-03-01\", because: \"theirs is the original\" }}\n";
    }

    [Fact]
    public void Where_nothing_is_noted_no_answer_is_given_twice()
    {
        using SmallAtlas atlas = new();
        atlas.Receives("c1", "g1").Night();
        ReleaseReader release = new(atlas.Atlas);
        Assert.Empty(release.Rows(AtlasTables.Noted));
        Assert.All(release.Rows(AtlasTables.Comparisons), c => Assert.Equal("all", c.Records));
        Assert.All(release.Rows(AtlasTables.Variance), v => Assert.Equal("all", v.Records));
        Assert.All(release.Rows(AtlasTables.NotedAnswers), a => Assert.Equal(
            (0, false, $"No accepted burial with {(a.Of == "k" ? "k above 0" : "S")} is noted."),
            (a.NotedBurials, a.ConclusionChanges, a.Sentence)));
    }
}
