using System.Globalization;
using FsCheck.Xunit;

namespace DecayAtlas.Grids.Tests;

/// <summary>What a bag felt: layers of a catalogue entry, weighted to the days and the depth of a burial.</summary>
public sealed class CovariateMakingTests
{
    private static readonly BurialConditions Summer = new(new ExposureDays(new DateOnly(1999, 5, 20), new DateOnly(1999, 8, 18)), 8);
    private static readonly GeoPoint Carolina = new(-79.9375, 35.5625);

    /// <summary>
    /// The values of that cell from May to August 1999 as netCDF4-python 1.6 reads them: tas 19.485807, 23.113832, 26.390968, 26.23613
    /// degC; pr 28.44, 85.26, 72.17, 120.82 mm.
    /// </summary>
    [Theory]
    [InlineData("bcsd_obs_1999.nc", "series: steps")]
    [InlineData("bcsd_obs_1999_nc4.nc", "series: steps")]
    [InlineData("bcsd_obs_1999.nc", "months: steps")]
    public void A_bag_in_Carolina_felt_the_days_of_each_month_of_a_published_series(string file, string how)
    {
        using TestFolder folder = new();
        IReadOnlyList<CatalogueEntry> entries = GridCatalogue.Load(folder.Write("grids.yaml", $$"""
            version: 1
            grids:
              - { name: warmth, title: Warmth, file: {{TestFolder.Data(
                  file)}}, variable: tas, {{how}}, statistic: mean, unit: degC, rule: nearest, kind: continuous }
              - { name: rain, title: Rain, file: {{TestFolder.Data(
                  file)}}, variable: pr, {{how}}, statistic: sum, unit: mm, rule: nearest, kind: continuous }
              - { name: degree_days, title: Degree-days, file: {{TestFolder.Data(
                  file)}}, variable: tas, {{how}}, statistic: degree_days, base: 20, unit: degC d, rule: nearest, kind: continuous }
              - { name: response, title: Response, derived: temperature_response, inputs: { temperature: warmth }, unit: "", kind: continuous }
            """)).Entries;
        Assert.All(entries, e => Assert.True(e.DependsOnBurial));
        Assert.Equal((12 * 19.485807 + 30 * 23.113832 + 31 * 26.390968 + 17 * 26.23613) / 90, Felt(entries[0]), 1e-5);
        Assert.Equal(28.44 * 12 / 31 + 85.26 + 72.17 + 120.82 * 17 / 31, Felt(entries[1]), 1e-4);
        Assert.Equal(30 * 3.113832 + 31 * 6.390968 + 17 * 6.23613, Felt(entries[2]), 1e-3);
        double[] response = [
            .. new[] { 19.485807, 23.113832, 26.390968, 26.23613 }.Select(t => Math.Exp(308.56 * (1 / 56.02 - 1 / (t + 46.02))))];
        Assert.Equal((12 * response[0] + 30 * response[1] + 31 * response[2] + 17 * response[3]) / 90, Felt(entries[3]), 1e-5);
        Assert.Contains("Lloyd and Taylor", entries[3].Made.Formula, StringComparison.Ordinal);
        Assert.Contains("temperature warmth", entries[3].Made.Formula, StringComparison.Ordinal);
        Assert.EndsWith("x 12 d; "
            + (how == "series: steps" ? "1999-06-01 x 30 d; 1999-07-01 x 31 d; 1999-08-01" : "month 6 x 30 d; month 7 x 31 d; month 8")
            + " x 17 d",
            entries[3].RecipeFor(Summer).Explanation(), StringComparison.Ordinal);
        string explanation = entries[0].RecipeFor(Summer).Explanation()!;
        Assert.Contains("x 0.133333", explanation, StringComparison.Ordinal);
        Assert.StartsWith(how == "series: steps" ? "1999-05-01 x" : "month 5 x", explanation, StringComparison.Ordinal);
    }

    [Fact]
    public void A_series_that_ends_before_the_bag_was_retrieved_gives_nothing_and_says_how_much_it_covers()
    {
        using TestFolder folder = new();
        CatalogueEntry entry = GridCatalogue.Load(folder.Write("grids.yaml", $$"""
            version: 1
            grids:
              - { name: warmth, title: Warmth, file: {{TestFolder.Data(
                  "bcsd_obs_1999.nc")}}, variable: tas, series: steps, statistic: mean, unit: degC, rule: nearest, kind: continuous }
            """)).Entries[0];
        CovariateRecipe late =
            entry.RecipeFor(new BurialConditions(new ExposureDays(new DateOnly(1999, 12, 2), new DateOnly(2000, 1, 31)), 8));
        Assert.Equal((RecipeGap.NotCovered, 30 / 60.0), (late.Gap, late.CoveredShare));
        Assert.Equal(RecipeGap.NotCovered,
            entry.RecipeFor(new BurialConditions(new ExposureDays(new DateOnly(2020, 5, 1), new DateOnly(2020, 8, 1)), 8)).Gap);
        Assert.Equal(RecipeGap.NoDates, entry.RecipeFor(new BurialConditions(null, 8)).Gap);
        Assert.Equal(RecipeGap.None,
            entry.RecipeFor(new BurialConditions(new ExposureDays(new DateOnly(1999, 10, 1), new DateOnly(2000, 1, 1)), null)).Gap);
    }

    [Property]
    public bool Weights_of_a_mean_sum_to_one_and_a_bag_within_one_month_takes_that_month(ushort start, ushort length)
    {
        DateOnly buried = new DateOnly(2001, 1, 1).AddDays(start % 9000);
        MonthlyClimatology months = new([.. Enumerable.Range(1, 12).Select(Layer)], TimeStatistic.Mean, null, TimeSpanned.Exposure);
        CovariateRecipe any = months.RecipeFor(new BurialConditions(new ExposureDays(buried, buried.AddDays(1 + length % 800)), null));
        DateOnly first = new(buried.Year, buried.Month, 1);
        CovariateRecipe whole = months.RecipeFor(new BurialConditions(new ExposureDays(first, first.AddMonths(1)), null));
        return Math.Abs(any.Weights.Sum() - 1) < 1e-12 && whole.Layers.Single().Name == $"month {buried.Month}"
            && whole.Weights.Single() == 1;
    }

    [Property]
    public bool Weights_of_depths_sum_to_one_and_the_order_of_the_layers_changes_nothing(byte depth, byte height, byte seed)
    {
        using TestFolder folder = new();
        string[] layers = ["{ from_cm: 0, to_cm: 5, band: 1 }", "{ from_cm: 5, to_cm: 15, band: 2 }",
            "{ from_cm: 15, to_cm: 30, band: 3 }", "{ from_cm: 30, to_cm: 400, band: 4 }"];
        CovariateRecipe[] recipes = [.. new[] { layers, Shuffled(layers, seed) }.Select(l => GridCatalogue.Load(folder.Write("g.yaml", $$"""
            version: 1
            grids:
              - { name: carbon, title: Carbon, file: soil.tif, unit: g/kg, rule: nearest, kind: continuous, layers: [{{string.Join(", ",
                  l)}}] }
            """)).Entries[0].RecipeFor(new BurialConditions(null, depth, height)))];
        return Math.Abs(recipes[0].Weights.Sum() - 1) < 1e-12
            && recipes[0].Weights.SequenceEqual(recipes[1].Weights)
            && recipes[0].Layers.Select(l => l.Options.Band).SequenceEqual(recipes[1].Layers.Select(l => l.Options.Band));
    }

    [Fact]
    public void A_bag_fills_half_its_height_above_and_below_its_depth_and_ends_at_the_surface()
    {
        Assert.Equal((5.5, 10.5), Summer.Interval);
        Assert.Equal((0, 3.5), new BurialConditions(null, 1).Interval);
        Assert.Equal((8, 8), new BurialConditions(null, 8, 0).Interval);
        Assert.Null(BurialConditions.None.Interval);
        SoilProfile profile = new([new SoilLayer(0, 5), new SoilLayer(5, 15)], [Layer(1), Layer(2)]);
        Assert.Equal(RecipeGap.NoDepth, profile.RecipeFor(BurialConditions.None).Gap);
        Assert.Equal([0.3, 0.7], profile.RecipeFor(new BurialConditions(null, 6)).Weights.Select(w => Math.Round(w, 12)));
        CovariateRecipe low = profile.RecipeFor(new BurialConditions(null, 14));
        Assert.Equal((RecipeGap.None, 0.7), (low.Gap, Math.Round(low.CoveredShare, 12)));
        Assert.Equal(RecipeGap.NotCovered, profile.RecipeFor(new BurialConditions(null, 16)).Gap);
    }

    [Fact]
    public void A_missing_layer_makes_the_value_missing_and_one_that_does_not_count_does_not()
    {
        MonthlyClimatology months = new([.. Enumerable.Range(1, 12).Select(Layer)], TimeStatistic.DegreeDays, 5, TimeSpanned.Exposure);
        CovariateRecipe recipe = months.RecipeFor(Summer);
        Assert.Equal(["month 5", "month 6", "month 7", "month 8"], recipe.Layers.Select(l => l.Name));
        Assert.Equal(12 * 0 + 30 * 1 + 31 * 2 + 17 * 3, recipe.Combine(0, [4, 6, 7, 8]).Number!.Value, 1e-12);
        Assert.Null(recipe.Combine(0, [4, double.NaN, 7, 8]).Number);
    }

    /// <summary>CF conventions 1.11, section 4.4: the calendar noleap has no 29 February, and 360_day has one every year.</summary>
    [Theory]
    [InlineData("standard", null, "2024-02-27 2024-02-28 2024-02-29 2024-03-01")]
    [InlineData("noleap", null, "2024-02-27 2024-02-28 2024-03-01 2024-03-02")]
    [InlineData("360_day", "calendar 360_day", "")]
    public void Days_of_a_calendar_become_days_that_bags_lie_in_the_ground(string calendar, string? refused, string starts)
    {
        using TestFolder folder = new();
        string path = Cube("time", 4)
            .Variable("time", "time", typeof(double), [0, 1, 2, 3], ("units", "days since 2024-02-27"), ("calendar", calendar))
            .Save(folder.File("daily.nc"));
        DatedSeries series = Series(path);
        if (refused is not null)
        {
            Assert.Contains(refused, Assert.Throws<GridException>(() => series.Layers).Message, StringComparison.Ordinal);
            return;
        }

        Assert.Equal(starts.Split(' '), series.Layers.Select(l => l.Name));
        CovariateRecipe leap =
            series.RecipeFor(new BurialConditions(new ExposureDays(new DateOnly(2024, 2, 28), new DateOnly(2024, 3, 2)), null));
        Assert.Equal(calendar == "noleap" ? [2 / 3.0, 1 / 3.0] : [1 / 3.0, 1 / 3.0, 1 / 3.0], leap.Weights);
    }

    [Fact]
    public void Bounds_say_how_long_a_step_lasts_and_without_them_steps_of_eight_days_are_refused()
    {
        using TestFolder folder = new();
        ClassicWriter WithTime(params (string, object)[] more) =>
            Cube("time", 4).Variable("time", "time", typeof(double), [4, 12, 20, 28], [("units", "days since 2024-05-01"), .. more]);
        string bare = WithTime().Save(folder.File("bare.nc"));
        string bound = WithTime(("bounds", "ends")).Dimension("two", 2)
            .Variable("ends", "time two", typeof(double), [0, 8, 8, 16, 16, 24, 24, 32]).Save(folder.File("bound.nc"));
        string twice = WithTime(("bounds", "ends")).Dimension("two", 2)
            .Variable("ends", "time two", typeof(double), [0, 8, 7, 16, 16, 24, 24, 32]).Save(folder.File("twice.nc"));
        Assert.Contains("neither days nor months", Assert.Throws<GridException>(() => Series(bare).Layers).Message,
            StringComparison.Ordinal);
        Assert.Contains("share days from 2024-05-08", Assert.Throws<GridException>(() => Series(twice).Layers).Message,
            StringComparison.Ordinal);
        CovariateRecipe recipe = Series(bound)
            .RecipeFor(new BurialConditions(new ExposureDays(new DateOnly(2024, 5, 5), new DateOnly(2024, 5, 21)), null));
        Assert.Equal([4 / 16.0, 8 / 16.0, 4 / 16.0], recipe.Weights);
        double[] values = [.. recipe.Layers.Select(l => l.Sample([new GeoPoint(0.5, 0.5)], [null])[0].Sample.Value!.Value)];
        Assert.Equal([0, 100, 200], values);
    }

    [Fact]
    public void A_climatology_may_count_its_months_by_number()
    {
        using TestFolder folder = new();
        Cube("month", 12).Variable("month", "month", typeof(int), [.. Enumerable.Range(1, 12).Select(m => (double)m)])
            .Save(folder.File("normals.nc"));
        CatalogueEntry entry = GridCatalogue.Load(folder.Write("g.yaml", """
            version: 1
            grids:
              - { name: warmth, title: Warmth, file: normals.nc, months: steps, dimension: month, statistic: mean, over: year, unit: degC, rule: nearest, kind: continuous, crs: EPSG:4326 }
            """)).Entries[0];
        Assert.False(entry.DependsOnBurial);
        double byHand = Enumerable.Range(0, 12).Sum(m => m * 100.0 * DateTime.DaysInMonth(2001, m + 1)) / 365;
        Assert.Equal(byHand, Felt(entry, new GeoPoint(0.5, 0.5)), 1e-9);
    }

    private static DatedSeries Series(string path) =>
        new(new LayerSource("", path, new GridReadOptions(Crs: "EPSG:4326"), SamplingRule.Nearest, null), TimeStatistic.Mean, null, null);

    /// <summary>A variable of steps x 2 x 2 cells, all of a step 100 x its number from 0.</summary>
    private static ClassicWriter Cube(string dimension, int steps) => new ClassicWriter(1)
        .Dimension(dimension, steps).Dimension("lat", 2).Dimension("lon", 2)
        .Variable("lat", "lat", typeof(double), [0.5, 1.5], ("units", "degrees_north"))
        .Variable("lon", "lon", typeof(double), [0.5, 1.5], ("units", "degrees_east"))
        .Variable("v", $"{dimension} lat lon", typeof(float), [.. Enumerable.Range(0, steps * 4).Select(i => (double)(i / 4 * 100))]);

    private static LayerSource Layer(int n) =>
        new(string.Create(CultureInfo.InvariantCulture, $"month {n}"), "none.tif", new GridReadOptions(n), SamplingRule.Nearest, null);

    private static string[] Shuffled(string[] layers, int seed)
    {
        string[] copy = [.. layers];
        new Random(seed).Shuffle(copy);
        return copy;
    }

    private static double Felt(CatalogueEntry entry, GeoPoint? place = null)
    {
        CovariateRecipe recipe = entry.RecipeFor(Summer);
        double[] values = [.. recipe.Layers.Select(layer => layer.Sample([place ?? Carolina], [null])[0].Sample.Value ?? double.NaN)];
        return recipe.Combine((place ?? Carolina).LatitudeDegrees, values).Number!.Value;
    }
}
