using System.Diagnostics;

namespace DecayAtlas.Contributions.Tests;

public class IntakeTests
{
    private static IntakeResult Take(Example example) =>
        Assert.Single(new Intake(example.Atlas, IntakeLimits.Default).TakeInbox(example.Inbox, null));

    /// <summary>Every file below a folder with its bytes.</summary>
    private static SortedDictionary<string, string> Content(string folder) => new(
        Directory.GetFiles(folder, "*", SearchOption.AllDirectories).ToDictionary(
            file => Path.GetRelativePath(folder, file), file => Convert.ToHexString(File.ReadAllBytes(file))), StringComparer.Ordinal);

    [Fact]
    public void A_valid_folder_is_accepted_and_kept_byte_for_byte_under_its_hash()
    {
        using Example example = new();
        IntakeResult result = Take(example);

        Assert.Equal((IntakeOutcome.Accepted, "group-a", "example-meadow-and-wood"),
            (result.Outcome, result.Source, result.ContributionId));
        Assert.Equal(Content(example.Copy), Content(Path.Combine(example.Atlas, "intake", result.ContentHash, "received")));
    }

    [Fact]
    public void A_valid_zip_is_kept_as_the_zip()
    {
        using Example example = new();
        string zip = example.Zip();
        Intake intake = new(example.Atlas, IntakeLimits.Default);
        IntakeResult result = intake.Take(zip);

        Assert.Equal(File.ReadAllBytes(zip),
            File.ReadAllBytes(Path.Combine(example.Atlas, "intake", result.ContentHash, "received", "group-a.zip")));
        Assert.Equal(8, Assert.Single(intake.Active()).Bags.Count);
    }

    [Fact]
    public void Taking_the_same_inbox_again_changes_nothing()
    {
        using Example example = new();
        Directory.CreateDirectory(Path.Combine(example.Inbox, "empty"));
        Intake intake = new(example.Atlas, IntakeLimits.Default);
        intake.MarkTold(intake.TakeInbox(example.Inbox, null));
        SortedDictionary<string, string> before = Content(example.Atlas);

        IReadOnlyList<IntakeResult> again = new Intake(example.Atlas, IntakeLimits.Default).TakeInbox(example.Inbox, null);

        Assert.Equal([IntakeOutcome.AlreadyQuarantined, IntakeOutcome.AlreadyKnown], again.Select(result => result.Outcome));
        Assert.Contains(again[0].Findings, finding => finding.Code == "package-empty");
        Assert.Equal(before, Content(example.Atlas));
    }

    [Fact]
    public void The_zip_of_a_folder_that_was_accepted_is_already_known()
    {
        using Example example = new();
        Intake intake = new(example.Atlas, IntakeLimits.Default);

        Assert.Equal(IntakeOutcome.Accepted, intake.Take(example.Copy).Outcome);
        Assert.Equal(IntakeOutcome.AlreadyKnown, intake.Take(example.Zip()).Outcome);
    }

    [Theory]
    [InlineData("de", "# Noch nicht im Atlas: ", "| Zeile | Spalte | gefunden |")]
    [InlineData("es", "# Todavía no está en el atlas: ", "| fila | columna | ")]
    [InlineData("fr", "# Pas encore dans l’atlas\u00A0: ", "| ligne | colonne | ")]
    public void The_report_that_goes_back_is_in_the_language_of_the_group(string code, string title, string head)
    {
        using Example example = new Example().Replace("bags.csv", ",4.12,1.94,", ",\"4,12\",1.94,");
        List<(string?, string?)> asked = [];
        Intake intake = new(example.Atlas, IntakeLimits.Default, addresseeOf: (contributor, campaign) =>
        {
            asked.Add((contributor, campaign));
            return new Addressee(SenderWords.Find(code)!, null);
        });
        string report = File.ReadAllText(Path.Combine(example.Atlas, "quarantine", intake.Take(example.Copy).ContentHash, "report.md"));

        Assert.Equal(("example-group", "example-2024"), Assert.Single(asked));
        Assert.StartsWith(title, report, StringComparison.Ordinal);
        Assert.Contains(head, report, StringComparison.Ordinal);
        Assert.Contains("bags.csv |  | 2 | mass\\_initial\\_g | 4,12 |", report, StringComparison.Ordinal);
        foreach (string english in (string[])["What ", "expected", "decimal point", "the same", "received.", "write 4.12"])
            Assert.DoesNotContain(english, report, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bad_contribution_is_quarantined_whole_with_a_report_that_has_no_contact_data()
    {
        using Example example = new Example().Replace("bags.csv", ",4.12,1.94,", ",\"4,12\",1.94,");
        IntakeResult result = Take(example);
        string folder = Path.Combine(example.Atlas, "quarantine", result.ContentHash);
        string markdown = File.ReadAllText(Path.Combine(folder, "report.md"));
        string json = File.ReadAllText(Path.Combine(folder, "report.json"));

        Assert.Equal(IntakeOutcome.Quarantined, result.Outcome);
        Assert.Equal(Content(example.Copy), Content(Path.Combine(folder, "received")));
        Assert.Contains(
            "| 1 | bags.csv |  | 2 | mass\\_initial\\_g | 4,12 | a number with a decimal point | write 4.12, or save the file again "
            + "with a decimal point |", markdown, StringComparison.Ordinal);
        Assert.Contains("## What to do next", markdown, StringComparison.Ordinal);
        Assert.Contains("\"code\": \"decimal-comma\"", json, StringComparison.Ordinal);
        Assert.All(new[] { markdown, json }, text => Assert.DoesNotContain("example.org", text, StringComparison.Ordinal));
        Assert.Empty(Directory.GetDirectories(Path.Combine(example.Atlas, "intake")));
    }

    [Fact]
    public void A_mended_contribution_is_accepted_after_its_quarantine()
    {
        using Example example = new();
        File.CreateSymbolicLink(example.FileAt("link.txt"), "/etc/hostname");
        Assert.Equal(IntakeOutcome.Quarantined, Take(example).Outcome);
        File.Delete(example.FileAt("link.txt"));

        Assert.Equal(IntakeOutcome.Accepted, Take(example).Outcome);
    }

    [Fact]
    public void The_same_revision_with_other_content_is_quarantined_and_told_to_count_up()
    {
        using Example example = new();
        Take(example);
        example.Replace("bags.csv", ",4.12,1.94,", ",4.12,0.96,");
        IntakeResult result = Take(example);

        Finding finding = Assert.Single(result.Findings);
        Assert.Equal((IntakeOutcome.Quarantined, "revision-repeated"), (result.Outcome, finding.Code));
        Assert.Contains("revision 1 of example-meadow-and-wood, which was accepted before with other content", finding.Found,
            StringComparison.Ordinal);
        Assert.Contains("set revision to 2", finding.Mend, StringComparison.Ordinal);
    }

    [Fact]
    public void A_revision_with_less_than_half_of_the_burials_says_how_many_it_replaces()
    {
        // four burials are in the example, two bags each; half of them is no less than half
        Assert.Null(Revised(4));
        Assert.Equal((4, 1), Revised(2));

        static (int, int)? Revised(int bags)
        {
            using Example example = new();
            Assert.Null(Take(example).Shrunk);
            example.Replace("datapackage.json", "\"revision\": 1", "\"revision\": 2");
            foreach ((string file, int rows) in new[] { ("bags.csv", bags), ("samples.csv", 1) })
                File.WriteAllLines(example.FileAt(file), File.ReadAllLines(example.FileAt(file)).Take(rows + 1));
            IntakeResult revised = Take(example);
            Assert.Equal(IntakeOutcome.Accepted, revised.Outcome);
            return revised.Shrunk;
        }
    }

    [Fact]
    public void The_highest_revision_is_the_active_one_whatever_came_last()
    {
        using Example example = new();
        example.Replace("datapackage.json", "\"revision\": 1", "\"revision\": 3").Replace("bags.csv", ",4.12,1.94,", ",4.12,0.96,");
        Assert.Equal(IntakeOutcome.Accepted, Take(example).Outcome);
        example.Replace("datapackage.json", "\"revision\": 3", "\"revision\": 2").Replace("bags.csv", ",4.12,0.96,", ",4.12,0.95,");
        IntakeResult late = Take(example);
        Assert.Equal(IntakeOutcome.AcceptedLate, late.Outcome);
        Assert.Contains("set `revision` to 4", File.ReadAllText(Path.Combine(example.Atlas, "intake", late.ContentHash, "report.md")),
            StringComparison.Ordinal);
        Assert.Equal(IntakeOutcome.AcceptedLate, Take(example).Outcome);   // news until somebody was told
        new Intake(example.Atlas, IntakeLimits.Default).MarkTold([late]);
        Assert.Equal(IntakeOutcome.AlreadyKnown, Take(example).Outcome);

        Contribution active = Assert.Single(new Intake(example.Atlas, IntakeLimits.Default).Active());

        Assert.Equal((3, 0.96), (active.Header.Revision, active.Bags[0].MassFinalGrams));
    }

    [Fact]
    public void Another_contributor_cannot_supersede_a_contribution()
    {
        using Example example = new();
        Take(example);
        example.Replace("datapackage.json", "\"contributor\": \"example-group\"", "\"contributor\": \"somebody-else\"")
            .Replace("datapackage.json", "\"revision\": 1", "\"revision\": 2");

        Assert.Equal("contribution-id-taken", Assert.Single(Take(example).Findings).Code);
    }

    [Fact]
    public void Active_contributions_are_ordered_by_id()
    {
        using Example example = new();
        using Example other = new Example().Replace("datapackage.json", "example-meadow-and-wood", "a-second-one");
        Intake intake = new(example.Atlas, IntakeLimits.Default);
        intake.Take(example.Copy);
        intake.Take(other.Copy);

        Assert.Equal(["a-second-one", "example-meadow-and-wood"], intake.Active()
            .Select(contribution => contribution.Header.ContributionId));
    }

    [Fact]
    public void A_stray_file_and_a_link_in_the_inbox_are_told()
    {
        using Example example = new();
        File.WriteAllText(Path.Combine(example.Inbox, "notes.txt"), "hello");
        File.CreateSymbolicLink(Path.Combine(example.Inbox, "zz-link"), example.Root);
        List<string> seen = [];

        IReadOnlyList<IntakeResult> results = new Intake(example.Atlas,
            IntakeLimits.Default).TakeInbox(example.Inbox, (what, done, of) => seen.Add($"{what} {done}/{of}"));

        Assert.Equal(["group-a", "notes.txt", "zz-link"], results.Select(result => result.Source));
        Assert.Equal("stray-file", Assert.Single(results[1].Findings).Code);
        Assert.Equal("link-not-allowed", Assert.Single(results[2].Findings).Code);
        Assert.Equal("hello", File.ReadAllText(Path.Combine(example.Atlas, "quarantine", results[1].ContentHash, "received", "notes.txt")));
        // progress is shown to whoever stands by, and names nothing as its sender did
        Assert.Equal([$"example-meadow-and-wood ({results[0].ContentHash[..12]}) 1/3", $"{results[1].ContentHash[..12]} 2/3",
            "an entry of the inbox 3/3"], seen);
    }

    [Fact]
    public void Broken_and_dangerous_zips_are_kept_unchanged_in_the_quarantine()
    {
        using Example example = new();
        string zip = Path.Combine(example.Inbox, "broken.zip");
        File.WriteAllText(zip, "no zip");

        IntakeResult result = new Intake(example.Atlas, IntakeLimits.Default).Take(zip);

        Assert.Equal(IntakeOutcome.Quarantined, result.Outcome);
        Assert.Equal("no zip", File.ReadAllText(Path.Combine(example.Atlas, "quarantine", result.ContentHash, "received", "broken.zip")));
    }

    [Fact]
    public void What_is_too_large_is_reported_but_left_where_it_was()
    {
        using Example example = new();
        IntakeResult result = new Intake(example.Atlas, IntakeLimits.Default with { MaxPackageBytes = 100 }).Take(example.Copy);
        string folder = Path.Combine(example.Atlas, "quarantine", result.ContentHash);

        Assert.False(Directory.Exists(Path.Combine(folder, "received")));
        Assert.Contains("left where it was", File.ReadAllText(Path.Combine(folder, "report.md")), StringComparison.Ordinal);
    }

    [Fact]
    public void Only_the_owner_may_look_into_intake_and_quarantine()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "folder modes are a matter of Unix");
        using Example example = new();
        Take(example);

        foreach (string name in new[] { "intake", "quarantine" })
        {
#pragma warning disable CA1416 // not reached on Windows
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute,
                File.GetUnixFileMode(Path.Combine(example.Atlas, name)));
        }
#pragma warning restore CA1416
    }

    [Fact]
    public void Leftovers_of_a_killed_run_are_swept_at_the_next_start()
    {
        using Example example = new();
        string leftover = Directory.CreateDirectory(Path.Combine(example.Atlas, "intake", ".incoming-0123", "received")).Parent!.FullName;
        File.WriteAllText(Path.Combine(leftover, "received", "half.csv"), "a,b");

        Intake intake = new(example.Atlas, IntakeLimits.Default);

        Assert.False(Directory.Exists(leftover));
        Assert.Empty(intake.Active());
    }

    [Fact]
    public void What_changes_while_it_is_read_is_not_kept()
    {
        using Example example = new();
        using PackageReading reading = PackageReading.Begin(example.Copy, IntakeLimits.Default);
        Contribution contribution = reading.Complete().Contribution!;
        example.Replace("bags.csv", ",4.12,1.94,", ",4.12,0.96,");

        Assert.False(new IntakeStore(example.Atlas, IntakeLimits.Default).Accept(example.Copy, reading, contribution.Header));
        Assert.Empty(Directory.GetFileSystemEntries(Path.Combine(example.Atlas, "intake")));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void What_was_received_is_read_from_the_disk_once(bool isZip)
    {
        using Example example = new();
        string received = isZip ? example.Zip() : example.Copy;
        using PackageReading reading = PackageReading.Begin(received, IntakeLimits.Default);
        foreach (string file in isZip ? [received] : Directory.GetFiles(received))
            File.WriteAllBytes(file, new byte[new FileInfo(file).Length]);

        Assert.NotNull(reading.Complete().Contribution);
        Assert.True(reading.Received.AreHeld);
        Assert.False(reading.IsUnchanged(received));
    }

    [Fact]
    public void A_full_disk_is_one_clear_sentence_and_leaves_nothing_half_written()
    {
        using Example example = new();
        string disk = Directory.CreateDirectory(Path.Combine(example.Root, "small")).FullName;
        Assert.SkipUnless(OperatingSystem.IsLinux() && Run("mount", "-t", "tmpfs", "-o", "size=64k", "none", disk),
            "mounting a small tmpfs needs root on Linux");
        try
        {
            File.WriteAllBytes(example.FileAt("photo.jpg"), new byte[200_000]);
            Intake intake = new(Path.Combine(disk, "atlas"), IntakeLimits.Default);

            ContributionException fault = Assert.Throws<ContributionException>(() => intake.Take(example.Copy));

            Assert.Matches("^The contribution [0-9a-f]{12} could not be kept in ", fault.Message);
            Assert.Contains("because the disk is full; nothing of it was stored", fault.Message, StringComparison.Ordinal);
            Assert.Empty(Directory.GetFileSystemEntries(Path.Combine(disk, "atlas", "intake")));
            File.Delete(example.FileAt("photo.jpg"));
            Assert.Equal(IntakeOutcome.Accepted, intake.Take(example.Copy).Outcome);

            Assert.True(Run("mount", "-o", "remount,ro", disk));
            example.Replace("datapackage.json", "\"revision\": 1", "\"revision\": 2");
            fault = Assert.Throws<ContributionException>(() =>
                new Intake(Path.Combine(disk, "atlas"), IntakeLimits.Default).Take(example.Copy));
            Assert.Contains("read-only", fault.Message, StringComparison.Ordinal);
            Assert.Equal(1, Assert.Single(new Intake(Path.Combine(disk, "atlas"), IntakeLimits.Default).Active()).Header.Revision);
        }
        finally
        {
            Run("umount", disk);
        }
    }

    [Fact]
    public void A_place_that_cannot_be_written_is_one_clear_sentence()
    {
        using Example example = new();
        File.WriteAllText(example.Atlas, "a file where the atlas should be");

        ContributionException fault =
            Assert.Throws<ContributionException>(() => new Intake(example.Atlas, IntakeLimits.Default).Take(example.Copy));

        Assert.Matches("^The contribution [0-9a-f]{12} could not be kept in ", fault.Message);
    }

    [Fact]
    public void An_inbox_that_is_not_there_is_one_clear_sentence()
    {
        using Example example = new();

        ContributionException fault =
            Assert.Throws<ContributionException>(() =>
                new Intake(example.Atlas, IntakeLimits.Default).TakeInbox(Path.Combine(example.Root, "gone"), null));

        Assert.Contains("cannot be read; create it", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Tampering_with_the_intake_is_noticed()
    {
        using Example example = new();
        IntakeResult result = Take(example);
        string bags = Path.Combine(example.Atlas, "intake", result.ContentHash, "received", "bags.csv");
        File.WriteAllText(bags, File.ReadAllText(bags).Replace("4.12", "2.07", StringComparison.Ordinal));

        ContributionException fault = Assert.Throws<ContributionException>(() => new Intake(example.Atlas, IntakeLimits.Default).Active());

        Assert.Contains("example-meadow-and-wood", fault.Message, StringComparison.Ordinal);
        Assert.Contains("not what was received", fault.Message, StringComparison.Ordinal);
    }

    private static bool Run(string command, params string[] arguments)
    {
        try
        {
            using Process process = Process.Start(new ProcessStartInfo(command, arguments) { RedirectStandardError = true })!;
            process.WaitForExit();
            return process.ExitCode == 0;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    }
}
