namespace DecayAtlas.Contributions.Tests;

/// <summary>A mistake of our own over one contribution sets that one aside, tells where it happened, and stops no other.</summary>
public class WallRoundContributionsTests
{
    private const string Received = "the house by the old mill";

    private static readonly WayOfReading Sound = WayOfReading.Under(IntakeLimits.Default, TimeProvider.System);

    private static InvalidOperationException Mistake => new(Received);

    /// <summary>An inbox with <c>bad</c> and <c>sound</c>.</summary>
    private static Example Two()
    {
        Example example = new("bad");
        using Example other = new Example("sound").Replace("datapackage.json", "example-meadow-and-wood", "sound");
        Directory.Move(other.Copy, Path.Combine(example.Inbox, "sound"));
        return example;
    }

    private static WayOfReading FailsOverBad =>
        Sound with { Complete = reading => reading.Name == "bad" ? throw Mistake : reading.Complete() };

    private static IReadOnlyList<IntakeResult> Take(Example example, WayOfReading reads, string code = "",
        Action<Contribution>? accepted = null)
    {
        Intake intake = new(example.Atlas, IntakeLimits.Default, reads, code: code);
        IReadOnlyList<IntakeResult> taken = intake.TakeInbox(example.Inbox, null, accepted);
        intake.MarkTold(taken);
        return taken;
    }

    private static void IsOurs(IntakeResult result)
    {
        Assert.Equal(IntakeOutcome.Quarantined, result.Outcome);
        Assert.Equal("not-examined", Assert.Single(result.Findings).Code);
        Assert.Equal("InvalidOperationException", result.Mistake?.Kind);
        Assert.DoesNotContain(Received, result.Mistake + result.Findings[0].ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void What_fails_while_it_is_read_waits_in_the_quarantine_with_its_bytes_and_the_others_are_taken_in()
    {
        using Example example = Two();
        IReadOnlyList<IntakeResult> taken = Take(example, FailsOverBad);

        IsOurs(taken[0]);
        Assert.Equal(IntakeOutcome.Accepted, taken[1].Outcome);
        string folder = Path.Combine(example.Atlas, "quarantine", taken[0].ContentHash);
        Assert.Equal(File.ReadAllBytes(example.FileAt("bags.csv")), File.ReadAllBytes(Path.Combine(folder, "received", "bags.csv")));
        Assert.All(Directory.GetFiles(folder), file => Assert.DoesNotContain(Received, File.ReadAllText(file), StringComparison.Ordinal));
        Assert.Contains("a mistake of this program and not of yours", File.ReadAllText(Path.Combine(folder, "report.md")),
            StringComparison.Ordinal);
    }

    [Fact]
    public void It_is_news_once_and_tried_again_when_the_code_changed()
    {
        using Example example = Two();
        Take(example, FailsOverBad, "build 1");

        Assert.Equal([IntakeOutcome.AlreadyQuarantined, IntakeOutcome.AlreadyKnown], Take(example, Sound, "build 1")
            .Select(t => t.Outcome));
        Assert.Equal([IntakeOutcome.Accepted, IntakeOutcome.AlreadyKnown], Take(example, Sound, "build 2").Select(t => t.Outcome));
        Assert.Empty(new Intake(example.Atlas, IntakeLimits.Default).StillOpen());
    }

    [Fact]
    public void It_is_tried_again_from_the_kept_copy_where_the_inbox_was_emptied()
    {
        using Example example = Two();
        Take(example, FailsOverBad, "build 1");
        Directory.Delete(example.Copy, recursive: true);

        Assert.Equal(["sound", "bad"], Take(example, Sound, "build 2").Select(t => t.Source));
        Assert.Equal(2, new Intake(example.Atlas, IntakeLimits.Default).AllHeaders().Count);
    }

    [Fact]
    public void A_kept_copy_that_cannot_even_be_listed_when_it_is_judged_anew_stays_and_is_told_once()
    {
        using Example example = Two();
        Take(example, FailsOverBad, "build 1");
        Directory.Delete(example.Inbox, recursive: true);
        Directory.CreateDirectory(example.Inbox);
        WayOfReading unlisted = Sound with { Begin = (_, _) => throw Mistake };

        IsOurs(Assert.Single(Take(example, unlisted, "build 2")));
        Assert.Empty(Take(example, unlisted, "build 2"));
        Assert.Single(new Intake(example.Atlas, IntakeLimits.Default).StillOpen());
    }

    [Fact]
    public void What_cannot_even_be_listed_is_told_and_not_stored_and_the_others_are_taken_in()
    {
        using Example example = Two();
        IReadOnlyList<IntakeResult> taken =
            Take(example,
                Sound with { Begin = (path, shownAs) => Path.GetFileName(path) == "bad" ? throw Mistake : Sound.Begin(path, shownAs) });

        IsOurs(taken[0]);
        Assert.Equal(("", IntakeOutcome.Accepted), (taken[0].ContentHash, taken[1].Outcome));
        Assert.Empty(Directory.GetDirectories(Path.Combine(example.Atlas, "quarantine")));
    }

    [Fact]
    public void What_fails_when_it_is_taken_over_is_not_accepted_but_set_aside()
    {
        using Example example = Two();
        IReadOnlyList<IntakeResult> taken = Take(example, Sound, accepted: c => _ = c.Header.ContributionId == "sound" ? c : throw Mistake);

        IsOurs(taken[0]);
        Assert.Equal(IntakeOutcome.Accepted, taken[1].Outcome);
        Assert.Equal("sound", Assert.Single(new Intake(example.Atlas, IntakeLimits.Default).AllHeaders()).ContributionId);
        Assert.Equal((1, 0),
            (new Intake(example.Atlas, IntakeLimits.Default).CheckSetAside().Copies, new Intake(example.Atlas,
                IntakeLimits.Default).CheckSetAside().Changed.Count));
    }

    [Fact]
    public void Where_the_machine_is_at_its_end_or_storage_fails_the_run_stops()
    {
        using Example example = Two();
        Action<Contribution>[] ends =
        [
            _ => throw new InsufficientMemoryException(),
            _ => throw new ArgumentException("the disk is full", new IOException()),
            _ => throw new ContributionException("the disk is full"),
        ];
        Assert.All(ends, end => Assert.ThrowsAny<Exception>(() => Take(example, Sound, accepted: end)));
        Assert.False(Directory.Exists(Path.Combine(example.Atlas, "quarantine"))
            && Directory.GetDirectories(Path.Combine(example.Atlas, "quarantine")).Length > 0);
    }

    [Fact]
    public void The_intake_says_what_of_it_is_gone_and_does_not_forget_it()
    {
        using Example example = Two();
        string[] hashes = [.. Take(example, Sound).Select(t => t.ContentHash)];
        string intake = Path.Combine(example.Atlas, "intake");
        Assert.Empty(new Intake(example.Atlas, IntakeLimits.Default).Lost());

        Directory.Move(Path.Combine(intake, hashes[0]), Path.Combine(example.Root, "aside"));
        Directory.Delete(Path.Combine(intake, hashes[1], "received"), recursive: true);
        using Example third = new Example("third").Replace("datapackage.json", "example-meadow-and-wood", "third");
        Intake after = new(example.Atlas, IntakeLimits.Default);
        after.TakeInbox(third.Inbox, null);   // writes the register anew

        Assert.Equal([$"revision 1 of example-meadow-and-wood is missing from intake/{hashes[0]}",
                $"revision 1 of sound is missing from intake/{hashes[1]}/received"],
            new Intake(example.Atlas, IntakeLimits.Default).Lost().Select(lost => lost.ToString()));
        Directory.Move(Path.Combine(example.Root, "aside"), Path.Combine(intake, hashes[0]));
        Assert.Equal([hashes[1]], new Intake(example.Atlas, IntakeLimits.Default).Lost().Select(lost => lost.ContentHash));
    }
}
