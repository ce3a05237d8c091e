namespace DecayAtlas.Grids.Tests;

public sealed class GridCatalogueTests
{
    private const string Good = """
        version: 1
        grids:
          - name: july_rain
            title: Precipitation of July
            file: grids/rain.tif
            unit: mm
            rule: bilinear
            kind: continuous
            valid_within_m: 25000
            scale: 0.5
            offset: -3
            missing: -9999
            source: invented
          - name: cover
            title: Land cover
            file: cover.asc
            band: 1
            unit: ""
            rule: nearest
            kind: class
            crs: EPSG:4326
        """;

    [Fact]
    public void A_step_of_a_NetCDF_variable_is_chosen_in_the_catalogue()
    {
        using TestFolder folder = new();
        string path = folder.Write("grids.yaml", $$"""
            version: 1
            grids:
              - { name: july_warmth, title: July, file: {{TestFolder.Data(
                  "bcsd_obs_1999_nc4.nc")}}, variable: tas, select: { time: 1999-07 }, unit: degC, rule: bilinear, kind: continuous }
              - { name: seventh, title: July, file: {{TestFolder.Data(
                  "bcsd_obs_1999.nc")}}, variable: tas, select: { time: "#7" }, unit: degC, rule: bilinear, kind: continuous }
            """);
        double?[] values = [.. GridCatalogue.Load(path).Entries.Select(entry =>
        {
            using Grid grid = entry.Made.Layers[0].Open();
            return GridSampler.Sample(grid, [new GeoPoint(-80.36536, 36.81145)], SamplingRule.Nearest, null)[0].Value;
        })];
        Assert.NotNull(values[0]);
        Assert.Equal(values[0], values[1]);
    }

    [Fact]
    public void Every_key_arrives_and_paths_start_at_the_catalogue()
    {
        using TestFolder folder = new();
        IReadOnlyList<CatalogueEntry> entries = GridCatalogue.Load(folder.Write("grids.yaml", Good)).Entries;
        Assert.Equal(
            [
                new CatalogueEntry("july_rain", "Precipitation of July", Path.Combine(folder.Root, "grids/rain.tif"), 1, "mm",
                    SamplingRule.Bilinear, false, 25000, 0.5, -3, -9999, "invented"),
                new CatalogueEntry("cover", "Land cover", folder.File("cover.asc"), 1, "", SamplingRule.Nearest, true, null, null, null,
                    null, null, "EPSG:4326"),
            ],
            entries.Select(entry => entry with { DeclaredAt = "" }));
        Assert.Equal([3, 14],
            entries.Select(entry =>
                int.Parse(entry.DeclaredAt[(entry.DeclaredAt.LastIndexOf(':') + 1)..], System.Globalization.CultureInfo.InvariantCulture)));
        GridException e = Assert.Throws<GridException>(() => entries[0].Made.Layers[0].Open());
        Assert.Contains("july_rain", e.Message, StringComparison.Ordinal);
        folder.Write("cover.asc", "ncols 1\nnrows 1\nxllcorner 0\nyllcorner 0\ncellsize 1\n7\n");
        using Grid grid = entries[1].Made.Layers[0].Open();
        Assert.Equal(7, grid.ReadCell(0, 0));
    }

    [Theory]
    [InlineData("rule: bilinear", "rule: cubic", 7, "\"cubic\"", "nearest, bilinear, disc")]
    [InlineData("rule: nearest", "rule: bilinear", 19, "cover", "never interpolated")]
    [InlineData("rule: nearest", "rule: disc", 19, "cover", "never interpolated")]
    [InlineData("rule: bilinear", "rule: mode", 7, "july_rain", "which is for classes")]
    [InlineData("name: cover", "name: july_rain", 14, "july_rain", "taken")]
    [InlineData("scale: 0.5", "scale: 0", 10, "scale 0", "factor")]
    [InlineData("scale: 0.5", "scale: 0,5", 10, "\"0,5\"", "a number")]
    [InlineData("valid_within_m: 25000", "valid_within_m: -1", 9, "-1", "metres above 0")]
    [InlineData("    band: 1\n", "    band: 0\n", 17, "found 0", "whole number from 1")]
    [InlineData("    band: 1\n", "    bnad: 1\n", 17, "bnad", "did you mean band?")]
    [InlineData("name: cover", "name: Land Cover", 14, "\"Land Cover\"", "lower-case")]
    [InlineData("version: 1", "version: 2", 1, "found 2", "1")]
    [InlineData("    unit: mm\n", "", 3, "unit", "expected")]
    [InlineData("    file: cover.asc\n", "", 14, "has no file", "layers, months, series, derived or polygons")]
    [InlineData("    rule: nearest\n", "", 14, "has no rule", "nearest, bilinear, disc or mode")]
    [InlineData("    kind: class\n", "    kind: class\n    statistic: mean\n", 21, "says nothing in an entry of one grid",
        "months: or series:")]
    [InlineData("title: Land cover", "title: [a, b]", 15, "a list", "in words")]
    [InlineData("title: Land cover", "title: [a, b", 15, "not YAML", "")]
    [InlineData("kind: class", "kind: class\n    kind: class", 0, "not YAML", "")]
    public void A_mistake_is_told_with_its_line_what_was_found_and_what_was_expected(
        string right, string wrong, int line, string found, string expected)
    {
        using TestFolder folder = new();
        Assert.Contains(right, Good, StringComparison.Ordinal);
        string path = folder.Write("grids.yaml", Good.Replace(right, wrong, StringComparison.Ordinal));
        GridException e = Assert.Throws<GridException>(() => GridCatalogue.Load(path));
        Assert.StartsWith(line == 0 ? path : $"{path}:{line}: ", e.Message, StringComparison.Ordinal);
        Assert.Contains(found, e.Message, StringComparison.Ordinal);
        Assert.True(e.Message.Contains(expected, StringComparison.Ordinal), e.Message);
    }

    [Theory]
    [InlineData("")]
    [InlineData("just text")]
    [InlineData("version: 1\ngrids: []")]
    [InlineData("a: 1\n---\nb: 2")]
    [InlineData("? [a]\n: 1")]
    [InlineData("a: &x [*x]")]
    public void A_file_of_another_shape_gets_a_sentence(string content)
    {
        using TestFolder folder = new();
        string path = folder.Write("grids.yaml", content);
        Assert.StartsWith(path, Assert.Throws<GridException>(() => GridCatalogue.Load(path)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Changed_letters_never_give_another_exception()
    {
        using TestFolder folder = new();
        Random random = new(11);
        const string Letters = "[]{}:-,'\"&*!|>%@`#?\t\n 0aé\0";
        int refused = 0;
        for (int trial = 0; trial < 400; trial++)
        {
            char[] text = Good.ToCharArray();
            for (int changes = random.Next(1, 5); changes > 0; changes--)
                text[random.Next(text.Length)] = Letters[random.Next(Letters.Length)];

            string path = folder.Write("grids.yaml", new string(text));
            try
            {
                GridCatalogue.Load(path);
            }
            catch (GridException e)
            {
                refused++;
                Assert.StartsWith(path, e.Message, StringComparison.Ordinal);
            }
        }

        Assert.InRange(refused, 130, 400);
    }

    [Fact]
    public void An_absent_catalogue_gets_a_sentence() =>
        Assert.Contains("no such file", Assert.Throws<GridException>(() => GridCatalogue.Load("absent.yaml")).Message,
            StringComparison.Ordinal);
}
