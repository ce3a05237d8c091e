using System.Text.Json;

namespace DecayAtlas.Atlas.Tests;

public class ReleasesOnDisk : AtlasInTemporaryFolder
{

    [Fact]
    public void The_first_release_is_current()
    {
        ReleaseOutcome outcome = Publish();
        Assert.True(outcome.IsNew);
        Assert.StartsWith("0001-", outcome.Release.ToString(), StringComparison.Ordinal);
        Assert.Equal(outcome.Release, Atlas.CurrentRelease());
        Assert.NotNull(new DirectoryInfo(Atlas.Current).LinkTarget);
    }

    [Fact]
    public void Nothing_new_writes_no_release()
    {
        ReleaseOutcome first = Publish();
        Dictionary<string, string> before = Bytes(Atlas.Root);
        ReleaseOutcome second = Publish();

        Assert.False(second.IsNew);
        Assert.Equal(first.Release, second.Release);
        Assert.Equal(before, Bytes(Atlas.Root));
    }

    [Fact]
    public void The_same_inputs_make_the_same_bytes_in_another_place()
    {
        Publish();
        Publish(atlas: Other);
        Assert.Equal(Bytes(Atlas.Current), Bytes(Other.Current));
    }

    [Fact]
    public void A_change_makes_a_second_release_and_leaves_the_first_as_it_was()
    {
        ReleaseOutcome first = Publish();
        Dictionary<string, string> before = Bytes(Atlas.FolderOf(first.Release));
        ReleaseOutcome second = Publish(fastFinal: 0.90);

        Assert.StartsWith("0002-", second.Release.ToString(), StringComparison.Ordinal);
        Assert.Equal(second.Release, Atlas.CurrentRelease());
        Assert.Equal(before, Bytes(Atlas.FolderOf(first.Release)));
    }

    [Fact]
    public void Going_back_points_at_the_release_that_is_there_already()
    {
        ReleaseOutcome first = Publish();
        Publish(fastFinal: 0.90);
        ReleaseOutcome again = Publish();

        Assert.Equal(first.Release, again.Release);
        Assert.Equal(first.Release, Atlas.CurrentRelease());
        Assert.Equal(2, Directory.GetDirectories(Atlas.Releases).Length);
    }

    [Fact]
    public void A_changed_setting_alone_makes_a_release()
    {
        Publish();
        Assert.True(Publish(statement: Given.Statement with { Settings = """{"limit":2}""" }).IsNew);
    }

    [Fact]
    public void What_a_killed_run_left_behind_is_swept_and_the_next_run_makes_the_same_bytes()
    {
        Publish(atlas: Other);
        Directory.CreateDirectory(Path.Combine(Atlas.Releases, ".making-0001-dead", "bags"));
        Directory.CreateDirectory(Atlas.Parts);
        File.WriteAllText(Path.Combine(Atlas.Parts, "x.unfinished"), "half");

        Publish();

        Assert.Equal(Bytes(Other.Root), Bytes(Atlas.Root));
    }

    [Fact]
    public void A_release_that_was_written_but_never_made_current_is_taken_up()
    {
        ReleaseOutcome first = Publish();
        Directory.Delete(Atlas.Current);   // killed between the two renames
        ReleaseOutcome again = Publish();
        Assert.Equal(first.Release, again.Release);
        Assert.Equal(first.Release, Atlas.CurrentRelease());
    }

    [Fact]
    public void Every_checksum_holds_and_no_file_is_left_out()
    {
        Publish();
        Dictionary<string, string> listed = File.ReadAllLines(Path.Combine(Atlas.Current, "checksums.sha256"))
            .ToDictionary(l => l[66..], l => l[..64].ToUpperInvariant());
        Dictionary<string, string> found = Bytes(Atlas.Current);
        found.Remove("checksums.sha256");
        Assert.Equal(found, listed);
    }

    [Fact]
    public void The_descriptor_lists_every_file_with_its_schema()
    {
        ReleaseOutcome outcome = Publish();
        JsonElement package = JsonDocument.Parse(File.ReadAllText(Path.Combine(Atlas.Current, "datapackage.json"))).RootElement;
        Assert.Equal(outcome.Release.Id, package.GetProperty("id").GetString());
        Assert.Equal("CC-BY-4.0", package.GetProperty("licenses")[0].GetProperty("name").GetString());
        IEnumerable<string> paths = package.GetProperty("resources").EnumerateArray()
            .SelectMany(
                r => r.GetProperty("path") is { ValueKind: JsonValueKind.Array } many ? many.EnumerateArray().Select(p => p.GetString()!)
                    : [r.GetProperty("path").GetString()!]);
        Assert.All(paths, p => Assert.True(File.Exists(Path.Combine(Atlas.Current, p)), p));
    }

    [Fact]
    public void An_atlas_that_cannot_be_written_is_one_sentence_and_current_stays()
    {
        ReleaseOutcome first = Publish();
        Directory.Delete(Atlas.Parts, recursive: true);
        File.WriteAllText(Atlas.Parts, "a file where the folder should be");

        string message = Assert.Throws<AtlasException>(() => Publish(fastFinal: 0.9)).Message;

        Assert.Contains("could not be written", message, StringComparison.Ordinal);
        Assert.Equal(first.Release, Atlas.CurrentRelease());
    }

    [Fact]
    public void Columns_read_back_through_our_own_reader()
    {
        Publish();
        ReleaseReader reader = new(Atlas);
        Assert.Equal(["g1/S1", "g1/S2"], reader.Rows(AtlasTables.Covariates).Select(c => c.SiteKey));
        Assert.Equal([21.5, null], reader.Rows(AtlasTables.Covariates).Select(c => c.Value));
        Assert.Contains(new DateOnly(2024, 7, 1), reader.Rows(AtlasTables.Burials).Select(b => b.RetrievedOn));
    }

    [Fact]
    public void Before_the_first_release_reading_says_what_to_do() => Assert.Contains("publish one first",
        Assert.Throws<AtlasException>(() => new ReleaseReader(Atlas)).Message, StringComparison.Ordinal);

    [Fact]
    public void Rows_kept_on_disk_come_back_as_the_same_parts()
    {
        ContributorRows rows = Given.Rows();
        PartWriter writer = new(Atlas);
        Assert.All(rows, run =>
        {
            using MemoryStream kept = new();
            run.Value.Save(kept);
            Assert.Equal(writer.Write(run.Key, [run.Value]), writer.Write(run.Key, [AtlasTables.OfFile(run.Key).LoadRun(kept.ToArray())]));
        });
    }

    [Fact]
    public void The_number_of_a_release_is_in_none_of_its_bytes()
    {
        Publish(fastFinal: 0.90);
        ReleaseOutcome second = Publish();
        ReleaseOutcome first = Publish(atlas: Other);
        Assert.Equal((2, 1), (second.Release.Number, first.Release.Number));
        Assert.Equal(Bytes(Atlas.Current), Bytes(Other.Current));
    }

    [Fact]
    public void Parts_written_on_many_threads_are_those_written_on_one()
    {
        PartWriter writer = new(Atlas);
        ContributorRows rows = Given.Rows();
        Dictionary<string, ReleaseFile> alone = rows.ToDictionary(f => f.Key, f => writer.Write(f.Key, [f.Value]));
        string[] files = [.. Enumerable.Repeat(alone.Keys, 60).SelectMany(k => k)];
        Parallel.For(0, files.Length, new ParallelOptions { MaxDegreeOfParallelism = 8 }, i =>
            Assert.Equal(alone[files[i]], writer.Write(files[i], [rows.RunOf(files[i])])));
    }

    [Fact]
    public void A_part_that_rotted_is_written_anew_and_only_the_old_release_shows_the_rot()
    {
        ReleaseOutcome first = Publish();
        string bags = File.ReadAllLines(Path.Combine(Atlas.Current, "checksums.sha256"))
            .First(l => l.Contains("  bags/", StringComparison.Ordinal))[..64];
        string part = Path.Combine(Atlas.Parts, bags + ".parquet");
        new FileInfo(part).IsReadOnly = false;
        File.AppendAllText(part, "rot");

        Publish(statement: Given.Statement with { Title = "Another" });

        IReadOnlyList<Rot> rotten = new AtlasCheck(Atlas).Run(null);
        Assert.Contains(first.Release.ToString(), Assert.Single(rotten).Path, StringComparison.Ordinal);
    }

    [Fact]
    public void A_part_that_rotted_is_made_anew_while_a_release_is_published_if_its_rows_can_be_had()
    {
        IReadOnlyList<ReleaseFile> files = Files(Atlas, Given.Rows());
        string part = Path.Combine(Atlas.Parts, files.First(f => f.Table == "bags").Sha256 + ".parquet");
        new FileInfo(part).IsReadOnly = false;
        File.AppendAllText(part, "rot");
        ReleaseWriter writer = new(Atlas);

        AtlasException refused = Assert.Throws<AtlasException>(() => writer.Publish(files, Given.Statement));
        Assert.Contains("not what it was", refused.Message, StringComparison.Ordinal);
        List<string> asked = new();
        ReleaseOutcome made = writer.Publish(files, Given.Statement, file =>
        {
            asked.Add(file.Path);
            Files(Atlas, Given.Rows());
        });

        Assert.True(made.IsNew);
        Assert.StartsWith("bags/", Assert.Single(asked), StringComparison.Ordinal);
        Assert.Empty(new AtlasCheck(Atlas).Run(null));
    }

    [Theory]
    [InlineData("  bags/", "rot")]
    [InlineData("  bags/", null)]
    public void A_list_of_checksums_that_was_changed_together_with_its_file_does_not_give_the_id(string which, string? rot)
    {
        Publish();
        string sums = Path.Combine(Atlas.Current, "checksums.sha256");
        string[] lines = File.ReadAllLines(sums);
        int at = Array.FindIndex(lines, l => l.Contains(which, StringComparison.Ordinal));
        string file = Path.Combine(Atlas.Current, lines[at][66..]);
        if (rot is null)
        {
            File.Delete(file);
            lines = [.. lines.Where((_, i) => i != at)];
        }
        else
        {
            byte[] bytes = [.. File.ReadAllBytes(file), .. "rot"u8];
            File.Delete(file);
            File.WriteAllBytes(file, bytes);
            lines[at] = DurableFile.Sha256(file) + lines[at][64..];
        }

        File.WriteAllText(sums, string.Concat(lines.Select(l => l + "\n")));

        Assert.Contains("do not give the id", Assert.Single(new AtlasCheck(Atlas).Run(null)).What, StringComparison.Ordinal);
    }

    [Fact]
    public void Models_and_maps_are_held_against_their_checksums()
    {
        MadeFolder.Ensure(Atlas.Models, "m1", folder => File.WriteAllText(Path.Combine(folder, "card.json"), "{}"));
        (string map, _) = MadeFolder.Ensure(Atlas.Maps, "m1-a", folder => File.WriteAllText(Path.Combine(folder, "map.tif"), "cells"));
        Assert.Empty(new AtlasCheck(Atlas).Run(null));
        File.AppendAllText(Path.Combine(map, "map.tif"), "rot");

        Rot rot = Assert.Single(new AtlasCheck(Atlas).Run(null));

        Assert.Equal(Path.Combine("maps", "m1-a", "map.tif"), rot.Path);
        Assert.Contains("the next run makes it anew", rot.What, StringComparison.Ordinal);
    }

    [Fact]
    public void A_first_release_whose_link_was_never_set_is_no_rot_and_a_link_that_was_lost_is()
    {
        Publish();
        File.Delete(Atlas.Current);
        Assert.Empty(new AtlasCheck(Atlas).Run(null));
        Publish();
        Assert.NotNull(Atlas.CurrentRelease());

        Publish(fastFinal: 0.90);
        File.Delete(Atlas.Current);
        Assert.Contains("leads to no release", Assert.Single(new AtlasCheck(Atlas).Run(null)).What, StringComparison.Ordinal);
    }
}
