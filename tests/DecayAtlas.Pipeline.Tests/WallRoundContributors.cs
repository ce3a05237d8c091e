namespace DecayAtlas.Pipeline.Tests;

/// <summary>A contributor that cannot be computed stops nobody else, and no release loses anything by it.</summary>
public sealed class WallRoundContributors : IDisposable
{
    private const string Received = "what was received";

    private readonly SmallAtlas _atlas = new();

    public void Dispose() => _atlas.Dispose();

    private static Contribution FailsOverG2(Contribution contribution) =>
        contribution.Header.ContributorId == "g2" ? throw new InvalidOperationException(Received) : contribution;

    private static string Forget(string file, string text) => file == "sites.csv" ? text.Replace(",yes,", ",,", StringComparison.Ordinal)
        : text;

    private static string Deeper(string file, string text) => file == "bags.csv" ? text.Replace(",8,", ",7,", StringComparison.Ordinal)
        : text;

    [Fact]
    public void A_new_one_that_fails_is_left_out_and_told_and_tried_again()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g2");
        RunRecord night = _atlas.Night(FailsOverG2);

        Assert.Equal(RecordedRun.NeedsPerson, night.ExitCode);
        Assert.Equal(["c1 1"], _atlas.Released());
        Trouble told = Assert.Single(night.Troubles);
        Assert.Equal("contributor g2", told.Over);
        Assert.Contains("InvalidOperationException", told.Why, StringComparison.Ordinal);
        Assert.Contains("it is left out", told.Then, StringComparison.Ordinal);
        Assert.Contains("contributor g2", _atlas.Summary, StringComparison.Ordinal);
        Assert.DoesNotContain(Received, _atlas.Told, StringComparison.Ordinal);
        Assert.Contains("Where the program made a mistake, no sender is to blame; please report it.",
            _atlas.Summary, StringComparison.Ordinal);

        Assert.Equal(RecordedRun.NeedsPerson, _atlas.Night(FailsOverG2).ExitCode);   // not remembered as done
        Assert.Equal(RecordedRun.Done, _atlas.Night().ExitCode);
        Assert.Equal(["c1 1", "c2 1"], _atlas.Released());
    }

    [Fact]
    public void Its_earlier_rows_stand_until_it_can_be_computed_anew()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g2");
        _atlas.Night();
        _atlas.Receives("c1", "g1", 2, Deeper).Receives("c2", "g2", 2, Deeper);

        RunRecord night = _atlas.Night(FailsOverG2);
        Assert.Equal(RecordedRun.NeedsPerson, night.ExitCode);
        Assert.Contains("its rows of an earlier run stand", Assert.Single(night.Troubles).Then, StringComparison.Ordinal);
        Assert.Equal(["c1 2", "c2 1"], _atlas.Released());

        Assert.Equal(RecordedRun.Done, _atlas.Night().ExitCode);
        Assert.Equal(["c1 2", "c2 2"], _atlas.Released());
    }

    [Fact]
    public void Earlier_rows_that_hold_what_was_withdrawn_since_do_not_stand_and_nothing_is_published_without_the_rest()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g2").Receives("c3", "g2", edit: Deeper);
        string? before = _atlas.Night().ReleaseId;
        _atlas.Withdraw("c3");

        RunRecord night = _atlas.Night(FailsOverG2);
        Assert.Equal(RecordedRun.Failed, night.ExitCode);
        Assert.Equal(["c2"], night.Lost!.Select(l => l.ContributionId));
        Assert.Contains("its contributor g2 could not be computed", night.Failure, StringComparison.Ordinal);
        Assert.Equal(before, _atlas.Atlas.CurrentRelease()!.ToString());

        Assert.Equal(RecordedRun.Done, _atlas.Night().ExitCode);
        Assert.Equal(["c1 1", "c2 1"], _atlas.Released());
    }

    [Fact]
    public void Earlier_rows_that_show_what_was_hidden_since_do_not_stand()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g2", edit: Forget);
        string? before = _atlas.Night().ReleaseId;
        _atlas.Receives("c2", "g2", 2);   // marks wood-1 sensitive

        RunRecord night = _atlas.Night(FailsOverG2);
        Assert.Equal((RecordedRun.Failed, before), (night.ExitCode, _atlas.Atlas.CurrentRelease()!.ToString()));
        Assert.Equal(RecordedRun.Done, _atlas.Night().ExitCode);
        Assert.Equal(["c1 1", "c2 2"], _atlas.Released());
    }

    [Fact]
    public void Rows_that_were_lost_and_cannot_be_computed_again_take_nothing_out_of_the_release()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g2");
        string? before = _atlas.Night().ReleaseId;
        Directory.Delete(_atlas.PathOf("atlas/cache/rows"), recursive: true);
        Directory.Delete(_atlas.PathOf("atlas/parts"), recursive: true);

        RunRecord night = _atlas.Night(FailsOverG2);
        Assert.Equal((RecordedRun.Failed, before), (night.ExitCode, _atlas.Atlas.CurrentRelease()!.ToString()));
        Assert.Equal(["c2"], night.Lost!.Select(l => l.ContributionId));

        Assert.Equal((RecordedRun.Done, before), (_atlas.Night().ExitCode, _atlas.Atlas.CurrentRelease()!.ToString()));
        Assert.Empty(_atlas.Verify());
    }

    [Fact]
    public void An_accepted_contribution_that_no_longer_passes_is_named_by_its_place_and_nothing_of_it_is_told()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g2");
        string? before = _atlas.Night().ReleaseId;
        string hash = _atlas.IntakeOf("c2");
        string bags = _atlas.PathOf($"atlas/intake/{hash}/received/bags.csv"), sound = File.ReadAllText(bags);
        File.WriteAllText(bags, sound.Replace("2024-", "20x4-", StringComparison.Ordinal));
        Directory.Delete(_atlas.PathOf("atlas/cache"), recursive: true);
        _atlas.EmptyInbox();

        RunRecord night = _atlas.Night();
        Assert.Equal((RecordedRun.Failed, before), (night.ExitCode, _atlas.Atlas.CurrentRelease()!.ToString()));
        Assert.Contains($"the accepted contribution c2, revision 1, in intake/{hash} can't be read or no longer passes", night.Failure,
            StringComparison.Ordinal);
        Assert.DoesNotContain("20x4", _atlas.Told, StringComparison.Ordinal);

        File.WriteAllText(bags, sound);
        Assert.Equal((RecordedRun.Done, before), (_atlas.Night().ExitCode, _atlas.Atlas.CurrentRelease()!.ToString()));
    }

    [Fact]
    public void A_rotted_contribution_is_no_mistake_of_the_program_and_what_mends_it_is_told_and_does()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g2");
        _atlas.Night();
        string hash = _atlas.IntakeOf("c2"), folder = _atlas.PathOf($"atlas/intake/{hash}");
        string bags = Path.Combine(folder, "received/bags.csv");
        File.WriteAllText(bags, File.ReadAllText(bags).Replace("2024-", "20x4-", StringComparison.Ordinal));
        File.AppendAllText(_atlas.PathOf("p.yaml"), "flags:\n  exposure_days: {min: 61, max: 121}\n");   // so that it has to be read again

        RunRecord night = _atlas.Night();
        Assert.Equal(RecordedRun.NeedsPerson, night.ExitCode);
        Trouble told = Assert.Single(night.Troubles);
        Assert.Contains("its rows of an earlier run stand", told.Then, StringComparison.Ordinal);
        Assert.Contains($"restore intake/{hash} from a backup; or take that folder out of the intake and put the contribution",
            told.Why, StringComparison.Ordinal);
        Assert.DoesNotContain("mistake", _atlas.Summary, StringComparison.Ordinal);
        Assert.Contains(_atlas.Verify(), rot => rot.What.Contains("put the contribution into the inbox again", StringComparison.Ordinal));

        Directory.Delete(folder, recursive: true);   // the inbox still holds it
        night = _atlas.Night();
        Assert.Equal((RecordedRun.NeedsPerson, "c2"), (night.ExitCode, Assert.Single(night.Restored).ContributionId));
        Assert.Empty(night.Troubles);
        Assert.Equal(RecordedRun.Done, _atlas.Night().ExitCode);
        Assert.Empty(_atlas.Verify());
    }

    [Fact]
    public void Nobody_is_kept_out_by_one_that_fails_before_the_first_release()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g2");
        Assert.Equal(RecordedRun.NeedsPerson, _atlas.Night(FailsOverG2).ExitCode);
        Directory.Delete(_atlas.PathOf("atlas/cache"), recursive: true);   // now it fails when it is surveyed

        RunRecord night = _atlas.Night(FailsOverG2);
        Assert.Equal(RecordedRun.NeedsPerson, night.ExitCode);
        Assert.Equal("contributor g2", Assert.Single(night.Troubles).Over);
        Assert.Equal(["c1 1"], _atlas.Released());
    }
}
