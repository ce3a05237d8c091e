namespace DecayAtlas.EndToEnd;

/// <summary>The demo's model held against what is true of the invented islands, at places it never saw (scenario/truth/README.md says what
/// is true).</summary>
public sealed class ModelAgainstTruth(DemoRun demo)
{
    // truth/README.md: a site's own effect on ln k
    private const double SiteSd = 0.12;

    // truth/README.md: warm ground about 39.24 S, 27.18 W, within 0.17 degrees.
    private const double WarmLatitude = -39.24, WarmLongitude = -27.18, WarmRadius = 0.17;

    private sealed record Place(double Longitude, double Latitude, double TrueLnRate, float Predicted, float Lower, float Upper,
        bool Applicable)
    {
        public double FromWarmGround =>
            Math.Sqrt(Math.Pow((Longitude - WarmLongitude) * Math.Cos(WarmLatitude * Math.PI / 180), 2)
                + Math.Pow(Latitude - WarmLatitude, 2));
    }

    private RateModel Model() => RateModel.Load(demo.Workspace.PathOf("atlas/models/current"));

    /// <summary>Every <paramref name="step"/>th cell of the true map in both directions, predicted from the grids.</summary>
    private List<Place> Land(int step)
    {
        using RateModel model = Model();
        using Grid truth = GridFile.Open(demo.Workspace.PathOf("scenario/truth/decay-rate.tif"));
        List<(GeoPoint At, double Rate)> points = new();
        double[] row = new double[truth.LatticeInDegrees.Columns];
        for (int r = 0; r < truth.LatticeInDegrees.Rows; r += step)
        {
            truth.ReadWindow(0, r, row.Length, 1, row);
            for (int c = 0; c < row.Length; c += step)
            {
                if (row[c] > 0)
                    points.Add((truth.LatticeInDegrees.CentreOf(c, r), row[c]));
            }
        }

        IReadOnlyList<CatalogueEntry> catalogue = GridCatalogue.Load(demo.Workspace.PathOf("scenario/grids.yaml")).Entries;
        PredictionBlock block = new(model.Card.Covariates.Count, points.Count);
        for (int c = 0; c < model.Card.Covariates.Count; c++)
        {
            CatalogueEntry entry = catalogue.Single(e => e.Name == model.Card.Covariates[c].Name);
            using Grid grid = entry.Made.Layers[0].Open();
            IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, [.. points.Select(p => p.At)], entry.Rule, null, null);
            for (int p = 0; p < points.Count; p++)
                block.Covariates[c][p] = (float)(samples[p].Value ?? double.NaN);
        }

        for (int p = 0; p < points.Count; p++)
            block.Places[p] = points[p].At;
        model.Predict(block, points.Count);
        return [.. points.Select((p, i) =>
            new Place(p.At.LongitudeDegrees, p.At.LatitudeDegrees, Math.Log(p.Rate), block.Predictions[i], block.Lower[i], block.Upper[i],
                block.Applicable[i]))
            .Where(p => !float.IsNaN(p.Predicted))];
    }

    [Fact]
    public void A_learned_model_is_supported_and_explains_most_of_what_blocks_never_seen_differ_by()
    {
        using RateModel model = Model();
        Assert.Equal(Support.Learned, model.Card.Support);
        Assert.True(model.Card.WinnerScore().Blocked.Pooled.R2 > 0.75, $"{model.Card.WinnerScore().Blocked.Pooled.R2}");
    }

    [Fact]
    public void Importance_puts_what_truly_drives_decay_before_what_only_goes_with_it()
    {
        using RateModel model = Model();
        // precipitation and elevation act through the others only; pH and clay truly act, but by 0.05 to 0.1 in ln k, no more than lot
        // sheets and unspoken water are off by
        Assert.Equal(["air_temperature_mean", "soil_moisture"], model.Card.Findings.Importance.Take(2).Select(i => i.Covariate));
    }

    [Fact]
    public void Intervals_hold_90_percent_of_what_is_true_of_new_sites_inside_the_area_of_applicability()
    {
        Random random = new(20);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        List<Place> inside = [.. Land(4).Where(p => p.Applicable)];
        Assert.True(inside.Count > 3000, $"{inside.Count}");
        int held = inside.Count(p =>
        {
            double there = Math.Exp(p.TrueLnRate + SiteSd * Normal());
            return there >= p.Lower && there <= p.Upper;
        });
        // to whole percent. On the wide side (94 % when this was written): the lots of this demo happen to be nearer to their sheets
        // than these promise, and two sites with a planted surprise are among the residuals
        Assert.InRange(Math.Round(held / (double)inside.Count, 2), 0.87, 0.95);
    }

    [Fact]
    public void The_area_of_applicability_leaves_out_the_ground_that_is_unlike_any_other_and_little_else()
    {
        List<Place> land = Land(3);
        List<Place> warm = [.. land.Where(p => p.FromWarmGround < WarmRadius * 2 / 3)],
            rest = [.. land.Where(p => p.FromWarmGround > WarmRadius)];
        Assert.True(warm.Count > 20, $"{warm.Count}");
        Assert.All(warm, p => Assert.False(p.Applicable));
        // there the prediction is far off, as a model cannot know
        Assert.True(warm.Average(p => Math.Log(p.Predicted) - p.TrueLnRate) > 1);
        Assert.True(rest.Count(p => p.Applicable) > 0.8 * rest.Count, $"{rest.Count(p => p.Applicable)} of {rest.Count}");
    }
}
