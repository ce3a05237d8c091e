using System.Collections.Concurrent;
using System.Globalization;

namespace DecayAtlas.Prediction.Tests.Simulated;

/// <summary>Sites are dug where the program says, on invented islands whose truth is known, and regions' means are off by less: by as much
/// as it said, and by more than with as many sites spread out or at random. The usual run is short; what long runs gave stands in
/// docs/method.md, section 9.</summary>
public class SitesOnKnownIslands
{
    private const int Count = 10, Burials = 4, Draws = 3, Side = 20;

    private static readonly int? Asked = int.TryParse(
        Environment.GetEnvironmentVariable("DECAYATLAS_SITING_ISLANDS"), CultureInfo.InvariantCulture, out int asked) ? asked : null;

    private static readonly TrainingOptions Options = new() { ImportanceRepeats = 1, BlockDegrees = 2, SettingsTried = 1 };

    [Theory]
    [InlineData(8, 12)]
    [InlineData(24, 14)]
    public void Sites_where_they_tell_most_lower_the_error_of_a_region_as_foretold(int contributors, int sites)
    {
        int islands = Asked ?? 12;
        ConcurrentBag<(string What, int Island, double Value)> all = [];
        Parallel.For(0, islands, island =>
        {
            foreach ((string what, double value) in Of(island, new IslandDesign(false, contributors, sites)))
                all.Add((what, island, value));
        });
        Dictionary<string, (double Mean, double Error)> found = all.GroupBy(a => a.What)
            .ToDictionary(g => g.Key, g => MeanOf([.. g.GroupBy(a => a.Island).Select(i => i.Average(a => a.Value))]));
        foreach ((string what, (double mean, double error)) in found.OrderBy(f => f.Key, StringComparer.Ordinal))
        {
            TestContext.Current.TestOutputHelper!.WriteLine(
                string.Create(CultureInfo.InvariantCulture, $"{what}: {1e4 * mean:0.00} ± {1e4 * error:0.00} (1e-4)"));
        }
    }

    private static (double Mean, double Error) MeanOf(double[] ofIslands)
    {
        double mean = ofIslands.Average();
        // islands are independent of each other, and regions of one are not
        return (mean, Math.Sqrt(ofIslands.Sum(x => (x - mean) * (x - mean)) / Math.Max(1, ofIslands.Length - 1) / ofIslands.Length));
    }

    private static IEnumerable<(string, double)> Of(int seed, IslandDesign design)
    {
        KnownIsland island = new(seed, design);
        TrainingSet dug = island.Dig();
        CurvedCandidate candidate = new();
        using RateModel model = ModelTrainer.TrainOf(dug, Options with { Seed = 1 + seed }, new(new MeanCandidate(), null, [candidate], []));
        Setting setting = candidate.Settings(Options)[0];
        for (int region = 0; region < 9; region++)
        {
            KnownPlace[] cells = [.. Enumerable.Range(0, Side * Side).Select(i => island.PlaceAt(
                region % 3 * 3 + (i % Side + 0.5) * 3 / Side, 40 + region / 3 * 3 + (i / Side + 0.5) * 3 / Side))];
            GeoPoint[] points = [.. cells.Select(c => c.Point)];
            double[][] covariates = [.. Enumerable.Range(0, KnownIsland.Covariates.Count).Select(x => cells.Select(c => c.Covariates[x]).ToArray())];
            double truth = Math.Log(cells.Average(c => Math.Exp(c.Expected)));
            (_, double[] ofMembers) = model.LocalErrors(covariates, cells.Length);
            double[] meansOfMembers = [.. Enumerable.Range(0, model.Members.Count).Select(m =>
                Math.Log(Enumerable.Range(0, cells.Length).Average(c => Math.Exp(ofMembers[m * cells.Length + c]))))];
            SiteEnsemble ensemble = SiteEnsemble.Of(model, points, covariates, [meansOfMembers],
                new(KnownIsland.BurialSd * KnownIsland.BurialSd / Burials, KnownIsland.BatchSd * KnownIsland.BatchSd));
            SiteCovariance all = SiteCovariance.OfAll(ensemble);
            double before = ErrorOf(dug), variance = Enumerable.Range(0, all.Deviates).Sum(p => all.OfMean(p, 0) * all.OfMean(p, 0));
            yield return ("0 off before", before * before);
            yield return ("0 variance of the model", variance);
            (string, Func<SiteCovariance, int[]>)[] ways =
            [
                ("1 chosen", s => GreedyChoice.Of(s, Count, 1000)),
                ("2 spread", _ => OtherChoices.Spread(points, Count)),
                .. Enumerable.Range(0, Draws).Select(d =>
                    ("3 random", (Func<SiteCovariance, int[]>)(_ => OtherChoices.AtRandom(points.Length, Count, d)))),
            ];
            foreach ((string what, Func<SiteCovariance, int[]> choose) in ways)
            {
                double after = ErrorOf(With(dug, seed, design, choose(all).Select(c => points[c])));
                double told = SiteGain.SharesLeft(ensemble, choose)[^1];
                yield return ($"{what}, off after", after * after);
                yield return ($"{what}, lowered", before * before - after * after);
                yield return ($"{what}, told", variance * (1 - told));
                if (what == "1 chosen")
                    yield return ("1 chosen, moved", (after - before) * (after - before));
            }

            double ErrorOf(TrainingSet set)
            {
                RatePredictor predictor = candidate.Fit(CovariateTable.Of(set), setting, Options).Predictor;
                return truth - Math.Log(cells.Average(c => Math.Exp(predictor.Predict([.. c.Covariates.Select(x => (float)x)]))));
            }
        }
    }

    /// <summary>What was dug, and sites at more places: of an island made anew, so that each way to choose meets the same chance.</summary>
    private static TrainingSet With(TrainingSet dug, int seed, IslandDesign design, IEnumerable<GeoPoint> points)
    {
        KnownIsland again = new(seed, design);
        again.Dig();
        return ResidualWeights.On(dug with { Rows = [.. dug.Rows, .. again.DigAt(points, Burials)] });
    }
}
