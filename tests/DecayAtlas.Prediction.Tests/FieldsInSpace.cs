using DecayAtlas.Prediction.Tests.Simulated;

namespace DecayAtlas.Prediction.Tests;

/// <summary>When a field in space is given, and what it does to predictions, members and differences.</summary>
public class FieldsInSpace
{
    private static readonly TrainingOptions Quick =
        new() { BlockDegrees = 2, Trees = 20, SettingsTried = 1, ImportanceRepeats = 1, Members = 40 };

    private static CandidateSet CurvesAndKriging => new(new MeanCandidate(), null, [new CurvedCandidate(), new KrigingCandidate()], []);

    /// <summary>Islands whose rates vary over a degree or two by what no covariate tells, or do not (the truth of
    /// <see cref="KnownIsland"/>: waves and no Gaussian process, an Arrhenius law and no curve).</summary>
    private static (TrainingSet Set, KnownPlace[] Places) Island(int seed, double unseenSd)
    {
        KnownIsland island = new(seed, new IslandDesign(UnseenSd: unseenSd));
        return (island.Dig(), [.. Enumerable.Range(0, 200).Select(_ => island.AnyPlace())]);
    }

    private static double[] Values(RateModel model, KnownPlace[] places, bool withPlaces = true) => [.. places.Select(p =>
        model.Predictor.Predict([.. p.Covariates.Select(x => (float)x)], withPlaces ? p.Point : null))];

    private static double Rmse(double[] values, KnownPlace[] places) => ErrorMetrics.Of([.. places.Select(p => p.Expected)], values).Rmse;

    [Fact]
    public void What_covariates_do_not_tell_is_kriged_where_it_is_there_and_the_plain_model_kept_where_it_is_not()
    {
        (TrainingSet set, KnownPlace[] places) = Island(0, 0.25);
        using RateModel kriged = ModelTrainer.TrainOf(set, Quick, CurvesAndKriging),
            plain = ModelTrainer.TrainOf(set, Quick, new(new MeanCandidate(), null, [new CurvedCandidate()], []));
        Assert.Equal("kriging", kriged.Card.Winner);
        Assert.Contains(kriged.Card.Comparisons, c => c is { Better: "kriging", Than: "curved", IsBeyondNoise: true });
        Assert.True(kriged.Card.WinnerScore().Blocked.Pooled.Rmse < 0.85 * plain.Card.WinnerScore().Blocked.Pooled.Rmse);
        Assert.True(kriged.Card.Findings.Residuals!.I < 0.7 * plain.Card.Findings.Residuals!.I,
            $"{kriged.Card.Findings.Residuals.I} {plain.Card.Findings.Residuals.I}");
        // what is true of places near sites and far from them, and not what was measured at blocks
        double off = Rmse(Values(kriged, places), places), offPlain = Rmse(Values(plain, places), places);
        Assert.True(off < 0.7 * offPlain, $"{off} {offPlain}");

        // 3: what batches share is no field, though sites of one batch lie near each other
        using RateModel model = ModelTrainer.TrainOf(Island(3, 0).Set, Quick, CurvesAndKriging);
        Assert.Equal("curved", model.Card.Winner);
    }

    [Fact]
    public void The_field_fades_far_from_sites_cancels_in_differences_and_is_saved_with_its_members()
    {
        (TrainingSet set, KnownPlace[] places) = Island(0, 0.25);
        using RateModel model =
            ModelTrainer.TrainOf(set, Quick, new(new MeanCandidate(), null, [new KrigingCandidate()], []));
        double[] here = Values(model, places), trend = Values(model, places, withPlaces: false);
        Assert.True(here.Zip(trend, (a, b) => Math.Abs(a - b)).Average() > 0.05);
        KnownPlace[] far = [.. places.Select(p => p with { Point = new(-p.Point.LongitudeDegrees - 120, -40) })];
        Assert.All(Values(model, far).Zip(trend), x => Assert.Equal(x.Second, x.First, 1e-6));

        // the same covariates give 1 without width; warmer ones a width that the place does not change
        GeoPoint[] points = [.. places.Select(p => p.Point)];
        float[] now = [.. places.SelectMany(p => p.Covariates).Select(x => (float)x)],
            warm = [.. now.Select((x, i) => i % 4 == 0 ? x + 2 : x)];
        Assert.All(ChangeErrors.HalfWidths(model, now, model, now, points), h => Assert.Equal(0, h));
        Assert.Equal(ChangeErrors.HalfWidths(model, now, model, warm, points), ChangeErrors.HalfWidths(model, now, model, warm,
            [.. far.Select(p => p.Point)]));

        using TemporaryFolder folder = new();
        model.Save(folder.Path);
        using RateModel again = RateModel.Load(folder.Path);
        Assert.Equal(here, Values(again, places));
        Assert.Equal(model.Members.Predict(now, places.Length, points), again.Members.Predict(now, places.Length, points));
        File.WriteAllText(folder.Of("model.json"), File.ReadAllText(folder.Of("model.json")).Replace("\"weights\": [",
            "\"weights\": [ 1, ", StringComparison.Ordinal));
        Assert.Contains("its sites and their weights do not fit", Assert.Throws<PredictionException>(() =>
            RateModel.Load(folder.Path)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Members_do_not_hang_on_threads_or_on_other_members()
    {
        CovariateTable table = CovariateTable.Of(Island(1, 0.25).Set);
        double[] some = Of(20), more = Of(24);
        Assert.Equal(some, more.Take(some.Length));

        double[] Of(int members) => MemberTraining.Of(table, new KrigingCandidate(), new(), Quick with { Members = members }).Members
            .Predict(table.Features, table.Count, table.Places);
    }

    [Fact]
    public void Too_many_sites_or_all_at_one_place_are_said_and_not_tried()
    {
        TrainingSet set = InventedSites.Make(40, InventedSites.LinearTruth, 0.1);
        TrainingSet many = set with { Rows = [.. Enumerable.Range(0, 2001).Select(i => set.Rows[0] with { SiteKey = $"s{i}" })] };
        Assert.Contains("Kriging was not tried, because there are 2001 sites, more than the 2000 up to which it is quick enough.",
            CandidateSet.Of(many, new()).Absent);
        TrainingSet one = set with { Rows = [.. set.Rows.Select(r => r with { LatitudeDegrees = 1, LongitudeDegrees = 1 })] };
        Assert.Contains("Kriging was not tried, because all sites lie at one place.", CandidateSet.Of(one, new()).Absent);
        Assert.Contains(CandidateSet.Of(set, new()).Learned, c => c is KrigingCandidate);
    }
}
