namespace DecayAtlas.Pipeline.Tests;

/// <summary>Local words from a contribution into the Parquet tables, with and without a mapping.</summary>
public sealed class WordsOfSenders : IDisposable
{
    private const string Mapping = """
        version: 1
        words:
          ecosystem: { prairie: grassland }
          land_use:
            Wiese: meadow
            "no-till field": arable
          treatment: { erwärmt: warmed }

        """;

    private readonly SmallAtlas _atlas = new("vocabulary: words.yaml\n");

    public WordsOfSenders() => Map(Mapping);

    public void Dispose() => _atlas.Dispose();

    private void Map(string yaml) => File.WriteAllText(_atlas.PathOf("words.yaml"), yaml);

    // the example's meadow lies open, its wood is marked sensitive
    private void Receives(string name, string meadow, string wood = "forest,forestry,none", string treatment = "") => _atlas.Receives(
        name, name, edit: (file, text) => file switch
        {
            "sites.csv" => text.Replace("grassland,meadow,organic", meadow, StringComparison.Ordinal)
                .Replace("forest,forestry,none", wood, StringComparison.Ordinal),
            "bags.csv" => text.Replace(",fast,,", $",fast,{treatment},", StringComparison.Ordinal)
                .Replace(",slow,,", $",slow,{treatment},", StringComparison.Ordinal),
            _ => text,
        });

    private ReleasedSite SiteOf(string key) => new ReleaseReader(_atlas.Atlas).Rows(AtlasTables.Sites).Single(s => s.SiteKey == key);

    private string[] Unmapped() => [.. new ReleaseReader(_atlas.Atlas).Rows(AtlasTables.Flags).Where(f => f.Code == "word-unmapped")
        .Select(f => f.Explanation)];

    [Fact]
    public void Our_words_in_any_spelling_and_mapped_ones_are_one_group_with_one_code()
    {
        Receives("ours", "grassland,meadow,organic");
        Receives("spelt", "Grassland,MEADOW,organic farming");
        Receives("local", "Prairie,wiese,organic");

        Assert.Equal(0, _atlas.Night().ExitCode);

        Assert.All(new[] { "ours", "spelt", "local" }, name =>
        {
            ReleasedSite site = SiteOf(name + "/meadow-1");
            Assert.Equal(("grassland", "meadow", "organic"), (site.Ecosystem, site.LandUse, site.Management));
            Assert.Equal("http://purl.obolibrary.org/obo/ENVO_01001206", site.EcosystemIri);
        });
        Assert.Null(SiteOf("ours/meadow-1").WordsAsSent);
        Assert.Equal("ecosystem: Grassland; land_use: MEADOW; management: organic farming", SiteOf("spelt/meadow-1").WordsAsSent);
        Assert.Equal("ecosystem: Prairie; land_use: wiese", SiteOf("local/meadow-1").WordsAsSent);
        Assert.Empty(Unmapped());
    }

    [Fact]
    public void A_word_that_nobody_mapped_stays_as_sent_without_a_code_and_is_noted_with_the_nearest()
    {
        Receives("a", "Grasland,maïs,organic");

        Assert.Equal(0, _atlas.Night().ExitCode);

        ReleasedSite site = SiteOf("a/meadow-1");
        Assert.Equal(("Grasland", null, "maïs", null), (site.Ecosystem, site.EcosystemIri, site.LandUse, site.LandUseIri));
        Assert.Equal("accepted", site.Use);
        Assert.Equal("Not of the vocabulary: ecosystem Grasland (grassland is close); land_use maïs.", Assert.Single(Unmapped()));
    }

    [Fact]
    public void An_entry_for_a_word_that_nobody_sent_is_told_every_night()
    {
        Map("version: 1\nwords: { ecosystem: { Grasland: grassland, Moor: wetland }, land_use: { maïs: arable } }\n");
        Receives("a", "Grasland,meadow,organic");

        string[] idle = ["ecosystem/moor/wetland", "land_use/maïs/arable"];
        Assert.Equal(idle, _atlas.Night().IdleWords);
        Assert.Equal(idle, _atlas.Night().IdleWords);
    }

    [Fact]
    public void A_sensitive_site_tells_no_word_of_its_own()
    {
        Receives("a", "grassland,meadow,organic", wood: "forest,behind the old mill,Bio");

        Assert.Equal(0, _atlas.Night().ExitCode);

        ReleasedSite wood = SiteOf("a/wood-1");
        Assert.Equal(("forest", null, null, null), (wood.Ecosystem, wood.LandUse, wood.Management, wood.WordsAsSent));
        Assert.DoesNotContain("mill", Assert.Single(Unmapped()), StringComparison.Ordinal);
    }

    /// <summary>A treatment that is missing would say untreated, and count for the place.</summary>
    [Fact]
    public void A_treatment_of_a_sensitive_site_in_words_of_its_own_is_called_other_wherever_it_is_told()
    {
        Receives("a", "grassland,meadow,organic", treatment: "fenced at the old mill");

        Assert.Equal(0, _atlas.Night().ExitCode);

        ReleaseReader release = new(_atlas.Atlas);
        Assert.All(release.Rows(AtlasTables.Burials).Select(b => (b.SiteKey, b.Treatment))
            .Concat(release.Rows(AtlasTables.Bags).Select(b => (b.SiteKey, b.Treatment)))
            .Concat(release.Rows(AtlasTables.Samples).Select(s => (s.SiteKey, s.Treatment)))
            .Concat(release.Rows(AtlasTables.SiteCampaigns).Select(s => (s.SiteKey, s.Treatment)))
            .Concat(release.Rows(AtlasTables.Plots).Select(p => (p.SiteKey, p.Treatment))),
            told => Assert.Equal(told.SiteKey == "a/wood-1" ? "other" : "fenced at the old mill", told.Treatment));
        // both sites are told to have a word that nobody mapped, and one of them which
        Assert.Equal(2, Unmapped().Length);
        Assert.Single(Unmapped(), text => text.Contains("mill", StringComparison.Ordinal));
    }

    [Fact]
    public void A_mapped_treatment_has_our_word_and_code_in_bags_and_burials()
    {
        Receives("a", "grassland,meadow,organic", treatment: "Irrigation");

        Assert.Equal(0, _atlas.Night().ExitCode);

        ReleaseReader release = new(_atlas.Atlas);
        Assert.All(release.Rows(AtlasTables.Burials), b => Assert.Equal(
            ("irrigated", "http://aims.fao.org/aos/agrovoc/c_3954"), (b.Treatment, b.TreatmentIri)));
        Assert.All(release.Rows(AtlasTables.Bags), b => Assert.Equal(
            b.SiteKey.EndsWith("wood-1", StringComparison.Ordinal) ? null : "Irrigation", b.TreatmentAsSent));
    }

    [Fact]
    public void A_change_of_the_mapping_computes_anew_and_reaches_the_release()
    {
        Receives("a", "grassland,Acker,organic");
        _atlas.Night();
        Assert.Equal("Acker", SiteOf("a/meadow-1").LandUse);

        Map(Mapping.Replace("Wiese: meadow", "Acker: arable", StringComparison.Ordinal));
        Assert.Equal(0, _atlas.Night().ExitCode);

        Assert.Equal(("arable", "land_use: Acker"), (SiteOf("a/meadow-1").LandUse, SiteOf("a/meadow-1").WordsAsSent));
        Assert.Empty(Unmapped());
    }

    [Fact]
    public void A_release_holds_every_word_with_its_concepts_and_verifies()
    {
        Receives("a", "grassland,meadow,organic");
        _atlas.Night();

        IReadOnlyList<ReleasedWord> words = new ReleaseReader(_atlas.Atlas).Rows(AtlasTables.Words);

        Assert.Equal(
            Vocabulary.Lists.SelectMany(l => l.Words.Select(w => $"{l.Name}/{w.Word}")),
            words.Select(w => $"{w.List}/{w.Word}").Distinct());
        Assert.Equal("c_3366", words.Single(w => w is { List: "ecosystem", Word: "grassland", Scheme: "AGROVOC" }).Code);
        Assert.Empty(_atlas.Verify());
    }

    [Fact]
    public void A_map_of_soil_groups_gets_the_concept_of_each_label()
    {
        File.AppendAllText(_atlas.PathOf("p.yaml"), "grids: grids.yaml\n");
        File.WriteAllText(_atlas.PathOf("grids.yaml"), """
            version: 1
            grids:
              - { name: soil, title: Soil group, polygons: soil.geojson, attribute: wrb, unit: "", kind: class, words: soil_group }
            """);
        File.WriteAllText(_atlas.PathOf("soil.geojson"), """
            {"type":"FeatureCollection","features":[{"type":"Feature","properties":{"wrb":"Cambisols"},
            "geometry":{"type":"Polygon","coordinates":[[[-12,47],[-11,47],[-11,48],[-12,48],[-12,47]]]}}]}
            """);
        Receives("a", "grassland,meadow,organic");

        Assert.Equal(0, _atlas.Night().ExitCode);

        ReleasedCovariate[] soil = [.. new ReleaseReader(_atlas.Atlas).Rows(AtlasTables.Covariates).OrderBy(c => c.SiteKey)];
        Assert.Equal(("Cambisols", "http://aims.fao.org/aos/agrovoc/c_1224"), (soil[0].Label, soil[0].LabelIri));
        Assert.Equal((null, null), (soil[1].Label, soil[1].LabelIri));   // the wood is sensitive
    }

    [Fact]
    public void A_grid_of_classes_is_released_by_its_names_and_one_without_names_is_told_to_be_of_classes_too()
    {
        File.AppendAllText(_atlas.PathOf("p.yaml"), "grids: grids.yaml\n");
        File.WriteAllText(_atlas.PathOf("grids.yaml"), """
            version: 1
            grids:
              - name: cover
                title: Land cover
                file: cover.asc
                crs: EPSG:4326
                unit: ""
                rule: nearest
                kind: class
                classes: { 2: Grünland, 3: forest }
                words: ecosystem
              - { name: code, title: Cover, file: cover.asc, crs: "EPSG:4326", unit: "", rule: nearest, kind: class }
              - { name: height, title: Height, file: cover.asc, crs: "EPSG:4326", unit: m, rule: nearest, kind: continuous }
            """);
        File.WriteAllText(_atlas.PathOf("cover.asc"),
            "ncols 2\nnrows 1\nxllcorner -12\nyllcorner 47\ncellsize 1\nNODATA_value -9\n3 3\n");
        Receives("a", "grassland,meadow,organic");

        Assert.Equal(0, _atlas.Night().ExitCode);

        ReleasedCovariate[] first = [.. new ReleaseReader(_atlas.Atlas).Rows(AtlasTables.Covariates)
            .Where(c => c.IsKnown).OrderBy(c => c.Covariate, StringComparer.Ordinal).DistinctBy(c => c.Covariate)];
        Assert.Equal([("code", 3.0, null, true), ("cover", 3.0, "forest", true), ("height", 3.0, null, false)],
            first.Select(c => (c.Covariate, c.Value!.Value, c.Label, c.IsClass)));
        Assert.Equal(Vocabulary.Ecosystem.IriOf("forest"), first[1].LabelIri);
    }

    [Theory]
    [InlineData("land_use: { Wiese: meadows }", 3, "found meadows, expected a word of land_use; meadow is close")]
    [InlineData("land_use: { Wiese: Grünland }", 3, "found Grünland, expected a word of land_use: natural, forestry, pasture, ")]
    [InlineData("land_use: { Meadow: pasture }", 3, "found Meadow, which is our meadow already")]
    [InlineData("land_use:\n    Wiese: meadow\n    wiese: pasture", 5, "found wiese beside Wiese, expected each word once")]
    [InlineData("land_use: { \"--\": meadow }", 3, "found a local word without letters or digits")]
    [InlineData("landuse: { Wiese: meadow }", 3, "words.landuse is not a key of this format")]
    [InlineData("land_use: { Wiese: 3 }", 3, "words.land_use.Wiese: Value is \"integer\" but should be \"string\"")]
    [InlineData("land_use: [Wiese]", 3, "found a list; expected: local words, each with the word of the schema")]
    public void A_wrong_mapping_is_refused_with_file_line_and_cure_before_anything_is_taken_in(string words, int line, string sentence)
    {
        Receives("a", "grassland,Wiese,organic");
        Map("version: 1\nwords:\n  " + words + "\n");

        RunRecord refused = _atlas.Night();

        Assert.Equal(RecordedRun.Usage, refused.ExitCode);
        Assert.StartsWith($"{_atlas.PathOf("words.yaml")}:{line}: ", refused.Failure, StringComparison.Ordinal);
        Assert.Contains(sentence, refused.Failure, StringComparison.Ordinal);
        Assert.False(Directory.Exists(_atlas.PathOf("atlas/intake")));
    }

    [Fact]
    public void A_mapping_that_is_not_there_is_told()
    {
        File.Delete(_atlas.PathOf("words.yaml"));

        RunRecord refused = _atlas.Night();

        Assert.Equal(RecordedRun.Usage, refused.ExitCode);
        Assert.Contains("words.yaml", refused.Failure, StringComparison.Ordinal);
    }
}
