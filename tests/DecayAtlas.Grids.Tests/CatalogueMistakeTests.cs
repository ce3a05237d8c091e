namespace DecayAtlas.Grids.Tests;

/// <summary>Mistakes in entries of several layers: one sentence with file and line, what was found and what was expected.</summary>
public sealed class CatalogueMistakeTests
{
    private const string Head = "version: 1\ngrids:\n";
    private const string Warmth =
        "  - { name: warmth, title: t, file: t.tif, months: bands, statistic: mean, unit: degC, rule: nearest, kind: continuous }\n";
    private const string Rain =
        "  - { name: rain, title: r, file: r.tif, months: bands, statistic: sum, unit: mm, rule: nearest, kind: continuous }\n";

    [Theory]
    [InlineData("layers: [{ from_cm: 0, to_cm: 5 }, { from_cm: 10, to_cm: 20 }]", "carbon has a gap between 0-5 cm and 10-20 cm")]
    [InlineData("layers: [{ from_cm: 0, to_cm: 15 }, { from_cm: 10, to_cm: 20 }]", "carbon overlaps between 0-15 cm and 10-20 cm")]
    [InlineData("layers: [{ from_cm: 15, to_cm: 5 }]", "to_cm must lie below from_cm")]
    [InlineData("layers: [{ from_cm: 0 }]", "from_cm and to_cm")]
    [InlineData("layers: [{ from_cm: 0, to_cm: 5, depth: 3 }]", "not a key of this format")]
    [InlineData("months: bands", "write statistic: mean (temperatures), sum (totals such as precipitation) or degree_days")]
    [InlineData("months: bands, statistic: degree_days", "degree_days and no base")]
    [InlineData("months: bands, statistic: mean, base: 5", "a base, which only degree_days need")]
    [InlineData("months: files, statistic: mean", "a file without {month}")]
    [InlineData("months: twelve, statistic: mean", "bands (of file, January in band), files ({month} in file) or steps")]
    [InlineData("months: bands, statistic: mean, layers: [{ from_cm: 0, to_cm: 5 }]", "has both layers and months")]
    [InlineData("over: year", "over, which says nothing in an entry of one grid")]
    [InlineData("months: bands, statistic: mean, inputs: { a: b }", "inputs, which says nothing in an entry with months")]
    [InlineData("series: steps, statistic: mean, over: year", "over, which says nothing in an entry with series")]
    [InlineData("classes: { 1: forest }", "is of kind continuous and names classes")]
    [InlineData("layers: [{ from_cm: 0, to_cm: 5 }], classes: { 1: forest }", "classes, which says nothing in an entry with layers")]
    public void Of_one_entry(string keys, string sentence) =>
        Refused($"{Head}  - {{ name: carbon, title: c, file: c.tif, unit: g/kg, rule: nearest, kind: continuous, {keys} }}\n", 3, sentence);

    [Theory]
    [InlineData("derived: climate_class, inputs: { temperature: warmth }, unit: \"\", kind: class",
        "lacks its input precipitation, the precipitation of twelve months")]
    [InlineData("derived: climate_class, inputs: { temperature: warmth, precipitation: rian }, unit: \"\", kind: class",
        "takes rian as precipitation, which this catalogue does not have")]
    [InlineData("derived: climate_class, inputs: { temperature: warmth, precipitation: rain, wind: rain }, unit: \"\", kind: class",
        "an input wind, which climate_class does not use")]
    [InlineData("derived: climate_class, inputs: { temperature: rain, precipitation: rain }, unit: \"\", kind: class",
        "whose unit is \"mm\", and degC was expected")]
    [InlineData("derived: climate_class, inputs: { temperature: warmth, precipitation: height }, unit: \"\", kind: class",
        "takes height as precipitation, and the precipitation of twelve months, as totals was expected")]
    [InlineData("derived: climate_class, inputs: { temperature: warmth, precipitation: rain }, unit: \"\", kind: continuous",
        "which gives a class")]
    [InlineData("derived: climate_class, inputs: { temperature: warmth, precipitation: rain }, unit: \"\", kind: class, over: exposure",
        "is of a whole year")]
    [InlineData("derived: pet_thornthwaite, inputs: { mean: warmth }, unit: cm, kind: continuous",
        "comes out in mm, and its unit is \"cm\"")]
    [InlineData("derived: temperature_response, inputs: { temperature: it }, unit: \"\", kind: continuous",
        "it is derived from itself (it needs it)")]
    [InlineData("derived: evaporation, inputs: { mean: warmth }, unit: mm, kind: continuous", "pet_hargreaves, pet_thornthwaite")]
    [InlineData("derived: pet_thornthwaite, inputs: { mean: warmth }, unit: mm, kind: continuous, file: a.tif",
        "has file, which says nothing in an entry with derived")]
    public void Of_derived_entries(string keys, string sentence) => Refused(
        Head + Warmth + Rain + "  - { name: height, title: h, file: h.tif, unit: mm, rule: nearest, kind: continuous }\n"
        + $"  - {{ name: it, title: i, {keys} }}\n", 6, sentence);

    [Theory]
    [InlineData("{ forest: 1 }", "classes.forest: Value is \"integer\" but should be \"string\"")]
    [InlineData("{ one: forest }", "names a class by one, expected its code in the grid, a number, as { 1: forest }")]
    [InlineData("{ 1: forest, 1.0: moor }", "names the class of code 1.0 twice")]
    public void Of_names_of_classes(string classes, string sentence) => Refused(
        $"{Head}  - {{ name: cover, title: c, file: c.tif, unit: \"\", rule: nearest, kind: class, classes: {classes} }}\n", 3, sentence);

    [Fact]
    public void A_circle_of_three_is_told_as_it_runs() => Refused(
        Head + "  - { name: a, title: a, derived: aridity_index, inputs: { precipitation: b, evapotranspiration: b }, unit: \"\", "
        + "kind: continuous }\n"
            + "  - { name: b, title: b, derived: aridity_index, inputs: { precipitation: c, evapotranspiration: c }, unit: \"\", kind: "
            + "continuous }\n"
            + "  - { name: c, title: c, derived: aridity_index, inputs: { precipitation: a, evapotranspiration: a }, unit: \"\", kind: "
            + "continuous }\n",
        5, "c is derived from itself (a needs b needs c needs a)");

    [Fact]
    public void Months_that_are_no_files_are_named()
    {
        using TestFolder folder = new();
        foreach (int month in Enumerable.Range(1, 12).Where(m => m is not (7 or 11)))
            folder.Write($"rain_{month:00}.tif", "");

        Refused(folder,
            Head + Rain.Replace("file: r.tif, months: bands", "file: \"rain_{month}.tif\", months: files", StringComparison.Ordinal), 3,
            "lacks 2 of its twelve months: there is no rain_07.tif, rain_11.tif");
    }

    [Fact]
    public void What_only_the_file_can_tell_is_told_with_the_line_too()
    {
        using TestFolder folder = new();
        using (GeoTiffWriter eleven = new(folder.File("t.tif"),
            new GridLattice(4, 4, 0, 4, 1, 1), [.. Enumerable.Range(1, 11).Select(b => new GeoTiffBand($"{b}", "degC"))]))
        {
            eleven.WriteTile(0, 0, 0, new float[GeoTiffWriter.TileSize * GeoTiffWriter.TileSize]);
        }

        folder.Write("units.geojson",
            """{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"kind":"loam","clay":21.5},"geometry":{"type":"Polygon","coordinates":[[[0,0],[2,0],[2,2],[0,2],[0,0]]]}}]}""");
        string path = folder.Write("grids.yaml", Head + Warmth
            + "  - { name: soil, title: s, polygons: units.geojson, attribute: sort, unit: \"\", kind: class }\n"
            + "  - { name: sort, title: s, polygons: units.geojson, attribute: kind, unit: \"\", kind: class }\n"
            + "  - { name: clay, title: s, polygons: units.geojson, attribute: clay, unit: \"%\", kind: continuous }\n");
        IReadOnlyList<CatalogueEntry> entries = GridCatalogue.Load(path).Entries;
        LayerSource december = entries[0].Made.Layers[11];
        Assert.StartsWith($"{path}:3: covariate warmth: ", Assert.Throws<GridException>(() => december.Open()).Message,
            StringComparison.Ordinal);
        string attribute = Assert.Throws<GridException>(() => Sample(entries[1])).Message;
        Assert.StartsWith($"{path}:4: covariate soil: ", attribute, StringComparison.Ordinal);
        Assert.Contains("no attribute sort; it has kind, clay", attribute, StringComparison.Ordinal);
        Assert.Equal("loam", Sample(entries[2]).Label);
        Assert.Equal((21.5, SampleStatus.Sampled), (Sample(entries[3]).Sample.Value, Sample(entries[3]).Sample.Status));

        static LayerSample Sample(CatalogueEntry entry) => entry.Made.Layers[0].Sample([new GeoPoint(1, 1)], [null])[0];
    }

    private static void Refused(string catalogue, int line, string sentence)
    {
        using TestFolder folder = new();
        Refused(folder, catalogue, line, sentence);
    }

    private static void Refused(TestFolder folder, string catalogue, int line, string sentence)
    {
        string path = folder.Write("grids.yaml", catalogue);
        string message = Assert.Throws<GridException>(() => GridCatalogue.Load(path)).Message;
        Assert.True(message.StartsWith($"{path}:{line}: ", StringComparison.Ordinal)
            && message.Contains(sentence, StringComparison.Ordinal), message);
    }
}
