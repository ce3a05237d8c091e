using NetTopologySuite.Geometries;

namespace DecayAtlas.Prediction.Tests.Siting;

/// <summary>Places proposed on the map of an invented island: where they may lie, where not, and what is told of neighbours.</summary>
public sealed class NextSitesTests : IClassFixture<NextSitesTests.Island>
{
    private static readonly SiteNoise Noise = new(0.002, 0.001);

    private readonly Island _island;

    public NextSitesTests(Island island) => _island = island;

    [Fact]
    public void Places_lie_in_the_region_on_land_and_apart_and_the_mean_gets_surer()
    {
        SitedRegion east = new("east", Box(11.5, 50, 13, 53));
        SitePlan plan = Plan([east], new(6, Noise) { ApartMetres = 8000 });
        Assert.Equal(6, plan.Sites.Count);
        Assert.All(plan.Sites, s => Assert.True(s.Place.LongitudeDegrees > 11.5 && s.RatePerDay > 0 && s.IsApplicable));
        Assert.All(plan.Sites.SelectMany((a, i) => plan.Sites.Take(i).Select(b => a.Place.GroundDistanceMetres(b.Place))),
            d => Assert.True(d >= 8000));
        Assert.Equal(Enumerable.Range(0, 7), plan.Steps.Select(s => s.Sites));
        Assert.Equal(plan.Now.Sum, plan.Steps[0].Chosen, 1e-12);
        Assert.True(plan.Steps[^1].Chosen < plan.Now.Sum && plan.Steps[^1].Chosen >= plan.Now.Floor);
    }

    [Fact]
    public void The_mean_is_as_sure_now_as_the_sums_over_regions_have_it()
    {
        string polygons = _island.Write("east.geojson", Feature("east", 11.5, 50, 13, 53));
        RegionSet set = RegionSet.Read(polygons);
        RegionRow row = Assert.Single(RegionSummary.Of(_island.Map, set, _island.Model, _island.At));
        SitePlan plan = Plan([new("east", set.Regions[0].Shape)], new(2, Noise));
        Assert.Equal(Math.Log(row.MeanUpperRatePerDay!.Value / row.MeanRatePerDay!.Value), plan.Now.Sum, 1e-9);
    }

    [Fact]
    public void No_place_lies_in_a_cell_that_what_is_to_be_avoided_touches_and_it_is_counted_by_name()
    {
        RegionSet reserve = RegionSet.Read(_island.Write("reserve.geojson", Feature("reserve", 11, 50, 11.8, 53)));
        SitePlan plan = Plan([new("all", null)], new(10, Noise) { Avoid = reserve });
        Geometry shape = reserve.Regions[0].Shape;
        // half a cell is 0.005 degrees
        Assert.All(plan.Sites, s => Assert.True(shape.Distance(new Point(s.Place.LongitudeDegrees, s.Place.LatitudeDegrees)) >= 0.0049));
        Assert.True(plan.Tally.Avoided["reserve"] > 50);
        Assert.Equal(plan.Tally.Squares, plan.Tally.Asked + plan.Tally.OutsideApplicability + plan.Tally.NearSites
            + plan.Tally.Avoided.Values.Sum());
        Assert.Equal("reserve", Assert.Single(plan.Tally.Avoided).Key);
    }

    [Fact]
    public void Where_all_is_to_be_avoided_or_near_a_site_one_sentence_says_so()
    {
        RegionSet all = RegionSet.Read(_island.Write("everything.geojson", Feature("park", 5, 45, 20, 60)));
        Assert.Contains("in what is to be avoided ('park'", Assert.Throws<PredictionException>(
            () => Plan([new("all", null)], new(3, Noise) { Avoid = all })).Message, StringComparison.Ordinal);
        Assert.Contains("nearer than 1000 km to a site", Assert.Throws<PredictionException>(
            () => Plan([new("all", null)], new(3, Noise) { ApartMetres = 1e6, Existing = [new(new(12, 51), false)] })).Message,
            StringComparison.Ordinal);
        Assert.Contains("Region 'sea' holds no cell", Assert.Throws<PredictionException>(
            () => Plan([new("sea", Box(10.001, 50.001, 10.02, 50.02))], new(3, Noise))).Message, StringComparison.Ordinal);
    }

    /// <summary>Whoever knows the published centre of a hidden site's cell learns nothing more from what is proposed.</summary>
    [Fact]
    public void A_hidden_site_is_told_by_its_tenth_of_a_degree_alone()
    {
        SitePlan without = Plan([new("all", null)], new(5, Noise));
        GeoPoint first = without.Sites[0].Place;
        GeoPoint centre = new(Math.Floor(10 * first.LongitudeDegrees) / 10 + 0.05, Math.Floor(10 * first.LatitudeDegrees) / 10 + 0.05);
        SitePlan with = Plan([new("all", null)], new(5, Noise) { Existing = [new(centre, true)] });
        Assert.Equal(without.Sites.Select(s => s.Place), with.Sites.Select(s => s.Place));
        Assert.True(with.Sites[0].IsHiddenSiteNear);
        Assert.All(with.Sites, s => Assert.Null(s.NearestSiteMetres));
        SitePlan told = Plan([new("all", null)], new(5, Noise) { Existing = [new(first, false)], ApartMetres = 5000 });
        Assert.All(told.Sites, s => Assert.Equal(s.Place.GroundDistanceMetres(first), s.NearestSiteMetres!.Value, 1e-3));
        Assert.All(told.Sites, s => Assert.True(s.NearestSiteMetres >= 5000));
    }

    [Fact]
    public void Places_outside_the_area_of_applicability_come_only_where_they_are_asked_for()
    {
        // the heights in the middle, which no site reaches
        SitedRegion heights = new("heights", Box(11.4, 51.3, 11.6, 51.5));
        SitePlan usual = Plan([new("all", null)], new(30, Noise)), there = Plan([heights], new(3, Noise) { IsOutsideToo = true });
        Assert.All(usual.Sites, s => Assert.True(s.IsApplicable));
        Assert.True(usual.Tally.OutsideApplicability > 0);
        Assert.Equal(0, there.Tally.OutsideApplicability);
        Assert.Contains(there.Sites, s => !s.IsApplicable);
    }

    [Fact]
    public void Several_regions_share_one_choice_and_the_same_question_gives_the_same_bytes()
    {
        SitedRegion[] halves = [new("west", Box(10, 50, 11.5, 53)), new("east", Box(11.5, 50, 13, 53))];
        SitePlan one = Plan(halves, new(8, Noise), "one.png"), two = Plan(halves, new(8, Noise), "two.png");
        Assert.Equal(one.Sites.Select(s => s.Place), two.Sites.Select(s => s.Place));
        Assert.Equal(one.Steps, two.Steps);
        Assert.Equal(["east", "west"], one.Sites.Select(s => s.Region).Distinct().Order());
        Assert.Equal(File.ReadAllBytes(_island.Invented.Of("one.png")), File.ReadAllBytes(_island.Invented.Of("two.png")));
    }

    /// <summary>k varies over half a degree by waves that no covariate tells; the map has them, and so has what is told of
    /// places.</summary>
    [Fact]
    public void Under_kriging_k_is_told_with_its_field_as_the_map_has_it()
    {
        TrainingSet plain = _island.Invented.Training;
        using RateModel model = ModelTrainer.TrainOf(plain with
        {
            Rows = [.. plain.Rows.Select(r => r with
            {
                Target = r.Target + 0.4 * Math.Sin(6 * r.LongitudeDegrees) * Math.Cos(6 * r.LatitudeDegrees),
            })],
        }, new() { ImportanceRepeats = 1, Trees = 20, SettingsTried = 1, BlockDegrees = 0.5 },
            new(new MeanCandidate(), null, [new KrigingCandidate()], []));
        string map = _island.Invented.Of("kriged.tif");
        RateMap.Make(model, _island.Invented.Entries, new("An invented island", []), new(map, null, _island.Invented.Of("kriged.png")));
        SitePlan plan = NextSites.Of(map, model, [new("all", null)], new(8, Noise), _island.At, _island.Invented.Of("kriged-sites.png"));
        GeoPoint[] places = [.. plan.Sites.Select(s => s.Place)];
        Same(1, [.. plan.Sites.Select(s => s.RatePerDay)]);
        Same(2, [.. plan.Sites.Select(s => s.LowerPerDay)]);
        double[] field = [.. plan.Sites.Select(s => Math.Log(s.RatePerDay)
            - model.Predictor.Predict([.. s.Covariates.Select(x => (float)x)], null))];
        Assert.True(field.Max(Math.Abs) > 0.1, $"{field.Max(Math.Abs)}");

        void Same(int band, double[] told)
        {
            using Grid grid = GridFile.Open(map, new(Band: band));
            IReadOnlyList<GridSample> mapped = GridSampler.Sample(grid, places, SamplingRule.Nearest, null);
            Assert.All(mapped.Zip(told), x => Assert.Equal(x.First.Value!.Value, x.Second, 1e-5 * x.Second));
        }
    }

    private SitePlan Plan(IReadOnlyList<SitedRegion> regions, SiteRequest request, string picture = "sites.png") =>
        NextSites.Of(_island.Map, _island.Model, regions, request, _island.At, _island.Invented.Of(picture));

    private static Polygon Box(double west, double south, double east, double north) => new(new LinearRing(
        [new(west, south), new(east, south), new(east, north), new(west, north), new(west, south)]));

    private static string Feature(string name, double west, double south, double east, double north) =>
        $$"""{"type":"Feature","properties":{"name":"{{name}}"},"geometry":{"type":"Polygon","coordinates":[["""
        + Invariant($"[{west},{south}],[{east},{south}],[{east},{north}],[{west},{north}],[{west},{south}]") + "]]}}";

    public sealed class Island : IDisposable
    {
        public Island()
        {
            Model = ModelTrainer.TrainOf(Invented.Training, new() { ImportanceRepeats = 1, Trees = 20, SettingsTried = 1 },
                new(new MeanCandidate(), null, [new CurvedCandidate()], []));
            RateMap.Make(Model, Invented.Entries, new("An invented island", []), new(Map, null, Invented.Of("map.png")));
        }

        internal InventedIsland Invented { get; } = new(300, 280, new(10, 50, 13, 52.8));

        internal RateModel Model { get; }

        public string Map => Invented.Of("map.tif");

        public double[][] At(IReadOnlyList<GeoPoint> points) => [.. Invented.Entries.Select(e =>
        {
            using Grid grid = e.Made.Layers[0].Open();
            return GridSampler.Sample(grid, points, e.Rule, null).Select(s => s.Value ?? double.NaN).ToArray();
        })];

        public string Write(string name, string text)
        {
            File.WriteAllText(Invented.Of(name), text);
            return Invented.Of(name);
        }

        public void Dispose()
        {
            Model.Dispose();
            Invented.Dispose();
        }
    }
}
