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
    public bool Variance_components(int seed)
    {
        RandomStream random = new((ulong)seed, "v");
        int n = 1 + random.NextIndex(14), sites = 1 + random.NextIndex(5), steps = 1 + random.NextIndex(6);
        NestedValue[] values = [.. Enumerable.Range(0, n).Select(_ => new NestedValue(
            Coarse(random, steps), [$"s{random.NextIndex(sites)}", $"p{random.NextIndex(2)}"]))];
        return Holds(VarianceComponents.Of(values, ["site", "plot"]), Check)
            && Holds(VarianceComponents.Of([.. values.Select(v => v with { Units = [v.Units[0]] })], ["site"]), Check);

        static bool Check(VarianceSplit s) => Finite(s.Mean.Value, s.Mean.StandardError, s.Mean.DegreesOfFreedom, s.RestrictedDeviance)
            && s.Mean.StandardError > 0 && s.Mean.DegreesOfFreedom >= 0 && Finite(s.Mean.Lower95)
            && s.Components.All(c => Finite(c.Variance, c.Share, c.ShareLower95, c.ShareUpper95) && c.Variance >= 0
                && (c.ShareLower95 is null || (c.ShareLower95 <= c.Share + 1e-9 && c.Share <= c.ShareUpper95 + 1e-9)));
    }

    [Property(MaxTest = 300)]
    public bool Group_comparisons(int seed)
    {
        RandomStream random = new((ulong)seed, "g");
        int n = 1 + random.NextIndex(16), sites = 1 + random.NextIndex(6), groups = 1 + random.NextIndex(3),
            steps = 1 + random.NextIndex(6);
        bool isBetween = random.NextIndex(2) == 0, hasCovariate = random.NextIndex(2) == 0;
        GroupValue[] values = [.. Enumerable.Range(0, n).Select(_ =>
        {
            int site = random.NextIndex(sites);
            return new GroupValue(
                Coarse(random, steps), $"g{(isBetween ? site % groups : random.NextIndex(groups))}", [$"s{site}"], hasCovariate
                    ? [Coarse(random, 3)] : null);
        })];
        return Holds(GroupComparison.Of(values, ["site"], hasCovariate ? ["x"] : null), c => c.Differences.All(d =>
            Finite(d.Difference.Value, d.Difference.StandardError, d.Difference.DegreesOfFreedom, d.Difference.Lower95,
                d.Difference.PValue, d.HolmPValue, d.EffectSize)
            && d.Difference.StandardError > 0
            && (d.HolmPValue is null ? d.Difference.PValue is null : d.HolmPValue <= 1 && d.HolmPValue >= d.Difference.PValue)));
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
    public bool Means_agreement_and_warmth(int seed)
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
                    a => Finite(a.LowerLimit, a.TrendCorrelation))
            && Holds(
                PairedWarming.Of([.. x.Zip(y, (a, b) => new WarmedPair(a, b, 2))]), w => Finite(w.RateRatio.Value, w.PValue, w.Q10?.Value));
    }
}
