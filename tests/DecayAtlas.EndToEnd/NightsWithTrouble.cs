using System.Text.Json;

namespace DecayAtlas.EndToEnd;

/// <summary>Nights on which the disk, the inbox or a contributor makes trouble, and what the curator reads in the morning.</summary>
public sealed class NightsWithTrouble : NightWork
{
    private string Summary => File.ReadAllText(Work.PathOf("atlas/runs/latest-summary.txt"));

    private static string WithoutDay(string file, string text) => file == "bags.csv"
        ? text.Replace("2024-", "2024-13-", StringComparison.Ordinal) : text;

    private static string Deeper(string file, string text) => file == "bags.csv" ? text.Replace(",8,", ",7,", StringComparison.Ordinal)
        : text;

    [Fact]
    public void A_part_that_rots_between_two_nights_is_mended_by_the_next_release_and_told()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1");
        GivenContribution("c2", "g2");
        ExpectRun(0, "Release 0001-");
        // the bags of g2 rot; only g1 changes, so that the part of g2 is used again
        string[] parts = [.. File.ReadLines(Work.PathOf("atlas/current/checksums.sha256"))
            .Where(l => l.Contains("  bags/", StringComparison.Ordinal)).Select(l => l[..64])];
        foreach (string part in parts.Select(p => Work.PathOf($"atlas/parts/{p}.parquet")))
        {
            new FileInfo(part).IsReadOnly = false;
            using FileStream stream = new(part, FileMode.Open, FileAccess.ReadWrite);
            stream.Position = stream.Length / 2;
            stream.WriteByte((byte)(stream.ReadByte() ^ 1));
        }

        Assert.Equal(1, Run("verify").Code);
        GivenConfiguration("release: { title: Another title }\n");
        ExpectRun(1, "had rotted and was written anew");

        Assert.Contains("Parts had rotted and were written anew", Summary, StringComparison.Ordinal);
        Assert.Equal(16, Count("bags"));
        // the release of before keeps its rot, and verify says which part is what it was
        (int code, string text) = Run("verify");
        Assert.Equal(1, code);
        Assert.All(text.TrimEnd()
            .Split('\n')[..^1], line => Assert.Contains("over it, which is what was released", line, StringComparison.Ordinal));
        foreach (string[] words in text.TrimEnd().Split('\n')[..^1].Select(line => line.Split(' ')))
        {
            string rotten = Work.PathOf("atlas/" + words[0].TrimEnd(':')),
                sound = Work.PathOf("atlas/" + words[Array.IndexOf(words, "copy") + 1]);
            File.Delete(rotten);
            File.Copy(sound, rotten);
        }

        Assert.Equal(0, Run("verify").Code);
        ExpectRun(0, "Nothing changed");
    }

    [Fact]
    public void Verify_covers_the_quarantine_and_a_list_of_checksums_that_was_changed_with_its_files()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1");
        GivenContribution("broken", "g9", edit: WithoutDay);
        Assert.Equal(1, Run("run").Code);
        Assert.Contains("1 accepted contribution and 1 in the quarantine read: every checksum holds", Run("verify").Text,
            StringComparison.Ordinal);

        string kept = Directory.GetFiles(Work.PathOf("atlas/quarantine"), "lots.csv", SearchOption.AllDirectories).Single();
        File.AppendAllText(kept, "x");
        string citation = Work.PathOf("atlas/current/CITATION.cff"), sums = Work.PathOf("atlas/current/checksums.sha256");
        string before = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(citation)));
        File.AppendAllText(citation, "forged: yes\n");
        File.WriteAllText(sums, File.ReadAllText(sums)
            .Replace(before, Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(File.ReadAllBytes(citation))),
                StringComparison.Ordinal));

        (int code, string text) = Run("verify");
        Assert.Equal(1, code);
        Assert.Contains("lots.csv: its bytes are not those that were written", text, StringComparison.Ordinal);
        Assert.Contains("checksums.sha256: it is not the list that the run recorded", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_read_only_atlas_can_be_verified_and_a_read_only_inbox_taken()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1");
        Assert.SkipUnless(OperatingSystem.IsLinux() && Bind("inbox", readOnly: true), "mounting read-only needs root on Linux");
        try
        {
            ExpectRun(0, "Release 0001-");
            Command.Run(Work.Folder, "mount", "--bind", "atlas", "atlas");
            Command.Run(Work.Folder, "mount", "-o", "remount,bind,ro", "atlas");
            CommandResult verified = Work.DecayAtlas("verify", "p.yaml");
            Assert.Equal((0, ""), (verified.ExitCode, verified.Error));
            Assert.Contains("every checksum holds", verified.Output, StringComparison.Ordinal);
            CommandResult run = Work.DecayAtlas("run", "p.yaml");
            Assert.Equal(3, run.ExitCode);
            Assert.Contains("read-only", run.Error, StringComparison.Ordinal);
        }
        finally
        {
            Command.Run(Work.Folder, "umount", "atlas");
            Command.Run(Work.Folder, "umount", "inbox");
        }
    }

    private bool Bind(string folder, bool readOnly) =>
        Command.Run(Work.Folder, "mount", "--bind", folder, folder).ExitCode == 0
        && (!readOnly || Command.Run(Work.Folder, "mount", "-o", "remount,bind,ro", folder).ExitCode == 0);

    [Fact]
    public void A_night_that_found_the_atlas_held_leaves_a_summary_and_metrics()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1");
        ExpectRun(0, "Release 0001-");
        using (AtlasLock.Take(new AtlasFolder(Work.PathOf("atlas"))))
            Assert.Equal(3, Work.DecayAtlas("run", "p.yaml").ExitCode);

        Assert.Contains($"exit code 3. It did nothing: Another run works on {Work.PathOf("atlas")} (process {Environment.ProcessId}",
            Summary, StringComparison.Ordinal);
        Assert.Contains("decayatlas_run_exit_code 3", File.ReadAllLines(Work.PathOf("atlas/runs/latest.openmetrics")));
        ExpectRun(0, "Nothing changed");
        Assert.Contains("exit code 0", Summary, StringComparison.Ordinal);
    }

    [Fact]
    public void A_revision_that_comes_after_a_higher_one_is_told_once_and_does_not_count()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1", revision: 3);
        ExpectRun(0, "Release 0001-");
        GivenContribution("c1", "g1", revision: 2, edit: Deeper);
        ExpectRun(1, "came after a higher revision");

        Assert.Contains("Came after a higher revision of the same contribution", Summary, StringComparison.Ordinal);
        ExpectRun(0, "Nothing changed");
        Assert.Equal(1, Count("contributions", "revision = 3"));
        Assert.Equal(0, Run("verify").Code);
    }

    [Fact]
    public void Changed_limits_are_foreseen_and_then_free_what_they_held_back()
    {
        GivenConfiguration("limits: { rows: 3 }\n");
        GivenContribution("c1", "g1");
        ExpectRun(1, "  c1 (");
        ExpectRun(0, "");
        Assert.Contains("Waiting in the quarantine in all: 1.", Summary, StringComparison.Ordinal);
        GivenConfiguration();
        Assert.Matches(@"c1 \([0-9a-f]{12}\): would be accepted", Run("run", "--dry-run").Text);
        ExpectRun(0, "Release");

        Assert.Equal(1, Count("contributions"));
        Assert.DoesNotContain("Waiting in the quarantine", Summary, StringComparison.Ordinal);
        Assert.Equal(0, Run("verify").Code);
    }

    [Fact]
    public void A_table_whose_mapping_comes_a_night_later_waits_no_longer()
    {
        GivenConfiguration();
        Write("inbox/results.csv", File.ReadAllText(Project.PathOf("docs/examples/results.csv")));
        ExpectRun(1, "A mapping beside the table that says what its columns mean");
        Write("inbox/results.mapping.yaml", File.ReadAllText(Project.PathOf("docs/examples/results.mapping.yaml")));
        ExpectRun(0, "Release");

        Assert.DoesNotContain("Waiting in the quarantine", Summary, StringComparison.Ordinal);
        Assert.Equal(2, Count("burials", "k_per_day > 0"));
        Assert.Single(Directory.GetDirectories(Work.PathOf("atlas/quarantine")));
    }

    [Fact]
    public void An_address_in_a_name_of_the_inbox_reaches_no_record_report_or_log()
    {
        GivenConfiguration();
        Directory.CreateDirectory(Work.PathOf("inbox"));
        foreach (string name in new[] { "zebulon@example.org.zip", "zebulon@example.org notes.txt",
            "sheet of zebulon (at) example.org.xlsx", "+49 170 5550123.csv" })
        {
            Write("inbox/" + name, "no contribution");
        }

        Directory.CreateDirectory(Work.PathOf("inbox/from zebulon@example.org"));
        Directory.CreateDirectory(Work.PathOf("inbox/pipes zebulon@example.org"));
        Command.Run(Work.Folder, "mkfifo", "inbox/zebulon@example.org.fifo.zip");

        CommandResult dry = Work.DecayAtlas("run", "p.yaml", "--dry-run"), run = Work.DecayAtlas("run", "p.yaml", "--log-json"),
            json = Work.DecayAtlas("run", "p.yaml", "--json");
        CommandResult check = Work.DecayAtlas("check", "inbox/zebulon@example.org.zip", "--report", "r.html");

        Assert.Equal(1, run.ExitCode);
        string[] shown =
        [
            dry.Everything, run.Everything, json.Everything, check.Everything, File.ReadAllText(Work.PathOf("r.html")),
            .. Directory.EnumerateFiles(Work.PathOf("atlas"), "*", SearchOption.AllDirectories)
                .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}received{Path.DirectorySeparatorChar}", StringComparison.Ordinal)
                    && !f.EndsWith("received.sha256", StringComparison.Ordinal))
                .Select(File.ReadAllText),
        ];
        Assert.All(shown, text => Assert.DoesNotContain("zebulon", text, StringComparison.Ordinal));
        Assert.All(shown, text => Assert.DoesNotContain("5550123", text, StringComparison.Ordinal));
        Assert.Contains("(an e-mail address)", File.ReadAllText(Work.PathOf("atlas/quarantine/waiting.md")), StringComparison.Ordinal);
    }

    private string[][] Cells(string csv) =>
    [
        File.ReadLines(csv).First().Split(','),
        .. Work.Query($"SELECT * FROM read_csv('{csv}', all_varchar = true)")
            .Select(row => row.Select(cell => (string?)cell ?? "").ToArray()),
    ];

    [Fact]
    public void A_workbook_in_the_inbox_gives_the_tables_that_the_same_contribution_gives_as_a_package()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1");
        ExpectRun(0, "Release 0001-");
        const string rates = "SELECT burial_id, k_per_day, s FROM read_parquet('atlas/current/burials/**/*.parquet') ORDER BY 1";
        string ofPackage = JsonSerializer.Serialize(Work.Query(rates));
        Directory.Delete(Work.PathOf("atlas"), recursive: true);
        Directory.Delete(Work.PathOf("inbox/c1-1"), recursive: true);

        string example = Project.PathOf("schemas/v1/example");
        MinimalWorkbook.Write(Work.PathOf("inbox/book.xlsx"),
        [
            ("package", [["name", "value"], ["name", "c1"], ["revision", "1"], ["created", "2024-09-02"], ["licence", "CC-BY-4.0"],
                ["contributor", "g1"], ["campaign", "example-2024"], ["protocol", "two-litters-90-days"]]),
            .. new[] { "sites", "lots", "bags", "samples" }.Select(table => (table, Cells(Path.Combine(example, table + ".csv")))),
        ]);
        ExpectRun(0, "Release 0001-");

        Assert.Equal(ofPackage, JsonSerializer.Serialize(Work.Query(rates)));
        Directory.Delete(Work.PathOf("atlas/cache"), recursive: true);
        ExpectRun(0, "Nothing changed");
        Assert.Equal(0, Run("verify").Code);
    }

    [Fact]
    public void A_wide_sheet_with_its_mapping_goes_from_the_inbox_to_a_release()
    {
        GivenConfiguration();
        Directory.CreateDirectory(Work.PathOf("inbox"));
        string[][] rows = [.. File.ReadAllLines(Project.PathOf("docs/examples/results.csv"))
            .Select(line => line.Replace(',', '.').Split(';'))];
        MinimalWorkbook.Write(Work.PathOf("inbox/wide.xlsx"), ("readings", rows), ("notes", [["by hand"]]));
        Write("inbox/wide.mapping.yaml", File.ReadAllText(Project.PathOf("docs/examples/results.mapping.yaml"))
            .Replace("  separator: semicolon\n", "  sheet: readings\n", StringComparison.Ordinal)
            .Replace("  decimal_sign: comma\n", "", StringComparison.Ordinal));
        ExpectRun(0, "Release 0001-");

        Assert.Equal(2, Count("burials", "k_per_day > 0"));
        Directory.Delete(Work.PathOf("atlas/cache"), recursive: true);
        ExpectRun(0, "Nothing changed");
    }

    [Fact]
    public void An_overruling_goes_from_the_decisions_file_to_the_tables_and_back()
    {
        GivenConfiguration("decisions: d.yaml\n");
        const string none = "version: 1\ndecisions: []\n";
        Write("d.yaml", none);
        GivenContribution("c1", "g1",
            edit: (file, text) => file == "bags.csv" ? text.Replace(",8,", ",30,", StringComparison.Ordinal) : text);
        ExpectRun(0, "depth-out-of-range");
        long suspect = Count("bags", "use = 'suspect'");
        SortedDictionary<string, string> before = Work.Bytes("atlas/current");
        string bag =
            (string)Work.Query(
                "SELECT record_id FROM read_parquet('atlas/current/flags/*.parquet') WHERE code = 'depth-out-of-range' ORDER BY 1")[0][0]!;

        Write("d.yaml", $"version: 1\ndecisions:\n  - {{ overrule: depth-out-of-range, contribution: c1, record: bag, id: {bag}, by: "
            + $"curator, on: \"2025-03-01\", because: the scale was misread }}\n");
        ExpectRun(0, "Release 0002-");
        Assert.Equal(suspect - 1, Count("bags", "use = 'suspect'"));
        Assert.Equal(1,
            Count("flags", $"record_id = '{bag}' AND overruled_by = 'curator' AND overruled_because = 'the scale was misread'"));
        Assert.Equal(1, Count("decisions", $"decision = 'overrule' AND record_id = '{bag}'"));

        Write("d.yaml", none);
        ExpectRun(0, "Release 0001-");
        Assert.Equal(before, Work.Bytes("atlas/current"));
    }
}
