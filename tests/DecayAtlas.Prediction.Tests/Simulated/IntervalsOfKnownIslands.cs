using System.Collections.Concurrent;
using System.Globalization;

namespace DecayAtlas.Prediction.Tests.Simulated;

/// <summary>How often the three kinds of interval, and those of differences, hold what is true of invented islands. The usual run is short;
/// what long runs gave stands in docs/method.md, section 8.</summary>
public class IntervalsOfKnownIslands
{
    private const int Places = 300;

    /// <summary>Side of a block: what is unseen varies over a degree or two.</summary>
    private const double BlockDegrees = 2;

    private static readonly int? Asked = int.TryParse(
        Environment.GetEnvironmentVariable("DECAYATLAS_ISLANDS"), CultureInfo.InvariantCulture, out int asked) ? asked : null;

    private static readonly double[] Kelvins = [0, 0.5, 1, 2, 4];

    // 88 to 92 % for 90; with lots off, changes were held at 86 ± 2 % of 200 islands (docs/method.md, section 8), within three errors
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Intervals_of_places_of_sites_and_of_regions_hold_the_truth_as_often_as_they_say(bool lotsAreOff) =>
        Hold(new IslandDesign(lotsAreOff), new CurvedCandidate(), _ => 0.92);

    // a lot that lies at one place can't be told from the place: nothing of it may be taken off
    [Fact]
    public void Intervals_hold_the_truth_where_each_contributor_has_lots_of_its_own() =>
        Hold(new IslandDesign(OwnLots: true, UnseenSd: 0.1), new CurvedCandidate(), _ => 1);

    // near sites an interval is as wide as far from them, and so too wide; changes are under-covered, by curves too: docs/method.md
    [Fact]
    public void Intervals_of_kriging_hold_the_truth_at_least_as_often_as_they_say()
    {
        Assert.SkipWhen(Asked is null, "Long: set DECAYATLAS_ISLANDS.");
        Hold(new IslandDesign(LotsAreOff: false, UnseenSd: 0.2), new KrigingCandidate(), _ => 1, withChanges: false);
    }

    private static void Hold(IslandDesign design, Candidate candidate, Func<string, double> most, bool withChanges = true)
    {
        const double least = 0.88;
        int islands = Asked ?? 10;
        ConcurrentBag<(string What, int Island, double Held)> all = [];
        Parallel.For(0, islands, seed =>
        {
            KnownIsland island = new(seed, design);
            TrainingOptions options = new() { ImportanceRepeats = 1, Seed = 1 + seed, BlockDegrees = BlockDegrees };
            TrainingSet set = island.Dig();
            using RateModel model = ModelTrainer.TrainOf(set, options, new(new MeanCandidate(), null, [candidate], []));
            foreach ((string what, double held) in
                PlacesOf(island, model).Concat(RegionsOf(island, model)).Concat(ChangesOf(island, model)))
            {
                all.Add((what, seed, held));
            }
        });
        List<string> outside = [];
        foreach (IGrouping<string, (string What, int Island, double Held)> g in all.GroupBy(a => a.What)
            .OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            double[] ofIslands = [.. g.GroupBy(a => a.Island).Select(i => i.Average(a => a.Held))];
            double held = ofIslands.Average();
            // islands are independent of each other, and places of one are not
            double error = Math.Sqrt(ofIslands.Sum(x => (x - held) * (x - held)) / Math.Max(1, ofIslands.Length - 1) / ofIslands.Length);
            string line = string.Create(CultureInfo.InvariantCulture,
                $"{g.Key}: {held:0.000} ± {error:0.000} of {g.Count()} on {ofIslands.Length} islands, worst {ofIslands.Min():0.00}");
            TestContext.Current.TestOutputHelper!.WriteLine(line);
            if ((withChanges || !g.Key.StartsWith("change", StringComparison.Ordinal))
                && !g.Key.StartsWith("told", StringComparison.Ordinal) && !g.Key.StartsWith("sd", StringComparison.Ordinal)
                && (held < least - 3 * error || held > most(g.Key) + 3 * error))
            {
                outside.Add(line);
            }
        }

        Assert.Empty(outside);
    }

    private static IEnumerable<(string, double)> PlacesOf(KnownIsland island, RateModel model)
    {
        KnownPlace[] places = [.. Enumerable.Range(0, Places).Select(_ => island.AnyPlace())];
        PredictionBlock common = Predict(model, places, p => p.Covariates);
        PredictionBlock byKind = Predict(model, places, p => p.Covariates, p => p.Kind);
        for (int i = 0; i < places.Length; i++)
        {
            KnownPlace p = places[i];
            double? measured = island.MeasuredByOthers(p);
            if (!common.Applicable[i])
            {
                yield return ("told: place outside", Holds(common.Lower[i], common.Upper[i], p.LnRate));
                continue;
            }

            yield return ("place", Holds(common.Lower[i], common.Upper[i], p.LnRate));
            yield return ("place, kind stated", Holds(byKind.Lower[i], byKind.Upper[i], p.LnRate));
            yield return ($"place, kind stated, {p.Kind}", Holds(byKind.Lower[i], byKind.Upper[i], p.LnRate));
            if (measured is { } value)
                yield return ("site", Holds(common.MeasuredLower[i], common.MeasuredUpper[i], value));
        }
    }

    private static IEnumerable<(string, double)> RegionsOf(KnownIsland island, RateModel model)
    {
        const int side = 20;
        for (int region = 0; region < 9; region++)
        {
            KnownPlace[] cells = [.. Enumerable.Range(0, side * side).Select(i => island.PlaceAt(
                region % 3 * 3 + (i % side + 0.5) * 3 / side, 40 + region / 3 * 3 + (i / side + 0.5) * 3 / side))];
            PredictionBlock block = Predict(model, cells, p => p.Covariates);
            MeanError error = new(model.Errors);
            Dictionary<GeoPoint, KnownPlace> at = [];
            double rate = 0, truth = 0;
            for (int i = 0; i < cells.Length; i++)
            {
                error.Add((i % side, i / side), cells[i].Point, block.Predictions[i]);
                at[cells[i].Point] = cells[i];
                rate += block.Predictions[i];
                truth += Math.Exp(cells[i].Expected);
            }

            MeanHalfWidths half = error.Result(
                points => ErrorsAt(model, [.. points.Select(p => at[p])]), new MemberMeans(model.Members, model.MemberQuantile));
            yield return (block.Applicable.Count(a => a) > 0.9 * cells.Length ? "region" : "told: region partly outside",
                Math.Abs(Math.Log(truth / rate)) <= half.Sum ? 1 : 0);
            yield return ("sd of region, off", Math.Abs(Math.Log(truth / rate)));
            yield return ("sd of region, off signed", Math.Log(truth / rate));
            yield return ("sd of region, local", half.Local);
            yield return ("sd of region, model", half.Model);
            yield return ("sd of region, shared", half.Shared);
        }
    }

    private static IEnumerable<(string, double)> ChangesOf(KnownIsland island, RateModel model)
    {
        KnownPlace[] places = [.. Enumerable.Range(0, Places).Select(_ => island.AnyPlace())];
        double[][] before = [.. places.Select(p => p.Covariates)];
        foreach (double kelvin in Kelvins)
        {
            double[][] after = [.. places.Select(p => Warmed(p, kelvin))];
            PredictionBlock one = Predict(model, places, p => p.Covariates), two = Predict(model, places, p => Warmed(p, kelvin));
            double[] halves = ChangeErrors.HalfWidths(model, Rows(before), model, Rows(after), [.. places.Select(p => p.Point)]);
            for (int i = 0; i < places.Length; i++)
            {
                if (!one.Applicable[i] || !two.Applicable[i])
                    continue;
                double change = Math.Log(two.Predictions[i] / (double)one.Predictions[i]);
                double truth = KnownIsland.Response(after[i]) - KnownIsland.Response(before[i]);
                if (kelvin == 0)
                    Assert.Equal((0.0, 0.0), (change, halves[i]));
                else
                    yield return (Invariant($"change of {kelvin} K"), Math.Abs(change - truth) <= halves[i] ? 1 : 0);
                yield return (Invariant($"told apart at {kelvin} K"), Math.Abs(change) > halves[i] ? 1 : 0);
                yield return (Invariant($"sd of change at {kelvin} K"), halves[i]);
                yield return (Invariant($"sd of change at {kelvin} K, off"), Math.Abs(change - truth));
            }
        }
    }

    private static double Holds(float lower, float upper, double lnRate) => Math.Log(lower) <= lnRate && lnRate <= Math.Log(upper) ? 1 : 0;

    private static PlaceErrors ErrorsAt(RateModel model, KnownPlace[] places)
    {
        (double[] local, double[] ofMembers) = model.LocalErrors(
            [.. Enumerable.Range(0, places[0].Covariates.Length).Select(c => (double[])[.. places.Select(p => p.Covariates[c])])],
            [.. places.Select(p => p.Point)]);
        return new(local, ofMembers);
    }

    private static double[] Warmed(KnownPlace place, double kelvin) => [place.Covariates[0] + kelvin, .. place.Covariates[1..]];

    private static PredictionBlock Predict(RateModel model, KnownPlace[] places, Func<KnownPlace, double[]> covariatesOf,
        Func<KnownPlace, string>? kindOf = null)
    {
        PredictionBlock block = new(places[0].Covariates.Length, places.Length);
        for (int r = 0; r < places.Length; r++)
        {
            block.Kinds[r] = kindOf?.Invoke(places[r]);
            block.Places[r] = places[r].Point;
            double[] row = covariatesOf(places[r]);
            for (int c = 0; c < row.Length; c++)
                block.Covariates[c][r] = (float)row[c];
        }

        model.Predict(block, places.Length);
        return block;
    }

    private static float[] Rows(double[][] rows) => [.. rows.SelectMany(r => r).Select(x => (float)x)];
}
