namespace DecayAtlas.Contributions.Tests;

/// <summary>The quarantine over the nights: what is judged anew, what is answered, what still waits.</summary>
public class QuarantineTests
{
    private static readonly IntakeLimits FewRows = IntakeLimits.Default with { MaxRows = 3 };

    private static IReadOnlyList<IntakeResult> Night(Example example, IntakeLimits? limits = null)
    {
        Intake intake = new(example.Atlas, limits ?? IntakeLimits.Default);
        IReadOnlyList<IntakeResult> results = intake.TakeInbox(example.Inbox, null);
        intake.MarkTold(results);
        return results;
    }

    private static IReadOnlyList<IntakeResult> Open(Example example) => new Intake(example.Atlas, IntakeLimits.Default).StillOpen();

    private static string ReportOf(Example example, string hash, string name = "report.json") =>
        Path.Combine(example.Atlas, "quarantine", hash, name);

    [Fact]
    public void A_verdict_is_given_anew_when_the_limits_change_and_not_before()
    {
        using Example example = new();
        string hash = Assert.Single(Night(example, FewRows)).ContentHash;
        Assert.Equal(IntakeOutcome.AlreadyQuarantined, Assert.Single(Night(example, FewRows)).Outcome);

        IntakeResult judged = Assert.Single(Night(example));

        Assert.Equal((IntakeOutcome.Accepted, hash), (judged.Outcome, judged.ContentHash));
        Assert.Empty(Open(example));
        Assert.Contains("too-many-rows", File.ReadAllText(ReportOf(example, hash)), StringComparison.Ordinal);   // history
    }

    [Fact]
    public void What_left_the_inbox_is_judged_anew_from_the_copy_that_was_kept()
    {
        using Example example = new();
        Night(example, FewRows);
        Directory.Delete(example.Copy, recursive: true);

        IntakeResult judged = Assert.Single(Night(example));

        Assert.Equal((IntakeOutcome.Accepted, "group-a"), (judged.Outcome, judged.Source));
        Assert.Equal(8, Assert.Single(new Intake(example.Atlas, IntakeLimits.Default).Active()).Bags.Count);
        Assert.Empty(Night(example));
    }

    [Theory]
    [InlineData("zip")]
    [InlineData("stray")]
    public void A_copy_that_is_still_bad_stays_where_it_is_and_calls_nobody(string kind)
    {
        using Example example = new Example().Replace("bags.csv", ",4.12,1.94,", ",\"4,12\",1.94,");
        string path = Path.Combine(example.Inbox, kind == "zip" ? "a.zip" : "notes.txt");
        if (kind == "zip")
            File.Move(example.Zip(), path);
        else
            File.WriteAllText(path, "hello");
        Directory.Delete(example.Copy, recursive: true);
        string hash = Assert.Single(Night(example)).ContentHash;
        File.Delete(path);

        Assert.Empty(Night(example, IntakeLimits.Default with { MaxRows = 1000 }));
        Assert.Equal(hash, Assert.Single(Open(example)).ContentHash);
    }

    [Fact]
    public void A_new_verdict_that_says_otherwise_is_news_and_the_old_one_stays_beside_it()
    {
        using Example example = new Example().Replace("bags.csv", ",4.12,1.94,", ",\"4,12\",1.94,");
        string hash = Assert.Single(Night(example, FewRows)).ContentHash;

        IntakeResult judged = Assert.Single(Night(example));

        Assert.Equal(IntakeOutcome.Quarantined, judged.Outcome);
        Assert.Equal("decimal-comma", Assert.Single(judged.Findings).Code);
        Assert.DoesNotContain("too-many-rows", File.ReadAllText(ReportOf(example, hash)), StringComparison.Ordinal);
        Assert.Contains("too-many-rows", File.ReadAllText(ReportOf(example, hash, "report-1.json")), StringComparison.Ordinal);
        Assert.Equal(IntakeOutcome.AlreadyQuarantined, Assert.Single(Night(example)).Outcome);
    }

    [Fact]
    public void A_table_that_came_before_its_mapping_is_answered_by_the_pair()
    {
        using Example example = Inbox("plain.csv");
        string alone = Assert.Single(Night(example)).ContentHash;
        Assert.Equal(alone, Assert.Single(Open(example)).ContentHash);
        CopyTorture(example, "plain.mapping.yaml");

        IntakeResult pair = Assert.Single(Night(example));

        Assert.Equal(IntakeOutcome.Accepted, pair.Outcome);
        Assert.Empty(Open(example));
        Assert.Equal(pair.ContentHash, File.ReadAllText(ReportOf(example, alone, "answered-by.txt")).Trim());
        Assert.True(File.Exists(ReportOf(example, alone)), "history is kept");
    }

    [Fact]
    public void A_mapping_that_came_before_its_table_is_answered_by_the_pair()
    {
        using Example example = Inbox("plain.mapping.yaml");
        Night(example);
        Assert.Single(Open(example));
        CopyTorture(example, "plain.csv");
        Night(example);

        Assert.Empty(Open(example));
    }

    [Fact]
    public void A_table_whose_mapping_is_still_wrong_waits_once_and_not_twice()
    {
        using Example example = Inbox("plain.csv");
        Night(example);
        File.WriteAllText(Path.Combine(example.Inbox, "plain.mapping.yaml"), "version: 1\n");
        string second = Assert.Single(Night(example)).ContentHash;

        Assert.Equal(second, Assert.Single(Open(example)).ContentHash);
        CopyTorture(example, "plain.mapping.yaml");
        Assert.Equal(IntakeOutcome.Accepted, Assert.Single(Night(example)).Outcome);
        Assert.Empty(Open(example));
    }

    [Fact]
    public void A_corrected_resubmission_answers_the_refused_one_and_a_stale_one_does_not()
    {
        using Example example = new Example().Replace("bags.csv", ",4.12,1.94,", ",\"4,12\",1.94,");
        Night(example);
        Assert.Single(Open(example));
        example.Replace("bags.csv", ",\"4,12\",1.94,", ",4.12,1.94,");
        Night(example);
        Assert.Empty(Open(example));

        // a second mistake, made after the first revision was accepted and without counting up, waits for an answer of its own
        example.Replace("bags.csv", ",4.12,1.94,", ",\"4,12\",1.95,");
        Night(example);
        Assert.Single(Open(example));
        example.Replace("bags.csv", ",\"4,12\",1.95,", ",4.12,1.95,").Replace("datapackage.json", "\"revision\": 1", "\"revision\": 2");
        Night(example);
        Assert.Empty(Open(example));
    }

    [Fact]
    public void Another_contributors_success_does_not_answer_a_refused_contribution()
    {
        using Example example = new();
        Night(example);
        example.Replace("datapackage.json", "\"contributor\": \"example-group\"", "\"contributor\": \"somebody-else\"")
            .Replace("datapackage.json", "\"revision\": 1", "\"revision\": 2");
        Night(example);
        Assert.Single(Open(example));
        example.Replace("datapackage.json", "\"contributor\": \"somebody-else\"", "\"contributor\": \"example-group\"")
            .Replace("datapackage.json", "\"revision\": 2", "\"revision\": 3");
        Night(example);

        Assert.Equal("example-meadow-and-wood", Assert.Single(Open(example)).ContributionId);
    }

    [Fact]
    public void A_kept_copy_that_rotted_is_named()
    {
        using Example example = new Example().Replace("bags.csv", ",4.12,1.94,", ",\"4,12\",1.94,");
        string hash = Assert.Single(Night(example)).ContentHash;
        Intake reader = new(example.Atlas, IntakeLimits.Default, mayWrite: false);
        Assert.Equal((1, 0), (reader.CheckSetAside().Copies, reader.CheckSetAside().Changed.Count));
        File.AppendAllText(Path.Combine(example.Atlas, "quarantine", hash, "received", "lots.csv"), "x");

        (string path, string what) = Assert.Single(reader.CheckSetAside().Changed);
        Assert.EndsWith("lots.csv", path, StringComparison.Ordinal);
        Assert.Contains("not those that were written", what, StringComparison.Ordinal);
    }

    private static Example Inbox(string file)
    {
        Example example = new();
        Directory.Delete(example.Copy, recursive: true);
        CopyTorture(example, file);
        return example;
    }

    private static void CopyTorture(Example example, string file) =>
        File.Copy(Path.Combine(AppContext.BaseDirectory, "torture", "wide", file), Path.Combine(example.Inbox, file), overwrite: true);
}
