using System.Diagnostics;
using System.Globalization;

namespace DecayAtlas.EndToEnd;

/// <summary>What a year of nights does to an atlas: kills, corrections, withdrawals, changed settings and grids, rot.</summary>
public sealed class Nights : NightWork
{
    private static readonly string[] Kept = ["atlas/releases", "atlas/parts", "atlas/intake"];

    [Fact]
    public void Killed_at_any_moment_the_next_run_makes_what_an_uninterrupted_one_makes()
    {
        // DECAYATLAS_KILLS sets how often
        int kills = int.Parse(Environment.GetEnvironmentVariable("DECAYATLAS_KILLS") ?? "4", CultureInfo.InvariantCulture);
        GivenConfiguration();
        for (int i = 0; i < 6; i++)
            GivenContribution($"c{i}", $"g{i % 4}");
        GivenContribution("broken", "g9",
            edit: (file, text) => file == "bags.csv" ? text.Replace("2024-", "2024-13-", StringComparison.Ordinal) : text);

        Assert.Equal(1, Work.DecayAtlas("run", "p.yaml").ExitCode);
        SortedDictionary<string, string> expected = Work.Bytes(Kept);
        AtlasFolder atlas = new(Work.PathOf("atlas"));
        Random random = new(20241101);
        int interrupted = 0, allFiles = FilesIn(atlas.Root);
        for (int i = 0; i < kills; i++)
        {
            Directory.Delete(atlas.Root, recursive: true);
            using (Process run = Command.StartDecayAtlas(Work.Folder, "run", "p.yaml"))
            {
                // a point of the work, not of the clock: when so many files are there
                int files = random.Next(1, allFiles);
                while (!run.HasExited && FilesIn(atlas.Root) < files)
                    Thread.Sleep(1);
                interrupted += run.HasExited ? 0 : 1;
                run.Kill();
                run.WaitForExit();
            }

            if (Directory.Exists(atlas.Root))
                Assert.Empty(Verification.Of(atlas, null).Rotten);
            Run("run");
            Assert.Equal(expected, Work.Bytes(Kept));
        }

        Assert.True(interrupted > kills / 2, $"only {interrupted} of {kills} runs were still running when they were killed");
    }

    [Fact]
    public void Of_two_runs_at_once_one_works_and_the_other_says_who_does()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1");
        using (AtlasLock.Take(new AtlasFolder(Work.PathOf("atlas"))))
        {
            CommandResult second = Work.DecayAtlas("run", "p.yaml");
            Assert.Equal(3, second.ExitCode);
            Assert.Contains($"process {Environment.ProcessId}", second.Error, StringComparison.Ordinal);
        }

        ExpectRun(0, "Release 0001-");
    }

    [Fact]
    public void A_correction_supersedes_and_the_tables_are_those_of_a_fresh_atlas()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1");
        GivenContribution("c2", "g2");
        ExpectRun(0, "Release 0001-");
        GivenContribution("c1", "g1", revision: 2,
            edit: (file, text) => file == "bags.csv" ? text.Replace(",8,", ",7,", StringComparison.Ordinal) : text);
        ExpectRun(0, "Release 0002-");

        Assert.Equal(1, Count("contributions", "contribution_id = 'c1' AND revision = 2"));
        Assert.Equal(2, Count("contributions"));
        Assert.Equal(FromNothing(), Work.Bytes("atlas/current"));
        Assert.True(Directory.GetDirectories(Work.PathOf("atlas/intake")).Length == 3, "history is kept");
    }

    [Fact]
    public void A_withdrawn_contribution_disappears_and_is_recorded_as_withdrawn()
    {
        GivenConfiguration("decisions: d.yaml\n");
        Write("d.yaml", "version: 1\ndecisions: []\n");
        GivenContribution("c1", "g1");
        GivenContribution("c2", "g2");
        ExpectRun(0, "Release 0001-");
        Write("d.yaml", "version: 1\ndecisions:\n  - { withdraw: c1, by: curator, on: \"2025-03-01\", because: the group asked for it }\n");
        ExpectRun(0, "Release 0002-");

        Assert.Equal(0, Count("bags", "contribution_id = 'c1'"));
        Assert.True(Count("bags", "contribution_id = 'c2'") > 0);
        Assert.Equal(1, Count("decisions", "contribution_id = 'c1' AND decision = 'withdraw' AND because = 'the group asked for it'"));
        Assert.Equal(FromNothing(), Work.Bytes("atlas/current"));
    }

    [Fact]
    public void A_dry_run_says_what_would_be_done_and_why_and_does_nothing()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1");
        GivenContribution("c2", "g2");
        ExpectRun(0, "Release 0001-");
        SortedDictionary<string, string> before = Work.Bytes(Kept);

        Assert.Contains("Nothing to compute", Run("run", "--dry-run").Text, StringComparison.Ordinal);
        GivenContribution("c3", "g2");
        Assert.Matches("c3 \\([0-9a-f]{12}\\): would be accepted", Run("run", "--dry-run").Text);
        GivenContribution("c1", "g1", revision: 2,
            edit: (file, text) => file == "datapackage.json"
                ? text.Replace("\"revision\":2", "\"revision\":1", StringComparison.Ordinal) + " " : text);
        Assert.Matches("c1 \\([0-9a-f]{12}\\): would be quarantined", Run("run", "--dry-run").Text);
        GivenConfiguration("flags: { depth_cm: { min: 2, max: 9 } }\n");
        Assert.Contains("a setting under assumptions, flags or answers changed", Run("run", "--dry-run").Text, StringComparison.Ordinal);
        Assert.Equal(before, Work.Bytes(Kept));
    }

    [Fact]
    public void A_changed_setting_or_a_lost_memory_gives_what_a_fresh_atlas_gives()
    {
        GivenConfiguration();
        for (int i = 0; i < 4; i++)
            GivenContribution($"c{i}", $"g{i}");
        ExpectRun(0, "Release 0001-");
        GivenConfiguration("flags: { depth_cm: { min: 8.5, max: 9 } }\n");
        ExpectRun(0, "Release 0002-");
        Assert.Equal(FromNothing(), Work.Bytes("atlas/current"));

        Directory.Delete(Work.PathOf("atlas/cache"), recursive: true);
        ExpectRun(0, "Nothing changed");
        // a rotten memory is not believed
        foreach (string rows in Directory.GetFiles(Work.PathOf("atlas/cache/rows")))
            File.WriteAllText(rows, "rotten");
        Directory.Delete(Work.PathOf("atlas/parts"), recursive: true);
        ExpectRun(0, "Nothing changed");
        Assert.Empty(Verification.Of(new AtlasFolder(Work.PathOf("atlas")), null).Rotten);
    }

    [Fact]
    public void A_changed_grid_is_sampled_anew_and_the_others_are_not()
    {
        void Grid(string name, int value) => Write($"{name}.asc", "ncols 36\nnrows 18\nxllcorner -180\nyllcorner -90\ncellsize 10\n"
            + string.Concat(Enumerable.Repeat($"{value} ", 36 * 18)));
        Grid("clay", 20);
        Grid("rain", 900);
        Write("g.yaml", "version: 1\ngrids:\n"
            + "  - { name: clay, title: Clay, file: clay.asc, unit: \"%\", rule: nearest, kind: continuous, crs: \"EPSG:4326\" }\n"
            + "  - { name: rain, title: Rain, file: rain.asc, unit: mm/yr, rule: disc, kind: continuous, crs: \"EPSG:4326\" }\n");
        GivenConfiguration("grids: g.yaml\n");
        GivenContribution("c1", "g1");
        ExpectRun(0, "Release 0001-");
        long sites = Count("sites");
        Grid("clay", 25);

        Assert.Contains("grid clay changed", Run("run", "--dry-run").Text, StringComparison.Ordinal);
        ExpectRun(0, $"snap: {sites} values sampled from 2 grids");
        Assert.Equal(0, Count("covariates", "covariate = 'clay' AND value = 20"));
        Assert.True(
            Count("covariates",
                "covariate = 'rain' AND rule = 'disc' AND abs(value - 900) < 1e-9 AND value_sd < 1e-6 AND abs(valid_share - 1) < 1e-6") > 0);
        Assert.Equal(FromNothing(), Work.Bytes("atlas/current"));
    }

    [Fact]
    public void Verify_names_what_rotted_in_a_release_a_part_and_the_intake()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1");
        ExpectRun(0, "Release 0001-");
        Assert.Equal(0, Run("verify").Code);

        string citation = Work.PathOf("atlas/current/CITATION.cff");
        File.AppendAllText(citation, "rot");
        string bags = Directory.GetFiles(Work.PathOf("atlas/intake"), "bags.csv", SearchOption.AllDirectories).Single();
        File.AppendAllText(bags, "\n");
        Write("atlas/current/stray.txt", "stray");

        (int code, string text) = Run("verify");
        Assert.Equal(1, code);
        Assert.Contains("CITATION.cff: its bytes are not those that were written", text, StringComparison.Ordinal);
        Assert.Contains("stray.txt: it does not belong there", text, StringComparison.Ordinal);
        Assert.Contains("c1", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Pruning_never_breaks_a_kept_release()
    {
        GivenConfiguration();
        GivenContribution("c0", "g0");
        ExpectRun(0, "Release 0001-");
        for (int i = 1; i < 4; i++)
        {
            GivenContribution($"c{i}", $"g{i}");
            ExpectRun(0, $"Release 000{i + 1}-");
        }

        Assert.Contains("Would take away: 2 releases", Run("prune", "--keep", "2", "--dry-run").Text, StringComparison.Ordinal);
        Assert.Equal(4, Directory.GetDirectories(Work.PathOf("atlas/releases")).Length);
        Assert.Contains("Taken away: 2 releases", Run("prune", "--keep", "2").Text, StringComparison.Ordinal);
        Assert.Equal(2, Directory.GetDirectories(Work.PathOf("atlas/releases")).Length);
        Assert.Equal(0, Run("verify").Code);
        Assert.Equal(4, Count("contributions"));
        ExpectRun(0, "Nothing changed");
    }

    [Fact]
    public void The_last_run_is_told_in_few_lines_and_as_OpenMetrics()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1");
        GivenContribution("broken", "g9", edit: (file, text) => file == "bags.csv" ? "" : text);
        Assert.Equal(1, Run("run").Code);

        string summary = File.ReadAllText(Work.PathOf("atlas/runs/latest-summary.txt"));
        Assert.Contains("Quarantined in this run: 1", summary, StringComparison.Ordinal);
        // a line for what was quarantined, between the sentences
        Assert.Single(summary.TrimEnd().Split('\n'), line => line.StartsWith("- broken (", StringComparison.Ordinal));
        Assert.Equal(3, summary.TrimEnd().Split('\n').Length);
        string[] metrics = File.ReadAllLines(Work.PathOf("atlas/runs/latest.openmetrics"));
        Assert.Equal("# EOF", metrics[^1]);
        Assert.Contains("decayatlas_run_exit_code 1", metrics);
        Assert.Contains("decayatlas_intake_contributions{outcome=\"quarantined\"} 1", metrics);
        // OpenMetrics 1.0: every line is a comment or a sample "name{labels} value"
        Assert.All(metrics, line => Assert.Matches("""^(# (TYPE|UNIT|HELP) \S+ .+|# EOF|[a-z_]+(\{[a-z]+="[^"]*"\})? \S+)$""", line));
    }

    [Fact]
    public void A_site_once_marked_sensitive_stays_hidden_whatever_comes_later()
    {
        // wood-1 of the example is marked sensitive; this is where it lies
        const string exact = "47.32871";
        Func<string, string, string> forget =
            (file, text) => file == "sites.csv" ? text.Replace(",yes,", ",,", StringComparison.Ordinal) : text;
        GivenConfiguration("decisions: d.yaml\n");
        Write("d.yaml", "version: 1\ndecisions: []\n");
        GivenContribution("c1", "g1");
        ExpectRun(0, "Release 0001-");
        GivenContribution("c1", "g1", revision: 2, edit: forget);
        ExpectRun(0, "");
        GivenContribution("c2", "g1", edit: forget);
        Write("d.yaml", "version: 1\ndecisions:\n  - { withdraw: c1, by: curator, on: \"2025-03-01\", because: the group asked for it }\n");
        ExpectRun(0, "");

        Assert.Contains(exact,
            File.ReadAllText(Directory.GetFiles(Work.PathOf("atlas/intake"), "sites.csv", SearchOption.AllDirectories)[0]),
            StringComparison.Ordinal);
        Assert.DoesNotContain(exact, File.ReadAllText(Work.PathOf("atlas/current/sites.geojson")), StringComparison.Ordinal);
        Assert.Equal(1, Count("sites", "site_key = 'g1/wood-1' AND coordinates_generalised AND elevation_m IS NULL"));
    }

    [Fact]
    public void A_run_record_does_not_repeat_what_was_in_a_bad_cell()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1",
            edit: (file, text) => file == "sites.csv" ? text.Replace("47.32871", "47;32871", StringComparison.Ordinal) : text);
        (int code, string shown) = Run("run");

        Assert.Equal(1, code);
        Assert.DoesNotContain("32871", shown, StringComparison.Ordinal);
        Assert.All(
            Directory.GetFiles(Work.PathOf("atlas/runs")),
                f => Assert.DoesNotContain("32871", File.ReadAllText(f), StringComparison.Ordinal));
        Assert.Contains("32871",
            File.ReadAllText(Directory.GetFiles(Work.PathOf("atlas/quarantine"), "report.md", SearchOption.AllDirectories).Single()),
            StringComparison.Ordinal);
    }

    [Fact]
    public void An_overruling_does_not_outlive_the_revision_it_was_decided_for()
    {
        static Func<string, string, string> Deep(int depth) =>
            (file, text) => file == "bags.csv" ? text.Replace(",8,", $",{depth},", StringComparison.Ordinal) : text;
        GivenConfiguration("decisions: d.yaml\n");
        Write("d.yaml", "version: 1\ndecisions: []\n");
        GivenContribution("c1", "g1", edit: Deep(30));
        ExpectRun(0, "depth-out-of-range");
        string bag =
            (string)Work.Query(
                "SELECT record_id FROM read_parquet('atlas/current/flags/*.parquet') WHERE code = 'depth-out-of-range' ORDER BY 1")[0][0]!;
        Write("d.yaml", $"version: 1\ndecisions:\n  - {{ overrule: depth-out-of-range, contribution: c1, record: bag, id: {bag}, by: "
            + $"curator, on: \"2025-03-01\", because: the scale was misread }}\n");
        ExpectRun(0, "Release");
        Assert.Equal(1, Count("flags", $"record_id = '{bag}' AND code = 'depth-out-of-range' AND overruled_by = 'curator'"));

        GivenContribution("c1", "g1", revision: 2, edit: Deep(90));
        ExpectRun(1, $"depth-out-of-range on bag {bag} of c1, revision 1, which is not flagged so");
        Assert.Equal(0, Count("flags", "overruled_by IS NOT NULL"));
        Assert.Equal(0, Count("bags", $"bag_id = '{bag}' AND use = 'accepted'"));
    }

    [Fact]
    public void A_decision_that_finds_nothing_is_told()
    {
        GivenConfiguration("decisions: d.yaml\n");
        GivenContribution("c1", "g1");
        Write("d.yaml",
            "version: 1\ndecisions:\n  - { overrule: depth-out-of-range, contribution: c1, record: bag, id: no-such-bag, by: curator, "
            + "on: \"2025-03-01\", because: a slip of the pen }\n"
            + "  - { withdraw: no-such-contribution, by: curator, on: \"2025-03-01\", because: another slip }\n");
        ExpectRun(1, "no-such-bag");
        ExpectRun(1, "no-such-contribution");
        (int planned, string plan) = Run("run", "--dry-run");
        Assert.Equal(1, planned);
        Assert.Contains("no-such-bag", plan, StringComparison.Ordinal);
        Assert.Contains("no-such-contribution", plan, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void After_any_series_of_changes_the_tables_are_those_of_a_fresh_atlas(int seed)
    {
        Random random = new(seed);
        Dictionary<string, int> revisions = new();
        SortedSet<string> withdrawn = new(StringComparer.Ordinal);
        int maximumDepth = 10;
        for (int step = 0; step < 10; step++)
        {
            string name = $"c{random.Next(5)}";
            switch (random.Next(5))
            {
                case 0 or 1:
                    int revision = revisions[name] = revisions.GetValueOrDefault(name) + 1;
                    GivenContribution(name, $"g{name[1] % 3}",
                        revision,
                            (file, text) => file == "bags.csv" ? text.Replace(",8,", $",{6 + revision % 4},", StringComparison.Ordinal)
                                : text);
                    break;
                case 2 when revisions.ContainsKey(name):
                    withdrawn.Add(name);
                    break;
                case 3:
                    maximumDepth = 7 + random.Next(4);
                    break;
                default:
                    string memory = Work.PathOf(random.Next(2) == 0 ? "atlas/cache" : "atlas/cache/rows");
                    if (Directory.Exists(memory))
                        Directory.Delete(memory, recursive: true);
                    break;
            }

            Write("d.yaml", "version: 1\ndecisions:" + (withdrawn.Count == 0 ? " []\n" : "\n" + string.Concat(withdrawn.Select(
                w => $"  - {{ withdraw: {w}, by: curator, on: \"2025-03-01\", because: the group asked for it }}\n"))));
            GivenConfiguration($"decisions: d.yaml\nflags: {{ depth_cm: {{ min: 5, max: {maximumDepth} }} }}\n");
            Directory.CreateDirectory(Work.PathOf("inbox"));
            ExpectRun(0, "");
        }

        Assert.Equal(FromNothing(), Work.Bytes("atlas/current"));
    }

    [Fact]
    public void A_table_with_its_mapping_goes_from_the_inbox_to_a_release_night_after_night()
    {
        GivenConfiguration();
        foreach (string file in new[] { "results.csv", "results.mapping.yaml" })
            Write($"inbox/{file}", File.ReadAllText(Project.PathOf($"docs/examples/{file}")));
        ExpectRun(0, "Release 0001-");
        Assert.Equal(2, Count("burials", "k_per_day > 0"));
        Directory.Delete(Work.PathOf("atlas/cache"), recursive: true);
        ExpectRun(0, "Nothing changed");
        Assert.Equal(0, Run("verify").Code);
    }

    [Fact]
    public void What_cannot_be_read_is_told_and_keeps_nobody_else_out()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux() && Command.Has("mkfifo"), "named pipes and names that are no UTF-8 are of Unix");
        GivenConfiguration();
        GivenContribution("broken", "g9", edit: (file, text) => file == "bags.csv" ? "" : text);
        Assert.Equal(1, Run("run").Code);
        string[] before = [.. Directory.GetDirectories(Work.PathOf("atlas/quarantine")).Order(StringComparer.Ordinal)];
        GivenContribution("c1", "g1");
        Command.Run(Work.Folder, "mkfifo", "inbox/pipe.zip", "inbox/pipe.csv");
        Command.Run(Work.Folder, "bash", "-c", "touch $'inbox/zz\\xff\\xfe.zip'");

        Assert.Equal(1, Run("run").Code);
        Command.Run(Work.Folder, "bash", "-c", "rm -f inbox/zz*");   // .NET can't name it to delete it

        Assert.Equal(1, Count("contributions", "contribution_id = 'c1'"));
        Assert.All(before, folder => Assert.True(File.Exists(Path.Combine(folder, "report.md")), "the quarantine is as it was"));
    }

    [Fact]
    public void A_contribution_lost_from_the_intake_is_told_and_the_release_stands()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1");
        GivenContribution("c2", "g2");
        ExpectRun(0, "Release 0001-");
        Directory.Delete(Work.PathOf("inbox"), recursive: true);
        Directory.CreateDirectory(Work.PathOf("inbox"));
        string lost = Directory.GetFiles(Work.PathOf("atlas/intake"), "header.json", SearchOption.AllDirectories)
            .First(f => File.ReadAllText(f).Contains("\"c2\"", StringComparison.Ordinal));
        Directory.Delete(Path.GetDirectoryName(lost)!, recursive: true);

        ExpectRun(3, "revision 1 of c2 is missing");
        Assert.Contains("revision 1 of the accepted contribution c2 is missing", Run("verify").Text, StringComparison.Ordinal);
        Assert.Equal(2, Count("contributions"));
    }

    [Fact]
    public void What_a_killed_run_quarantined_is_news_to_the_next()
    {
        GivenConfiguration();
        GivenContribution("broken", "g9", edit: (file, text) => file == "bags.csv" ? "" : text);
        Assert.Equal(1, Run("run").Code);
        Assert.Equal(0, Run("run").Code);
        foreach (string told in Directory.GetFiles(Work.PathOf("atlas/quarantine"), "told", SearchOption.AllDirectories))
            File.Delete(told);   // as a run leaves it that was killed before it ended
        ExpectRun(1, "broken");
    }

    [Fact]
    public void Contact_data_stays_in_the_intake()
    {
        GivenConfiguration();
        GivenContribution("c1", "g1", edit: (file, text) => file == "datapackage.json"
            ? WithContact(text)
            : text);
        GivenContribution("broken", "g2",
            edit: (file, text) => file == "datapackage.json" ? WithContact(text) : file == "bags.csv" ? "" : text);
        Assert.Equal(1, Run("run").Code);
        string[] outside = [.. Directory.EnumerateFiles(Work.PathOf("atlas"), "*", SearchOption.AllDirectories)
            .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}received{Path.DirectorySeparatorChar}", StringComparison.Ordinal))];
        Assert.Contains(outside, f => f.EndsWith("report.md", StringComparison.Ordinal));
        Assert.All(
            outside, f => Assert.DoesNotContain("ebulon", File.ReadAllText(f, System.Text.Encoding.Latin1), StringComparison.Ordinal));
        if (!OperatingSystem.IsWindows())
        {
            foreach (string folder in new[] { "atlas/intake", "atlas/quarantine", "atlas/cache", "atlas/runs" })
            {
                Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute,
                    File.GetUnixFileMode(Work.PathOf(folder)));
            }
        }
    }

    private static string WithContact(string descriptor)
    {
        System.Text.Json.Nodes.JsonNode node = System.Text.Json.Nodes.JsonNode.Parse(descriptor)!;
        node["contributors"] = System.Text.Json.Nodes.JsonNode.Parse("""[{ "title": "Zebulon Q", "email": "zebulon@example.org" }]""");
        return node.ToJsonString();
    }

    [Fact]
    public void The_nightly_configuration_of_the_project_is_valid()
    {
        File.Copy(Project.PathOf("pipeline/nightly.yaml"), Work.PathOf("pipeline/nightly.yaml"));
        Directory.CreateDirectory(Work.PathOf("inbox"));
        Assert.Equal(0, Work.DecayAtlas("run", "pipeline/nightly.yaml").ExitCode);
    }
}
