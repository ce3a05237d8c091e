namespace DecayAtlas.Atlas.Tests;

/// <summary>What changed between two releases and why: the causes are planted, the counts are DuckDB's over both releases.</summary>
public sealed class ReleasesCompared : AtlasInTemporaryFolder
{
    [Fact]
    public void Another_setting_moves_k_and_is_named()
    {
        Publish();
        ReleaseChanges changes = Then(Given.Rows(0.90), Given.Statement with { Settings = "{ \"limit\": 2, \"flags\": { \"on\": true } }" });

        Assert.Equal([new SettingChanged("flags.on", null, "true"), new SettingChanged("limit", "1", "2")], changes.Settings);
        object?[] counted = Query($"""
            SELECT count(*) FILTER (a.k_per_day IS DISTINCT FROM b.k_per_day), median(b.k_per_day / a.k_per_day),
                   count(*) FILTER (a.s IS DISTINCT FROM b.s), median(b.s - a.s)
            FROM {Burials(1)} AS a JOIN {Burials(2)} AS b USING (contribution_id, burial_id)
            """)[0];
        MovedByCause moved = Assert.Single(changes.Burials);
        Assert.Equal("setting", moved.Cause);
        Assert.Equal(counted[0], (long)moved.RatesMoved);
        Assert.Equal((double)counted[1]!, moved.MedianRatioOfRate!.Value, 12);
        Assert.Equal(counted[2], (long)moved.StabilisationsMoved);
        Assert.Equal((double)counted[3]!, moved.MedianDifferenceOfStabilisation!.Value, 12);
        Assert.All(changes.Records, r => Assert.Equal((0, 0), (r.Came, r.Went)));
    }

    [Theory]
    [InlineData("0.0.0", "other-records")]
    [InlineData("9.9.9", "code-version")]
    public void Where_nothing_else_changed_it_was_the_code_or_other_records(string version, string cause)
    {
        Publish();
        ReleaseChanges changes = Then(Given.Rows(0.90), Given.Statement with { SoftwareVersion = version });

        Assert.Equal(cause, Assert.Single(changes.Burials).Cause);
        Assert.Empty(changes.Settings);
    }

    [Fact]
    public void A_revision_is_the_cause_before_a_setting_is()
    {
        Publish();
        ContributorRows rows = Given.Rows(0.90);
        string file = rows.Select(r => r.Key).First(f => f.StartsWith("contributions/", StringComparison.Ordinal));
        ReleasedContribution old = AtlasTables.Contributions.RowsOf(rows.RunOf(file))[0];
        rows.Add(AtlasTables.Contributions, [old with { Revision = 2, ContentHash = new string('b', 64) }]);
        ReleaseChanges changes = Then(rows, Given.Statement with { Settings = "{ \"limit\": 2 }" });

        Assert.Equal("revision", Assert.Single(changes.Burials).Cause);
        Assert.Equal([new ContributionChanged("c1", "revised", 1, 2)], changes.Contributions);
    }

    [Fact]
    public void What_was_withdrawn_by_a_decision_went_so_and_what_is_not_there_for_no_reason_is_gone()
    {
        Publish();
        ReleaseDecisionOf("c1");

        Assert.Equal("withdrawn", Assert.Single(Between(1, 2).Contributions).How);
        Assert.Equal(3, Between(1, 2).Records.Single(r => r.Table == "burials").Went);
        ReleaseChanges back = Between(2, 1);
        Assert.Equal(new ContributionChanged("c1", "came", null, 1), Assert.Single(back.Contributions));
        Assert.Equal(3, back.Records.Single(r => r.Table == "sites").Came);
        Assert.Empty(back.Burials);

        void ReleaseDecisionOf(string contribution) => new ReleaseWriter(Atlas).Publish(
            Files(Atlas, new ContributorRows("g1")
            {
                {
                    AtlasTables.Decisions,
                    [ReleasedDecision.Of(new Decision(contribution, null, null, "curator", new(2025, 1, 2), "the group asked for it"))]
                },
            }), Given.Statement);
    }

    private ReleaseChanges Then(ContributorRows rows, ReleaseStatement statement)
    {
        new ReleaseWriter(Atlas).Publish(Files(Atlas, rows), statement);
        return Between(1, 2);
    }

    private ReleaseChanges Between(int from, int to) => ReleaseChanges.Of(new(Atlas, Named(from).Id), new(Atlas, Named(to).Id));

    private ReleaseName Named(int number) => Atlas.ReleaseNames().Single(r => r.Number == number);

    private string Burials(int number) =>
        $"read_parquet('{Atlas.FolderOf(Named(number))}/burials/**/*.parquet', hive_partitioning = true)";
}
