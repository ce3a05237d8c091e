namespace DecayAtlas.Grids.Tests;

/// <summary>Adding to a catalogue that people wrote.</summary>
public sealed class CatalogueTextTests : IDisposable
{
    private readonly TestFolder _folder = new();

    public CatalogueTextTests() => GeoTiffWriter.WriteSingle(
        _folder.File("clay.tif"), new GridLattice(20, 10, 10, 50, 0.1, 0.1), [.. Enumerable.Range(0, 200).Select(i => 20.5f + i % 7)],
        new GeoTiffBand("Clay: \"fine\" earth", "%"));

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData(
        "# mine\nversion: 1\ngrids:  # all of them\n  # the first\n  - name: a   # why\n    title: A\n    file: clay.tif\n    unit: "
        + "\"%\"\n    rule: nearest\n    kind: continuous\n# the end\n")]
    [InlineData("version: 1\ngrids:\n- { name: a, title: A, file: clay.tif, unit: \"%\", rule: nearest, kind: continuous }")]
    [InlineData(
        "grids:\r\n    - name: a\r\n      title: A\r\n      file: clay.tif\r\n      unit: \"%\"\r\n      rule: nearest\r\n      kind: "
        + "continuous\r\n\r\nversion: 1\r\n")]
    public void Every_letter_that_was_there_stays_and_the_entry_comes_last_in_the_list(string text)
    {
        string path = _folder.Write("grids.yaml", text);
        CatalogueEntry added = CatalogueText.Add(path, "clay", Propose("clay"));
        Assert.Equal(("clay", "Clay: \"fine\" earth", "%", SamplingRule.Bilinear), (added.Name, added.Title, added.Unit, added.Rule));
        Assert.Equal(["a", "clay"], GridCatalogue.Load(path).Entries.Select(e => e.Name));
        string after = File.ReadAllText(path);
        int from = after.IndexOf("- name: clay", StringComparison.Ordinal);
        Assert.DoesNotContain(
            '\n', text.Contains('\r', StringComparison.Ordinal) ? after.Replace("\r\n", "", StringComparison.Ordinal) : "");
        // What is left when the new lines are taken out is what was there.
        string[] lines = after.Split('\n');
        int first = Array.FindIndex(lines, l => l.Contains("- name: clay", StringComparison.Ordinal));
        string rest = string.Join('\n', lines[..first].Concat(lines[(first + Propose("clay").Text.Count)..]));
        Assert.Equal(text.TrimEnd('\n'), rest.TrimEnd('\n'));
        Assert.True(from > 0);
        Assert.False(File.Exists(path + ".unfinished"));
    }

    [Fact]
    public void A_catalogue_is_made_where_there_is_none()
    {
        CatalogueText.Add(_folder.File("new.yaml"), "clay", Propose("clay"));
        Assert.Equal("clay", Assert.Single(GridCatalogue.Load(_folder.File("new.yaml")).Entries).Name);
    }

    [Fact]
    public void A_name_that_is_taken_a_list_on_one_line_and_a_broken_catalogue_are_refused_and_left_alone()
    {
        foreach ((string text, string said) in new[]
        {
            ("version: 1\ngrids:\n  - { name: clay, title: A, file: clay.tif, unit: \"%\", rule: nearest, kind: continuous }\n", "has a covariate clay already"),
            ("version: 1\ngrids: [ { name: a, title: A, file: clay.tif, unit: \"%\", rule: nearest, kind: continuous } ]\n", "on a line of its own"),
            ("version: 1\ngrids:\n  - { name: a, title: A }\n", "grids.yaml:3"),
        })
        {
            string path = _folder.Write("grids.yaml", text);
            Assert.Contains(said, Assert.Throws<GridException>(() => CatalogueText.Add(path, "clay", Propose("clay"))).Message,
                StringComparison.Ordinal);
            Assert.Equal(text, File.ReadAllText(path));
        }
    }

    [Fact]
    public void A_proposal_says_what_the_file_says_and_asks_for_what_it_does_not()
    {
        EntryProposal months = EntryProposal.For(
            GridInspection.Of(TestFolder.Data("bcsd_obs_1999.nc"),
                new GridReadOptions(Variable: "tas", Select: new Dictionary<string, string> { ["time"] = "1999-07" })), "warm", "c.nc",
                new EntryWishes());
        Assert.Equal(
            ["- name: warm", "  title: monthly_avg_tas", "  file: c.nc", "  variable: tas", "  select: { time: \"1999-07\" }", "  unit: C",
            "  rule: bilinear", "  kind: continuous", "  valid_within_m: 27736"], months.Text);
        EntryProposal cover =
            EntryProposal.For(GridInspection.Of(TestFolder.Data("landcover_albers.tif")), "cover", "l.tif", new EntryWishes());
        Assert.Contains("  kind: class", cover.Text);
        Assert.Contains("  rule: nearest", cover.Text);
        GridInspection silent =
            GridInspection.Of(_folder.Write("a.asc", "ncols 2\nnrows 1\nxllcorner 5\nyllcorner 50\ncellsize 1\n1 2\n"),
                new GridReadOptions(Crs: "EPSG:4326"));
        Assert.Contains("--unit", Assert.Throws<GridException>(() => EntryProposal.For(silent, "a", "a.asc", new EntryWishes())).Message,
            StringComparison.Ordinal);
    }

    private EntryProposal Propose(string name) =>
        EntryProposal.For(GridInspection.Of(_folder.File("clay.tif")), name, "clay.tif", new EntryWishes());
}
