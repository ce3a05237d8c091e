using System.Text.Json;

namespace DecayAtlas.EndToEnd;

/// <summary>Wrong input through the front door: one clear sentence, the right exit code, nothing lost, no stack trace.</summary>
public sealed class WrongUse : IDisposable
{
    private readonly Workspace _work = new();

    public void Dispose() => _work.Dispose();

    private void Expect(int exitCode, string words, params string[] args) => Judge(exitCode, words, _work.DecayAtlasHere(args));

    /// <summary>As a process of its own.</summary>
    private void ExpectOfProgram(int exitCode, string words, params string[] args) => Judge(exitCode, words, _work.DecayAtlas(args));

    private static void Judge(int exitCode, string words, CommandResult result)
    {
        Assert.True(result.ExitCode == exitCode, $"exit code {result.ExitCode}: {result.Everything}");
        Assert.Contains(words, result.Everything, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", result.Everything, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", result.Everything, StringComparison.Ordinal);
    }

    private void Write(string path, string text)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(_work.PathOf(path))!);
        File.WriteAllText(_work.PathOf(path), text);
    }

    /// <summary>A small configuration with the schema's own example as its one contribution.</summary>
    private void GivenOneContribution(string more = "")
    {
        Write("p.yaml", "version: 1\natlas: atlas\ninbox: inbox\n" + more);
        CopyFolder(Project.PathOf("schemas/v1/example"), _work.PathOf("inbox/example"));
    }

    private static void CopyFolder(string from, string to)
    {
        Directory.CreateDirectory(to);
        foreach (string file in Directory.GetFiles(from))
            File.Copy(file, Path.Combine(to, Path.GetFileName(file)));
    }

    [Fact]
    public void No_command_shows_the_commands() => ExpectOfProgram(0, "COMMANDS", []);

    [Fact]
    public void An_unknown_command_is_usage() => ExpectOfProgram(2, "publisch", "publisch", "p.yaml");

    [Fact]
    public void An_unknown_option_is_usage() => Expect(2, "fast", "run", "p.yaml", "--fast");

    [Fact]
    public void A_forgotten_file_is_usage() => ExpectOfProgram(2, "FILE", "run");

    [Fact]
    public void A_configuration_that_is_not_there() => Expect(2, "none.yaml", "run", "none.yaml");

    [Fact]
    public void A_configuration_that_is_not_valid()
    {
        Write("p.yaml", "version: 1\natlas: a\ninbox: b\nflags: { depth: 8 }\n");
        Expect(2, "p.yaml:4", "run", "p.yaml");
    }

    [Fact]
    public void An_inbox_that_is_not_there()
    {
        Write("p.yaml", "version: 1\natlas: atlas\ninbox: nowhere\n");
        Expect(2, "nowhere", "run", "p.yaml");
    }

    [Fact]
    public void Failures_are_JSON_for_machines()
    {
        CommandResult result = _work.DecayAtlas("run", "none.yaml", "--json");
        JsonElement answer = JsonDocument.Parse(result.Output).RootElement;
        Assert.Equal(2, answer.GetProperty("exit_code").GetInt32());
        Assert.Contains("none.yaml", answer.GetProperty("failure").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public void The_example_of_the_schema_is_valid_and_runs_to_a_release_without_grids()
    {
        GivenOneContribution();
        Expect(0, "is a valid contribution", "check", "inbox/example");
        Expect(0, "Release 0001-", "run", "p.yaml");
    }

    [Fact]
    public void A_broken_contribution_is_quarantined_with_a_report_and_the_rest_is_released()
    {
        GivenOneContribution();
        CopyFolder(Project.PathOf("schemas/v1/example"), _work.PathOf("inbox/broken"));
        string bags = _work.PathOf("inbox/broken/bags.csv");
        File.WriteAllText(bags, File.ReadAllText(bags).Replace("2024-", "2024-13-", StringComparison.Ordinal));

        ExpectOfProgram(1, "table bags", "run", "p.yaml");

        Assert.Single(Directory.GetFiles(_work.PathOf("atlas/quarantine"), "report.md", SearchOption.AllDirectories));
        Assert.Equal(1L, _work.Query("SELECT count(*) FROM read_parquet('atlas/current/contributions/*.parquet')")[0][0]);
        // and the next night nobody is called again for the same one
        Expect(0, "Nothing changed", "run", "p.yaml");
    }

    [Fact]
    public void A_grid_that_is_no_grid_fails_and_leaves_current_alone()
    {
        GivenOneContribution();
        Expect(0, "Release 0001-", "run", "p.yaml");
        string release = File.ReadAllText(_work.PathOf("atlas/current/datapackage.json"));

        Write("clay.tif", "this is no grid");
        Write("grids.yaml",
            "version: 1\ngrids:\n  - { name: clay, title: Clay, file: clay.tif, unit: \"%\", rule: nearest, kind: continuous }\n");
        Write("p.yaml", "version: 1\natlas: atlas\ninbox: inbox\ngrids: grids.yaml\n");
        ExpectOfProgram(3, "clay.tif", "run", "p.yaml");

        Assert.Equal(release, File.ReadAllText(_work.PathOf("atlas/current/datapackage.json")));
        // the failed run left its record
        Assert.Contains(
            Directory.GetFiles(_work.PathOf("atlas/runs")), f => File.ReadAllText(f).Contains("clay.tif", StringComparison.Ordinal));
    }

    [Fact]
    public void Too_few_sites_to_train_on_is_said_and_the_release_stands()
    {
        Write("clay.asc",
            "ncols 36\nnrows 18\nxllcorner -180\nyllcorner -90\ncellsize 10\n" + string.Concat(Enumerable.Repeat("20 ", 36 * 18)));
        Write("grids.yaml",
            "version: 1\ngrids:\n  - { name: clay, title: Clay, file: clay.asc, unit: \"%\", rule: nearest, kind: continuous, crs: "
            + "\"EPSG:4326\" }\n");
        GivenOneContribution("grids: grids.yaml\ntrain: { covariates: [clay] }\n");
        Expect(3, "row", "run", "p.yaml");
        Assert.True(File.Exists(_work.PathOf("atlas/current/datapackage.json")));
    }

    [Fact]
    public void A_model_covariate_that_the_catalogue_lacks_is_named()
    {
        Write("g.yaml",
            "version: 1\ngrids:\n  - { name: clay, title: Clay, file: clay.asc, unit: \"%\", rule: nearest, kind: continuous, crs: "
            + "\"EPSG:4326\" }\n");
        Write("clay.asc", "ncols 2\nnrows 1\nxllcorner -180\nyllcorner -90\ncellsize 180\n20 20\n");
        GivenOneContribution("grids: g.yaml\ntrain: { covariates: [phosphorus] }\n");
        Expect(2, "phosphorus", "run", "p.yaml");
    }

    [Fact]
    public void Training_and_mapping_before_anything_is_there_say_what_to_do_first()
    {
        Write("g.yaml",
            "version: 1\ngrids:\n  - { name: clay, title: Clay, file: clay.asc, unit: \"%\", rule: nearest, kind: continuous }\n");
        GivenOneContribution("grids: g.yaml\ntrain: { covariates: [clay] }\nmap: {}\n");
        Expect(3, "no release yet", "train", "p.yaml");
        Expect(3, "no model yet", "map", "p.yaml");
        Expect(3, "no release yet", "compare", "p.yaml");
    }

    [Fact]
    public void A_plan_from_a_release_without_variances_says_why_there_is_none_for_machines_too()
    {
        GivenOneContribution();
        Expect(0, "Release 0001-", "run", "p.yaml");
        Expect(2, "No plan", "plan", "p.yaml", "--ratio", "1.2");
        JsonElement answer = JsonDocument.Parse(_work.DecayAtlas("plan", "p.yaml", "--ratio", "1.2", "--json").Output).RootElement;
        Assert.Equal(2, answer.GetProperty("exit_code").GetInt32());
        Assert.Contains("--variances", answer.GetProperty("failure").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_that_makes_no_sense_says_what_would()
    {
        Expect(2, "names sites, expected site", "plan", "--ratio", "1.2", "--variances", "sites=0.04");
        Expect(2, "inside its interval", "plan", "--ratio", "1.2", "--variances", "site=0.04:0.05..0.09");
        Expect(2, "--difference must name", "plan", "--of", "s", "--ratio", "1.2", "--variances", "site=0.04");
        Expect(2, "expected a number or a range", "plan", "--ratio", "1.2", "--burials", "6..2", "--variances", "site=0.04");
        Expect(2, "state them with --variances", "plan", "--ratio", "1.2");
    }

    [Fact]
    public void Comparing_by_what_is_no_group_names_those_that_are()
    {
        GivenOneContribution();
        Expect(2, "ecosystem, land_use, management", "compare", "p.yaml", "--by", "colour");
    }

    [Fact]
    public void A_catalogue_with_mistakes_is_found_out_before_a_run()
    {
        Write("clay.asc", "ncols 2\nnrows 1\nxllcorner -180\nyllcorner -90\ncellsize 180\n200 600\n");
        Write("g.yaml",
            "version: 1\ngrids:\n  - { name: clay, title: Clay, file: clay.asc, unit: \"%\", rule: nearest, kind: continuous, crs: "
            + "\"EPSG:4326\" }\n");
        GivenOneContribution("grids: g.yaml\n");
        Expect(1, "tenths of a percent", "grids", "check", "p.yaml");
        Expect(1, "names no coordinate reference system", "grids", "inspect", "clay.asc");
        Expect(3, "clay already", "grids", "add", "g.yaml", "clay.asc", "--name", "clay", "--crs", "EPSG:4326", "--unit", "%");
        Expect(2, "picture", "grids", "inspect", "clay.asc", "--picture", "clay.gif");
        Write("cut.tif", "II*\0\b\0\0\0");
        Expect(3, "cut.tif", "grids", "inspect", "cut.tif");
    }

    [Fact]
    public void A_full_disk_is_one_sentence_and_current_stays()
    {
        string disk = _work.PathOf("disk");
        Directory.CreateDirectory(disk);
        Assert.SkipUnless(OperatingSystem.IsLinux()
            && Command.Run(_work.Folder, "mount", "-t", "tmpfs", "-o", "size=800k", "tmpfs", disk).ExitCode == 0,
            "mounting a small tmpfs needs root");
        try
        {
            GivenOneContribution();
            Write("p.yaml", "version: 1\natlas: disk/atlas\ninbox: inbox\n");
            Expect(0, "Release 0001-", "run", "p.yaml");
            string release = File.ReadAllText(_work.PathOf("disk/atlas/current/datapackage.json"));

            // a change to publish, and no room for it
            Write("p.yaml", "version: 1\natlas: disk/atlas\ninbox: inbox\nrelease: { title: Another title }\n");
            FillUp(Path.Combine(disk, "filler"));
            ExpectOfProgram(3, "disk is full", "run", "p.yaml");
            Assert.Equal(release, File.ReadAllText(_work.PathOf("disk/atlas/current/datapackage.json")));

            File.Delete(Path.Combine(disk, "filler"));
            Expect(0, "Release 0002-", "run", "p.yaml");
        }
        finally
        {
            Command.Run(_work.Folder, "umount", disk);
        }
    }

    private static void FillUp(string path)
    {
        using FileStream filler = new(path, FileMode.Create, FileAccess.Write, FileShare.None, bufferSize: 1);
        try
        {
            while (true)
                filler.Write(new byte[1024]);
        }
        catch (IOException)
        {
            // full now
        }
    }
}
