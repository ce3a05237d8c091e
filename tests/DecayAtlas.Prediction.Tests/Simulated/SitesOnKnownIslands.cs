using System.Collections.Concurrent;
using System.Globalization;

namespace DecayAtlas.Prediction.Tests.Simulated;

/// <summary>Sites are dug where the program says, on invented islands whose truth is known, and regions' means are off by less: by as much
/// as it said, and by more than with as many sites spread out or at random. The usual run is short; what long runs gave stands in
/// docs/method.md, section 9.</summary>
public class SitesOnKnownIslands
{
    private const int Count = 10, Burials = 4, Draws = 3, Side = 20;

    /// <summary>So many islands tell ways to choose apart.</summary>
    private const int Enough = 100;

    private static readonly int? Asked = int.TryParse(
        Environment.GetEnvironmentVariable("DECAYATLAS_SITING_ISLANDS"), CultureInfo.InvariantCulture, out int asked) ? asked : null;

    private static readonly TrainingOptions Options = new() { ImportanceRepeats = 1, BlockDegrees = 2, Trees = 40, SettingsTried = 1 };

    [Theory]
    [InlineData(8, 12, false, false)]
    [InlineData(24, 14, false, false)]
    [InlineData(24, 14, true, false)]
    [InlineData(24, 14, false, true)]
    public void Sites_where_they_tell_most_lower_the_error_of_a_region_as_foretold(int contributors, int sites, bool lotsAreOff,
        bool isKriged)
    {
        // of many sites ten more change so little that a few islands can't show it, nor where lots drown it
        Assert.SkipWhen(Asked is null && contributors > 8, "set DECAYATLAS_SITING_ISLANDS to some 100 islands to run it");
        int islands = Asked ?? 12;
        ConcurrentBag<(string What, int Island, double Value)> all = [];
        Parallel.For(0, islands, island =>
        {
            foreach ((string what, double value) in Of(island, new IslandDesign(lotsAreOff, contributors, sites), isKriged))
                all.Add((what, island, value));
        });
        Dictionary<string, (double Mean, double Error)> found = all.GroupBy(a => a.What)
            .ToDictionary(g => g.Key, g => MeanOf([.. g.GroupBy(a => a.Island).OrderBy(i => i.Key).Select(i => i.Average(a => a.Value))]));
        foreach ((string what, (double mean, double error)) in found.OrderBy(f => f.Key, StringComparer.Ordinal))
        {
            TestContext.Current.TestOutputHelper!.WriteLine(
                string.Create(CultureInfo.InvariantCulture, $"{what}: {mean:0.000000} ± {error:0.000000}"));
        }

        // three standard errors of what islands differ by
        (double Mean, double Error) lowered = found["chosen: lowered"], told = found["chosen: told"], held = found["chosen: mean held"];
        (double Mean, double Error) spread = found["chosen: better than spread"], random = found["chosen: better than random"];
        Assert.True(spread.Mean > -3 * spread.Error && random.Mean > -3 * random.Error, "sites elsewhere lower it no more");
        Assert.True(held.Mean > 0.88 - 3 * held.Error, "the half-width foretold holds the truth");
        // what lots do to all sites alike is most of the error there, and drowns by chance what sites do
        if (lotsAreOff)
            return;
        Assert.True(lowered.Mean > 2 * lowered.Error, "sites lower the error");
        Assert.True(Math.Abs(lowered.Mean - told.Mean) < 3 * Math.Sqrt(lowered.Error * lowered.Error + told.Error * told.Error),
            "by as much as foretold");
        if (islands < Enough)
            return;
        Assert.True(spread.Mean > 2 * spread.Error, "better than spread out");
        Assert.True(random.Mean > 2 * random.Error, "better than at random");
    }

    private static (double Mean, double Error) MeanOf(double[] ofIslands)
    {
        double mean = ofIslands.Average();
        // islands are independent of each other, and regions of one are not
        return (mean, Math.Sqrt(ofIslands.Sum(x => (x - mean) * (x - mean)) / Math.Max(1, ofIslands.Length - 1) / ofIslands.Length));
    }

    private static IEnumerable<(string, double)> Of(int seed, IslandDesign design, bool isKriged)
    {
        KnownIsland island = new(seed, design);
        TrainingSet dug = island.Dig();
        CurvedCandidate candidate = new();
        using RateModel model =
            ModelTrainer.TrainOf(dug, Options with { Seed = 1 + seed }, new(new MeanCandidate(), null, [candidate], []));
        Setting setting = candidate.Settings(Options)[0];
        for (int region = 0; region < 9; region++)
        {
            KnownPlace[] cells = [.. Enumerable.Range(0, Side * Side).Select(i => island.PlaceAt(
                region % 3 * 3 + (i % Side + 0.5) * 3 / Side, 40 + region / 3 * 3 + (i / Side + 0.5) * 3 / Side))];
            GeoPoint[] points = [.. cells.Select(c => c.Point)];
            double[][] covariates =
                [.. Enumerable.Range(0, KnownIsland.Covariates.Count).Select(x => cells.Select(c => c.Covariates[x]).ToArray())];
            double truth = Math.Log(cells.Average(c => Math.Exp(c.Expected)));
            (_, double[] ofMembers) = model.LocalErrors(covariates, points);
            MeanError mean = new(model.Errors);
            for (int c = 0; c < cells.Length; c++)
                mean.Add((c / Side, c % Side), points[c], Math.Exp(model.Predictor.Predict(FeaturesOf(cells[c]))));
            MeanHalfWidths half = mean.Result(places => new(model.LocalErrors(covariates, places).LocalHalfWidths, ofMembers),
                new MemberMeans(model.Members, model.MemberQuantile));
            double[] meansOfMembers = [.. Enumerable.Range(0, model.Members.Count).Select(m =>
                Math.Log(Enumerable.Range(0, cells.Length).Average(c => Math.Exp(ofMembers[m * cells.Length + c]))))];
            SiteEnsemble ensemble = SiteEnsemble.Of(model, points, covariates, [meansOfMembers],
                new(KnownIsland.BurialSd * KnownIsland.BurialSd / Burials, KnownIsland.BatchSd * KnownIsland.BatchSd));
            double z = ErrorParts.NormalQuantile(Options.IntervalLevel);
            SiteParts parts = new(half.Model, half.Shared, half.Local);
            if (isKriged)
            {
                double sum = cells.Sum(c => Math.Exp(model.Predictor.Predict(FeaturesOf(c))));
                Surroundings around = new(model.Errors, [.. points.Select((p, i) => new ErringPlace(p, ensemble.LocalVariances[i]))],
                    [[.. cells.Select((c, i) => new ErringPlace(c.Point, ensemble.LocalVariances[i],
                        Math.Exp(model.Predictor.Predict(FeaturesOf(c))) / sum))]], [half.Local / z * (half.Local / z)],
                    [.. dug.Rows.Select(r => new ErringPlace(PointOf(r), ensemble.LocalVariances.Average()))], model.Limits.Parts.OfRows);
                ensemble = ensemble with { Around = around };
                parts = parts with { Local = z * Math.Sqrt(around.OfMeans[0]), IsKriged = true };
            }

            SiteCovariance all = SiteCovariance.OfAll(ensemble);
            double before = ErrorOf(dug);
            double variance = all.AroundMeans + Enumerable.Range(0, all.Deviates).Sum(p => all.OfMean(p, 0) * all.OfMean(p, 0));
            yield return ("before: off", before * before);
            yield return ("before: told of what sites lower", variance);
            yield return ("before: mean held", Math.Abs(before) <= parts.Sum ? 1 : 0);
            (int[] chosen, double told, double after) = Dug(s => GreedyChoice.Of(s, Count, 1000));
            double byThemselves = SiteGain.VariancesLeft(all, all, chosen)[^1] / variance;
            (_, double toldSpread, double spread) = Dug(_ => OtherChoices.Spread(points, Count));
            (double Told, double Off)[] random =
            [
                .. Enumerable.Range(0, Draws).Select(d => Dug(_ => OtherChoices.AtRandom(points.Length, Count, d)))
                    .Select(d => (d.Told, d.Off * d.Off)),
            ];
            yield return ("chosen: lowered", before * before - after * after);
            yield return ("chosen: told", variance * (1 - told));
            yield return ("chosen: told by the members that chose", variance * (1 - byThemselves));
            yield return ("chosen: better than spread", spread * spread - after * after);
            yield return ("chosen: better than random", random.Average(r => r.Off) - after * after);
            yield return ("chosen: mean held", Math.Abs(after) <= parts.With(told) ? 1 : 0);
            yield return ("spread: lowered", before * before - spread * spread);
            yield return ("spread: told", variance * (1 - toldSpread));
            yield return ("random: lowered", before * before - random.Average(r => r.Off));
            yield return ("random: told", variance * (1 - random.Average(r => r.Told)));

            (int[] Chosen, double Told, double Off) Dug(Func<SiteCovariance, int[]> choose)
            {
                int[] order = choose(all);
                return (order, SiteGain.SharesLeft(ensemble, choose)[^1],
                    ErrorOf(With(dug, seed, design, order.Select(c => points[c]))));
            }

            double ErrorOf(TrainingSet set)
            {
                RatePredictor predictor = candidate.Fit(CovariateTable.Of(set), setting, Options).Predictor;
                double[] kriged = isKriged ? KrigedResiduals.At(points, [.. set.Rows.Select(PointOf)],
                    [.. set.Rows.Select(r => r.Target - predictor.Predict([.. r.Covariates.Select(x => (float)x)]))], model.Errors,
                    model.Limits.Parts.OfRows) : new double[cells.Length];
                return truth - Math.Log(cells.Select((c, i) => Math.Exp(predictor.Predict(FeaturesOf(c)) + kriged[i])).Average());
            }
        }
    }

    private static GeoPoint PointOf(TrainingRow row) => new(row.LongitudeDegrees, row.LatitudeDegrees);

    private static float[] FeaturesOf(KnownPlace place) => [.. place.Covariates.Select(x => (float)x)];

    /// <summary>What was dug, and sites at more places: of an island made anew, so that each way to choose meets the same chance.</summary>
    private static TrainingSet With(TrainingSet dug, int seed, IslandDesign design, IEnumerable<GeoPoint> points)
    {
        KnownIsland again = new(seed, design);
        again.Dig();
        return ResidualWeights.On(dug with { Rows = [.. dug.Rows, .. again.DigAt(points, Burials)] });
    }
}
