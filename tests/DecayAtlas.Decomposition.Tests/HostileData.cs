using FsCheck.Xunit;

namespace DecayAtlas.Decomposition.Tests;

/// <summary>Small, coarse, tied and lopsided data: each routine gives finite numbers or a statement, and never an exception or
/// NaN.</summary>
public class HostileData
{
    // few whole numbers, so that ties, equal groups and exact fits are common
    private static double Coarse(RandomStream random, int steps) => random.NextIndex(steps) / 2.0;

    private static bool Finite(params double?[] values) => values.All(v => v is null || double.IsFinite(v.Value));

    private static bool Holds<T>(Answer<T> answer, Func<T, bool> check) where T : class =>
        answer.Value is { } value ? check(value) : answer.Statement is { Sentence.Length: > 20 };

    [Property(MaxTest = 300)]
    public bool Variances_of_nested_units(int seed)
    {
        RandomStream random = new((ulong)seed, "v");
        int n = 1 + random.NextIndex(14), sites = 1 + random.NextIndex(5), steps = 1 + random.NextIndex(6);
        MixedRecord[] records = [.. Enumerable.Range(0, n).Select(_ =>
        {
            int site = random.NextIndex(sites);
            return new MixedRecord(Coarse(random, steps), null, [$"s{site}", $"s{site}p{random.NextIndex(2)}"], [1]);
        })];
        return Holds(MixedModel.Fit(records, [new("site"), new("plot")], 1), Check)
            && Holds(MixedModel.Fit([.. records.Select(r => r with { Units = [r.Units[0]] })], [new("site")], 1), Check);

        static bool Check(MixedFit fit)
        {
            FixedEffect mean = fit.Effect(0, [1]);
            return Finite(mean.Value, mean.StandardError, mean.DegreesOfFreedom, mean.Lower95, fit.RestrictedDeviance)
                && mean.StandardError > 0 && mean.DegreesOfFreedom >= 0
                && fit.Components.All(c => Finite(c.Covariance.First, c.FirstShare) && c.Covariance.First >= 0
                    && (fit.ShareInterval(c.Name) is not var (lower, upper)
                        || (lower <= c.FirstShare + 1e-9 && c.FirstShare <= upper + 1e-9)));
        }
    }

    [Property(MaxTest = 300)]
    public bool Groups_of_sites(int seed)
    {
        RandomStream random = new((ulong)seed, "g");
        int n = 1 + random.NextIndex(16), sites = 1 + random.NextIndex(6), groups = 1 + random.NextIndex(3),
            steps = 1 + random.NextIndex(6);
        bool isBetween = random.NextIndex(2) == 0, hasCovariate = random.NextIndex(2) == 0;
        MixedRecord[] records = [.. Enumerable.Range(0, n).Select(_ =>
        {
            int site = random.NextIndex(sites), group = isBetween ? site % groups : random.NextIndex(groups);
            double value = Coarse(random, steps);
            double[] ofGroups = [.. Enumerable.Range(0, groups).Select(g => g == group ? 1.0 : 0)];
            return new MixedRecord(value, null, [$"s{site}"], hasCovariate ? [.. ofGroups, Coarse(random, 3)] : ofGroups);
        })];
        return Holds(MixedModel.Fit(records, [new("site")], 1), fit => Enumerable.Range(1, groups - 1).All(g =>
        {
            double[] contrast = new double[records[0].FixedEffects.Count];
            (contrast[0], contrast[g]) = (-1, 1);
            FixedEffect d = fit.Effect(0, contrast);
            return Finite(d.Value, d.StandardError, d.DegreesOfFreedom, d.Lower95, d.PValue) && d.StandardError > 0;
        }));
    }

    [Property(MaxTest = 150)]
    public bool Decay_curves(int seed)
    {
        RandomStream random = new((ulong)seed, "c");
        int n = 1 + random.NextIndex(9);
        CurvePoint[] points = [.. Enumerable.Range(0, n)
            .Select(_ => new CurvePoint(30 * (1 + random.NextIndex(5)), random.NextIndex(12) / 10.0))];
        return DecayCurves.Compare(points).All(c => Holds(c.Fit, f =>
            Finite(f.ResidualSd, f.Aicc, f.RemainingAt(45), f.BandAt(45).Lower, f.BandAt(45).Upper)
            && f.Parameters.All(p => Finite(p.Value, p.StandardError, p.Lower95, p.Upper95)
                && (p.Lower95 is null || p.Lower95 <= p.Value) && (p.Upper95 is null || p.Upper95 >= p.Value))));
    }

    [Property(MaxTest = 60)]
    public bool Joint_litters(int seed)
    {
        RandomStream random = new((ulong)seed, "j");
        int n = 1 + random.NextIndex(12);
        LitterPoint[] points = [.. Enumerable.Range(0, n).Select(_ => new LitterPoint(
            (LitterRole)random.NextIndex(2), 30 * (1 + random.NextIndex(4)), random.NextIndex(12) / 10.0))];
        return Holds(JointLitters.Fit(points, 0.842, 0.552), s => Finite(s.FRatio, s.PValue)
            && s.SeparateS.Parameters.All(p => Finite(p.Value, p.StandardError, p.Lower95, p.Upper95)));
    }

    [Property(MaxTest = 300)]
    public bool Outlier_tests(int seed)
    {
        RandomStream random = new((ulong)seed, "o");
        int n = random.NextIndex(24), steps = 1 + random.NextIndex(5);
        double[] x = [.. Enumerable.Range(0, n).Select(_ => Coarse(random, steps))];
        double[][] rows = [.. x.Select(v => new[] { v, Coarse(random, steps) })];
        Dictionary<string, SampleSummary> readings = x.Select((v, i) => (v, i % 6)).GroupBy(p => $"c{p.Item2}")
            .ToDictionary(g => g.Key, g => SampleSummary.Of([.. g.Select(p => p.v).Order()])!);
        return Holds(GeneralisedEsd.Of(x, 4), r => r.Steps.All(s => Finite(s.Statistic, s.Critical)))
            && Holds(Grubbs.Of(x), r => Finite(r.Statistic, r.Critical))
            && Holds(ModifiedZScore.Of(x), r => r.Scores.All(double.IsFinite))
            && Holds(RobustLocation.Of(x), r => Finite(r.Mean, r.Sd) && r.Sd > 0)
            && Holds(ContributorBias.Of(readings), r => r.All(s => Finite(s.Score, s.Bias)))
            && Holds(RobustDistance.Of(rows, new(50)), r => r.Distances.All(double.IsFinite));
    }

    [Property(MaxTest = 300)]
    public bool Means_and_agreement(int seed)
    {
        RandomStream random = new((ulong)seed, "m");
        int n = random.NextIndex(10), steps = 1 + random.NextIndex(5);
        double[] x = [.. Enumerable.Range(0, n).Select(_ => Coarse(random, steps))],
            y = [.. Enumerable.Range(0, n).Select(_ => Coarse(random, steps))];
        SiteBurial[] burials = [.. x.Select((v, i) => new SiteBurial(v, new(new("f", "s", "b", "b"), default), i % 2 == 0 ? "p" : "q"))];
        return Holds(SiteInterval.Of(burials), s => Finite(s.Lower95, s.Upper95, s.DegreesOfFreedom))
            && Holds(SiteBootstrap.Of(burials, new(100)), b => Finite(b.Lower95, b.Upper95))
            && Holds(
                Agreement.Of([.. x.Zip(y, (a, b) => new MeasuredPair(a, b))]),
                    a => Finite(a.LowerLimit, a.TrendCorrelation))
            && Holds(
                Agreement.Of([.. x.Zip(y, (a, b) => new MeasuredPair(Math.Exp(a), Math.Exp(b)))]),
                    a => Finite(a.LowerLimit, a.TrendCorrelation));
    }
}
