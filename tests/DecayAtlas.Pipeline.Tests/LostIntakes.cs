using System.Text.Json;

namespace DecayAtlas.Pipeline.Tests;

/// <summary>The current release bears witness to what was accepted: a lost or unmounted intake never becomes an empty release.</summary>
public sealed class LostIntakes : IDisposable
{
    private readonly SmallAtlas _atlas = new();

    public void Dispose() => _atlas.Dispose();

    private string? Current => _atlas.Atlas.CurrentRelease()?.ToString();

    private string Intake => _atlas.PathOf("atlas/intake");

    private static string Forget(string file, string text) => file == "sites.csv" ? text.Replace(",yes,", ",,", StringComparison.Ordinal)
        : text;

    private string GivenRelease()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g2");
        string id = _atlas.Night().ReleaseId!;
        _atlas.EmptyInbox();
        return id;
    }

    private void IsRefused(string current, params string[] lost)
    {
        RunRecord night = _atlas.Night();
        Assert.Equal(RecordedRun.Failed, night.ExitCode);
        Assert.Equal(lost, night.Lost?.Select(l => l.ContributionId));
        Assert.All(night.Lost!, l => Assert.Contains($"intake/{l.ContentHash}", night.Failure, StringComparison.Ordinal));
        Assert.Equal(64, night.Lost![0].ContentHash.Length);
        Assert.Equal(current, Current);
        Assert.Null(night.ReleaseId);
    }

    private void GoesOnAsIfNothingHadHappened(string current)
    {
        RunRecord night = _atlas.Night();
        Assert.Equal((RecordedRun.Done, current, false), (night.ExitCode, night.ReleaseId, night.ReleaseIsNew));
        Assert.StartsWith("0 of 2 contributors computed", night.Stages.Single(s => s.Stage == "compute").Outcome, StringComparison.Ordinal);
        Assert.Empty(_atlas.Verify());
    }

    [Fact]
    public void Where_all_of_it_is_gone_the_run_refuses_until_it_is_back()
    {
        string current = GivenRelease();
        Directory.Move(Intake, _atlas.PathOf("elsewhere"));

        IsRefused(current, "c1", "c2");
        Assert.False(Directory.Exists(Intake));
        Directory.Move(_atlas.PathOf("elsewhere"), Intake);
        GoesOnAsIfNothingHadHappened(current);
    }

    [Fact]
    public void A_release_whose_link_is_lost_bears_witness_all_the_same()
    {
        string current = GivenRelease();
        Directory.Move(Intake, _atlas.PathOf("elsewhere"));
        File.Delete(_atlas.Atlas.Current);   // as a restore without links leaves it

        RunRecord night = _atlas.Night();
        Assert.Equal((RecordedRun.Failed, null), (night.ExitCode, night.ReleaseId));
        Assert.Equal(["c1", "c2"], night.Lost!.Select(l => l.ContributionId));
        Assert.Equal(2, _atlas.Verify().Count(rot => rot.Path.StartsWith("intake/", StringComparison.Ordinal)));
        Directory.Move(_atlas.PathOf("elsewhere"), Intake);
        Assert.Equal((RecordedRun.Done, current), (_atlas.Night().ExitCode, Current));
    }

    [Fact]
    public void A_link_that_leads_to_no_release_at_all_stops_the_run_rather_than_begin_anew()
    {
        GivenRelease();
        Directory.Move(_atlas.Atlas.Releases, _atlas.PathOf("elsewhere"));
        Directory.Delete(Intake, recursive: true);

        RunRecord night = _atlas.Night();
        Assert.Equal(RecordedRun.Failed, night.ExitCode);
        Assert.Contains("mount or restore the folders releases and intake", night.Failure, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_atlas.Atlas.Releases));
    }

    [Fact]
    public void A_note_that_somebody_wrote_into_the_register_lists_nothing_and_stays()
    {
        string current = GivenRelease(), register = Path.Combine(Intake, "register.txt"), note = "# " + new string('x', 90);
        File.WriteAllText(
            register,
                note + "\n" + File.ReadAllText(register) + "as 0 is missing from a line that a disk garbled, or that is no hash at all\n");
        GoesOnAsIfNothingHadHappened(current);

        _atlas.Receives("c3", "g3");
        Assert.Equal(RecordedRun.Done, _atlas.Night().ExitCode);
        string[] lines = File.ReadAllLines(register);
        Assert.Equal(note, lines[0]);
        Assert.Equal(["c1 1", "c2 1", "c3 1"], lines[1..].Select(line => line[66..]).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Nothing_is_taken_into_an_empty_mount_point()
    {
        string current = GivenRelease();
        Directory.Move(Intake, _atlas.PathOf("elsewhere"));
        Directory.CreateDirectory(Intake);
        _atlas.Receives("c3", "g3").Receives("c1", "g1", 1, (file, text) => text + "\n");

        IsRefused(current, "c1", "c2");
        Assert.Empty(Directory.GetFileSystemEntries(Intake));
        _atlas.EmptyInbox();
        Directory.Delete(Intake);
        Directory.Move(_atlas.PathOf("elsewhere"), Intake);
        GoesOnAsIfNothingHadHappened(current);
    }

    [Theory]
    [InlineData("folder and its line in the register")]
    [InlineData("folder")]
    [InlineData("folder and register")]
    [InlineData("received")]
    public void Where_a_part_is_gone_it_is_named_with_its_place(string gone)
    {
        string current = GivenRelease(), hash = _atlas.IntakeOf("c2"), register = Path.Combine(Intake, "register.txt");
        string folder = Path.Combine(Intake, hash, gone == "received" ? "received" : "");
        Directory.Move(folder, _atlas.PathOf("elsewhere"));
        if (gone == "folder and register")
            File.Delete(register);
        if (gone == "folder and its line in the register")
            File.WriteAllLines(register, File.ReadAllLines(register).Where(line => !line.StartsWith(hash, StringComparison.Ordinal)));

        IsRefused(current, "c2");
        Assert.Contains(_atlas.Verify(), rot => rot.Path.StartsWith("intake/" + hash, StringComparison.Ordinal)
            && rot.What.Contains("revision 1 of the accepted contribution c2 is missing", StringComparison.Ordinal));
        Directory.Move(_atlas.PathOf("elsewhere"), folder);
        GoesOnAsIfNothingHadHappened(current);
    }

    [Fact]
    public void A_register_that_alone_is_gone_is_made_anew()
    {
        string current = GivenRelease();
        string register = File.ReadAllText(Path.Combine(Intake, "register.txt"));
        File.Delete(Path.Combine(Intake, "register.txt"));

        GoesOnAsIfNothingHadHappened(current);
        Assert.Equal(register, File.ReadAllText(Path.Combine(Intake, "register.txt")));
    }

    [Fact]
    public void An_inbox_that_still_holds_all_brings_it_back_and_a_person_is_told_to_look_after_the_disk()
    {
        const string told = "2 contributions were missing from the intake and were taken from the inbox again";
        _atlas.Receives("c1", "g1").Receives("c2", "g2");
        string current = _atlas.Night().ReleaseId!;
        Directory.Delete(Intake, recursive: true);

        RunRecord night = _atlas.Night();
        Assert.Equal((RecordedRun.NeedsPerson, current, false), (night.ExitCode, night.ReleaseId, night.ReleaseIsNew));
        Assert.Equal(["c1", "c2"], night.Restored.Select(l => l.ContributionId));
        Assert.Contains(told, _atlas.Summary, StringComparison.Ordinal);
        GoesOnAsIfNothingHadHappened(current);
        Assert.DoesNotContain(told, _atlas.Summary, StringComparison.Ordinal);
    }

    [Fact]
    public void One_whose_folder_was_taken_out_of_the_intake_comes_back_from_the_inbox()
    {
        string current = GivenRelease();
        Directory.Delete(Path.Combine(Intake, _atlas.IntakeOf("c2")), recursive: true);
        IsRefused(current, "c2");
        _atlas.Receives("c2", "g2");

        RunRecord night = _atlas.Night();
        Assert.Equal((RecordedRun.NeedsPerson, current), (night.ExitCode, night.ReleaseId));
        Assert.Contains("1 contribution was missing from the intake", _atlas.Summary, StringComparison.Ordinal);
        GoesOnAsIfNothingHadHappened(current);
    }

    [Theory]
    [InlineData("a contributor of its own", "the folder")]
    [InlineData("a contributor that has others", "the folder")]
    [InlineData("a contributor of its own", "the folder and the register")]
    public void What_is_gone_and_withdrawn_keeps_its_decision_in_every_release(string contributor, string gone)
    {
        _atlas.Receives("c1", "g1").Receives("c2", contributor == "a contributor of its own" ? "g2" : "g1");
        _atlas.Night();
        _atlas.EmptyInbox();
        Directory.Delete(Path.Combine(Intake, _atlas.IntakeOf("c2")), recursive: true);
        if (gone != "the folder")
            File.Delete(Path.Combine(Intake, "register.txt"));
        _atlas.Withdraw("c2");

        RunRecord first = _atlas.Night();
        Assert.Equal((RecordedRun.Done, true), (first.ExitCode, first.ReleaseIsNew));
        for (int night = 0; night < 2; night++)
        {
            Assert.Equal(["c1 1"], _atlas.Released());
            Assert.Equal(["c2"], _atlas.Decided());
            RunRecord next = _atlas.Night();
            Assert.Equal((RecordedRun.Done, first.ReleaseId, false), (next.ExitCode, next.ReleaseId, next.ReleaseIsNew));
            Assert.Empty(first.IdleDecisions);
            Assert.Empty(next.IdleDecisions);
            Directory.Delete(_atlas.PathOf("atlas/cache"), recursive: true);   // only a memory
        }

        _atlas.Receives("c3", "g3");
        Assert.True(_atlas.Night().ReleaseIsNew);
        Assert.Equal(["c2"], _atlas.Decided());
        Assert.Empty(_atlas.Verify("c2"));
    }

    [Fact]
    public void A_decision_about_what_never_was_is_told_and_has_no_row()
    {
        GivenRelease();
        _atlas.Withdraw("c9");

        for (int night = 0; night < 2; night++)
        {
            RunRecord record = _atlas.Night();
            Assert.Equal(["contribution c9, which the atlas does not have"], record.IdleDecisions);
            Assert.Equal(RecordedRun.NeedsPerson, record.ExitCode);
            Assert.Equal(record.IdleDecisions, RunPlan.Make(_atlas.Read()).IdleDecisions);
            Assert.Empty(_atlas.Decided());
        }
    }

    [Fact]
    public void A_run_that_was_refused_states_no_count_that_it_did_not_make()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g2").Receives("c3", "g3", edit: (file, text) => file == "bags.csv" ? "" : text);
        Assert.Equal(1, _atlas.Night().QuarantineOpen);
        string metrics = _atlas.PathOf("atlas/runs/" + Metrics.FileName);
        Assert.Contains("decayatlas_quarantine_open 1", File.ReadAllLines(metrics));
        _atlas.EmptyInbox();
        Directory.Delete(Intake, recursive: true);

        RunRecord night = _atlas.Night();
        Assert.Equal(RecordedRun.Failed, night.ExitCode);
        Assert.Null(night.QuarantineOpen);
        Assert.DoesNotContain(File.ReadAllLines(metrics), line => line.StartsWith("decayatlas_quarantine_open", StringComparison.Ordinal));
        Assert.DoesNotContain(File.ReadAllLines(metrics), line => line.StartsWith("decayatlas_troubles", StringComparison.Ordinal));
        string record = Directory.GetFiles(_atlas.PathOf("atlas/runs"), "*.json").Order(StringComparer.Ordinal).Last();
        using JsonDocument read = JsonDocument.Parse(File.ReadAllText(record));
        Assert.False(read.RootElement.TryGetProperty("quarantine_open", out JsonElement open) && open.ValueKind == JsonValueKind.Number);
    }

    [Fact]
    public void A_dry_run_over_a_new_atlas_counts_the_contributors_in_the_inbox()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g2").Receives("c3", "g2");

        RunPlan plan = RunPlan.Make(ConfigurationReader.Read(_atlas.PathOf("p.yaml")));
        Assert.Equal((2, 2), (plan.ToCompute.Count, plan.Contributors));
    }

    [Fact]
    public void A_lower_revision_does_not_stand_for_the_released_one()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g2");
        _atlas.Night();
        _atlas.Receives("c2", "g2", 2);
        string current = _atlas.Night().ReleaseId!;
        string hash = _atlas.IntakeOf("c2");
        _atlas.EmptyInbox();
        Directory.Delete(Path.Combine(Intake, hash), recursive: true);
        File.Delete(Path.Combine(Intake, "register.txt"));

        IsRefused(current, "c2");
    }

    [Fact]
    public void What_a_decision_withdraws_may_be_gone()
    {
        GivenRelease();
        Directory.Delete(Path.Combine(Intake, _atlas.IntakeOf("c2")), recursive: true);
        _atlas.Withdraw("c2");

        RunRecord night = _atlas.Night();
        Assert.Equal((RecordedRun.Done, true), (night.ExitCode, night.ReleaseIsNew));
        Assert.Equal(["c1 1"], _atlas.Released());
        Assert.Empty(_atlas.Verify("c2"));
        Assert.Equal(RecordedRun.Done, _atlas.Night().ExitCode);
    }

    [Fact]
    public void What_was_hidden_because_of_a_contribution_that_is_gone_stays_hidden()
    {
        _atlas.Receives("c1", "g1").Receives("c2", "g1", edit: Forget);   // only c1 marks wood-1 sensitive
        _atlas.Night();
        _atlas.EmptyInbox();
        Directory.Delete(Path.Combine(Intake, _atlas.IntakeOf("c1")), recursive: true);
        Directory.Delete(_atlas.PathOf("atlas/cache"), recursive: true);
        _atlas.Withdraw("c1");

        Assert.Equal(RecordedRun.Done, _atlas.Night().ExitCode);
        Assert.Equal(["c2 1"], _atlas.Released());
        Assert.DoesNotContain("47.32871", File.ReadAllText(_atlas.PathOf("atlas/current/sites.geojson")), StringComparison.Ordinal);
    }

    [Fact]
    public void A_dry_run_refuses_too_and_keeps_nothing()
    {
        GivenRelease();
        Directory.Move(Intake, _atlas.PathOf("elsewhere"));

        FailedRunException refused =
            Assert.Throws<FailedRunException>(() => RunPlan.Make(ConfigurationReader.Read(_atlas.PathOf("p.yaml"))));
        Assert.IsType<LostContributionsException>(refused.InnerException);
        Assert.False(Directory.Exists(Intake));
    }

    [Fact]
    public void Verify_names_each_released_contribution_that_the_intake_lacks()
    {
        GivenRelease();
        string[] hashes = [_atlas.IntakeOf("c1"), _atlas.IntakeOf("c2")];
        Assert.Empty(_atlas.Verify());
        Directory.Delete(Intake, recursive: true);

        Assert.Equal(hashes.Select(h => "intake/" + h).Order(StringComparer.Ordinal), _atlas.Verify().Select(rot => rot.Path));
        Assert.Equal(["intake/" + hashes[0]], _atlas.Verify("c2").Select(rot => rot.Path));
    }

    [Fact]
    public void Before_the_first_release_and_with_a_link_that_leads_nowhere_there_is_no_witness()
    {
        Assert.Equal(RecordedRun.Done, _atlas.Night().ExitCode);   // an empty atlas is what an empty inbox gives
        _atlas.Receives("c1", "g1");
        _atlas.Night();
        foreach (string release in Directory.GetDirectories(_atlas.PathOf("atlas/releases")))
            Directory.Delete(release, recursive: true);

        Assert.Equal(RecordedRun.Done, _atlas.Night().ExitCode);
        Assert.Equal(["c1 1"], _atlas.Released());
    }
}
