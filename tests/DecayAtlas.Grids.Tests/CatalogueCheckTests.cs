using System.Globalization;

namespace DecayAtlas.Grids.Tests;

/// <summary>The mistakes that catalogues have, each planted once.</summary>
public sealed class CatalogueCheckTests : IDisposable
{
    private readonly TestFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    // unit, words, lowest and highest value, what is said (null: nothing)
    [InlineData("degC", "Mean air temperature", -12, 28, null)]
    [InlineData("degC", "Mean air temperature", -120, 280, "tenths of a degree", "scale: 0.1")]
    [InlineData("°C", "Mean air temperature", 251, 303, "look like kelvin", "offset: -273.15")]
    [InlineData("K", "Mean air temperature", -12, 28, "degrees Celsius", "unit: degC")]
    [InlineData("K", "Mean air temperature", 251, 303, null)]
    [InlineData("degC", "Annual temperature range", 5, 700, null)]
    [InlineData("mm/yr", "Mean annual precipitation", 20, 3400, null)]
    [InlineData("mm/yr", "Mean annual precipitation", 0.1, 3.4, "look like metres", "scale: 1000")]
    [InlineData("mm", "Rain of July", 1e-7, 2e-4, "kg m-2 s-1", "scale:")]
    [InlineData("m", "Precipitation", 20, 3400, "millimetres", "unit: mm")]
    [InlineData("mm", "Rain of July", -50, 400, "below 0", "missing value")]
    [InlineData("pH", "Soil acidity", 4.1, 8.8, null)]
    [InlineData("pH", "Soil acidity", 41, 88, "pH x 10", "scale: 0.1")]
    [InlineData("%", "Clay", 0.05, 0.6, "fractions", "scale: 100")]
    [InlineData("%", "Clay", 50, 600, "g/kg", "scale: 0.1")]
    [InlineData("%", "Clay", 3, 61, null)]
    [InlineData("1", "Sand fraction", 3, 61, "look like percent", "scale: 0.01")]
    [InlineData("m", "Elevation", -20, 29000, "heights on land", "unit")]
    [InlineData("g/cm3", "Bulk density", 80, 170, "hundredths", "scale: 0.01")]
    [InlineData("g/cm3", "Bulk density", 800, 1700, "kg/m3", "scale: 0.001")]
    public void Values_that_cannot_be_in_their_unit_are_told_with_the_mend(string unit, string title, double low, double high,
        string? said, string? mend = null)
    {
        Scene("x.tif", i => (float)(low + (high - low) * (i % 97) / 96) + 0.0001f * (i % 7));
        IReadOnlyList<CatalogueFinding> findings =
            Check($"- {{ name: x, title: {title}, file: x.tif, unit: \"{unit}\", rule: bilinear, kind: continuous }}");
        if (said is null)
        {
            Assert.Empty(findings);
            return;
        }

        CatalogueFinding found = Assert.Single(findings);
        Assert.Equal("suspicious-values", found.Code);
        Assert.Contains(said, found.Sentence, StringComparison.Ordinal);
        Assert.Contains(mend!, found.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_mend_says_mends_it()
    {
        Scene("x.tif", i => 2510 + i % 520);
        Assert.Contains("tenths of a kelvin; write scale: 0.1",
            Assert.Single(Check("- { name: x, title: Air temperature, file: x.tif, unit: K, rule: bilinear, kind: continuous }")).Sentence,
            StringComparison.Ordinal);
        Assert.Contains("look like kelvin",
            Assert.Single(
                Check("- { name: x, title: Air temperature, file: x.tif, unit: degC, scale: 0.1, rule: bilinear, kind: continuous }")).Sentence, StringComparison.Ordinal);
        Assert.Empty(
            Check("- { name: x, title: Air temperature, file: x.tif, unit: degC, scale: 0.1, offset: -273.15, rule: bilinear, kind: "
            + "continuous }"));
    }

    [Theory]
    [InlineData(-9999)]
    [InlineData(-32768)]
    [InlineData(1e20)]
    public void A_missing_value_that_nobody_declared_is_told(double fill)
    {
        Scene("x.tif", i => i % 3 == 0 ? (float)fill : 20 + i % 11 + 0.5f);
        CatalogueFinding found =
            Assert.Single(Check("- { name: x, title: Clay, file: x.tif, unit: \"%\", rule: nearest, kind: continuous }"));
        Assert.Equal("undeclared-missing", found.Code);
        Assert.Contains("write missing: " + fill.ToString("G7", CultureInfo.InvariantCulture), found.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Classes_that_would_be_interpolated_and_quantities_that_would_not_are_told()
    {
        Scene("classes.tif", i => i % 9);
        Scene("smooth.tif", i => i * 0.37f);
        IReadOnlyList<CatalogueFinding> findings = Check(
            "- { name: cover, title: Land cover, file: classes.tif, unit: \"1\", rule: bilinear, kind: continuous }",
            "- { name: smooth, title: Moisture, file: smooth.tif, unit: \"\", rule: nearest, kind: class }");
        Assert.Equal(["looks-like-classes", "looks-continuous"], findings.Select(f => f.Code));
        Assert.Contains("kind class and has rule",
            Assert.Single(Check("- { name: c, title: C, file: classes.tif, unit: \"\", rule: bilinear, kind: class }")).Sentence,
            StringComparison.Ordinal);
        // A table of colours says classes whatever the numbers.
        File.Copy(TestFolder.Data("landcover_albers.tif"), _folder.File("l.tif"));
        Assert.Contains("table of colours", Check("- { name: l, title: L, file: l.tif, unit: \"1\", rule: bilinear, kind: continuous }")
            .Single(f => f.Code == "looks-like-classes").Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Units_systems_files_months_and_twins_are_told_each_with_its_covariate()
    {
        File.Copy(TestFolder.Data("bcsd_obs_1999.nc"), _folder.File("c.nc"));
        _folder.Write("p.asc", "ncols 2\nnrows 1\nxllcorner 5\nyllcorner 50\ncellsize 1\n1 2\n");
        _folder.Write("broken.tif", "II*\0no");
        IReadOnlyList<CatalogueFinding> findings = Check(
            "- { name: rain_01, title: Rain, file: c.nc, variable: pr, select: { time: 1999-01 }, unit: mm, rule: bilinear, kind: "
            + "continuous }",
            "- { name: rain_02, title: Rain, file: c.nc, variable: pr, select: { time: 1999-02 }, unit: mm, rule: bilinear, kind: "
            + "continuous }",
            "- { name: again, title: Rain, file: c.nc, variable: pr, select: { time: 1999-02 }, unit: \"\", rule: bilinear, kind: "
            + "continuous }",
            "- { name: warm, title: Warmth, file: c.nc, variable: tas, select: { time: 1999-07 }, unit: K, rule: bilinear, kind: "
            + "continuous }",
            "- { name: p, title: P, file: p.asc, unit: \"1\", rule: nearest, kind: continuous }",
            "- { name: b, title: B, file: broken.tif, unit: \"1\", rule: nearest, kind: continuous }",
            "- { name: gone, title: G, file: gone.tif, unit: \"1\", rule: nearest, kind: continuous }");
        Assert.Equal(
            ["unit-missing:again", "same-data:again", "unit-differs:warm", "suspicious-values:warm", "crs-missing:p", "unreadable:b",
            "unreadable:gone", "months-incomplete:rain_01"],
            findings.Select(f => $"{f.Code}:{f.Covariate}"));
        Assert.Contains("months 3, 4, 5, 6, 7, 8, 9, 10, 11, 12", findings[^1].Sentence, StringComparison.Ordinal);
        Assert.Contains("the file says mm/m", findings[0].Sentence, StringComparison.Ordinal);
        Assert.All(findings, f => Assert.EndsWith(".", f.Sentence, StringComparison.Ordinal));
    }

    [Fact]
    public void Sites_that_a_grid_misses_are_counted_and_those_that_all_miss_told_once()
    {
        Scene("a.tif", i => i % 5 == 0 ? float.NaN : 20.5f + i % 3);
        Scene("b.tif", i => 20.5f + i % 7, west: 40);
        string catalogue = Catalogue(
            "- { name: a, title: A, file: a.tif, unit: \"%\", rule: nearest, kind: continuous }",
            "- { name: b, title: B, file: b.tif, unit: \"%\", rule: nearest, kind: continuous }");
        GeoPoint[] sites = [new(10.5, 49.5), new(40.5, 49.5), new(100, 0), new(double.NaN, 0)];
        Assert.Equal(
            ["a: 1 of 4 sites", "b: 1 of 4 sites", ": 2 of 4 sites"],
            CatalogueCheck.Of(catalogue, sites).Where(f => f.Sentence.Contains("outside", StringComparison.Ordinal))
                .Select(f => $"{f.Covariate}: {string.Join(' ', f.Sentence.Split(' ').Take(4))}"));
    }

    [Fact]
    public void Layers_of_soil_months_and_series_are_looked_at_and_one_mistake_told_once()
    {
        File.Copy(TestFolder.Data("bcsd_obs_1999.nc"), _folder.File("c.nc"));
        Scene("top.tif", i => 41 + i % 40 + 0.25f);
        Scene("low.tif", i => 44 + i % 40 + 0.25f);
        Assert.Equal(
            ["suspicious-values:ph", "unreadable:gone"],
            Check(
                "- { name: ph, title: Soil pH, unit: pH, rule: nearest, kind: continuous, layers: [ { from_cm: 0, to_cm: 5, file: "
                + "top.tif }, { from_cm: 5, to_cm: 15, file: low.tif } ] }",
                "- { name: gone, title: Clay, unit: \"%\", rule: nearest, kind: continuous, layers: [ { from_cm: 0, to_cm: 5, file: "
                + "no.tif }, { from_cm: 5, to_cm: 15, file: none.tif } ] }",
                "- { name: warm, title: Air temperature, file: c.nc, variable: tas, unit: degC, rule: nearest, kind: continuous, "
                + "series: steps, statistic: mean }").Select(f => $"{f.Code}:{f.Covariate}"));
    }

    private IReadOnlyList<CatalogueFinding> Check(params string[] entries) => CatalogueCheck.Of(Catalogue(entries), []);

    private string Catalogue(params string[] entries) =>
        _folder.Write("grids.yaml", "version: 1\ngrids:\n" + string.Concat(entries.Select(e => $"  {e}\n")));

    private void Scene(string name, Func<int, float> valueOf, double west = 10) => GeoTiffWriter.WriteSingle(
        _folder.File(name), new GridLattice(120, 120, west, 50, 0.1, 0.1), [.. Enumerable.Range(0, 120 * 120).Select(valueOf)],
        new GeoTiffBand("x", ""));
}
