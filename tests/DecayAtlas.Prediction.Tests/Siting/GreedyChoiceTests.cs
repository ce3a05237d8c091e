using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Random;

namespace DecayAtlas.Prediction.Tests.Siting;

/// <summary>The choice of places and what it is told to gain, beside a regression whose answers have closed forms.</summary>
public class GreedyChoiceTests
{
    private const int Terms = 4, Count = 60;

    private static readonly ErrorCorrelation Errors = new(0.01, 0.02, 30_000);

    private static readonly SiteNoise Noise = new(0.004, 0.006);

    private readonly Matrix<double> _places, _prior;
    private readonly Vector<double> _mean;
    private readonly GeoPoint[] _points;
    private readonly double[] _local;

    public GreedyChoiceTests()
    {
        MersenneTwister random = new(5, threadSafe: false);
        _places = Matrix<double>.Build.Dense(Count, Terms, (_, t) => t == 0 ? 1 : Normal.Sample(random, 0, 1));
        Matrix<double> root = Matrix<double>.Build.Dense(Terms, Terms, (_, _) => 0.1 * Normal.Sample(random, 0, 1));
        _prior = root * root.Transpose();
        _mean = Vector<double>.Build.DenseOfArray([1, 0.5, -0.4, 0.2]);
        _points = [.. Enumerable.Range(0, Count).Select(_ => new GeoPoint(random.NextDouble(), 50 + random.NextDouble()))];
        _local = [.. Enumerable.Range(0, Count).Select(_ => 0.02 + 0.02 * random.NextDouble())];
    }

    // Bayesian linear regression (Lindley and Smith 1972, Journal of the Royal Statistical Society B 34:1-41, from memory): the covariance
    // of the coefficients after measurements Z with errors N is (C⁻¹ + ZᵀN⁻¹Z)⁻¹, which is inverted here as it stands
    [Fact]
    public void What_sites_leave_is_what_a_regression_with_correlated_errors_leaves()
    {
        SiteCovariance all = SiteCovariance.OfAll(Ensemble());
        int[] order = GreedyChoice.Of(all, 8, 0);
        double[] left = SiteGain.VariancesLeft(all, all, order);
        for (int n = 0; n <= order.Length; n++)
            Assert.Equal(VarianceAfter(order[..n]), left[n], 1e-12);
    }

    [Fact]
    public void Each_place_is_the_one_that_lowers_the_variance_most_after_those_before_it()
    {
        int[] order = GreedyChoice.Of(SiteCovariance.OfAll(Ensemble()), 5, 0);
        for (int n = 0; n < order.Length; n++)
        {
            int best = Enumerable.Range(0, Count).Except(order[..n]).MinBy(c => VarianceAfter([.. order[..n], c]));
            Assert.Equal(best, order[n]);
        }
    }

    // the conditional covariance of a normal distribution (Anderson 2003, Multivariate Statistical Analysis, section 2.5, from memory):
    // coefficients, what places are off by and what is measured there, existing sites first, as one matrix
    [Fact]
    public void With_kriging_what_sites_leave_is_the_conditional_variance_of_one_normal_distribution()
    {
        ErringPlace[] known = [.. _points[..5].Select(p => new ErringPlace(new(p.LongitudeDegrees + 0.02, p.LatitudeDegrees), 0.03))];
        ErringPlace[] ofMean = [.. _points[5..20].Select((p, i) => new ErringPlace(p, _local[5 + i], 1.0 / 15))];
        double prior = 0.004;
        Surroundings around =
            new(Errors, [.. _points.Select((p, i) => new ErringPlace(p, _local[i]))], [ofMean], [prior], known, 0.003);
        SiteCovariance all = SiteCovariance.OfAll(Ensemble() with { Around = around });
        int[] order = GreedyChoice.Of(all, 6, 0);
        double[] left = SiteGain.VariancesLeft(all, all, order);
        for (int n = 0; n <= order.Length; n++)
        {
            int[] sites = order[..n];
            ErringPlace[] measured = [.. known, .. sites.Select(c => new ErringPlace(_points[c], _local[c]))];
            bool IsNew(int i) => i >= known.Length;
            int Site(int i) => sites[i - known.Length];
            Matrix<double> y = Matrix<double>.Build.Dense(measured.Length, measured.Length, (i, j) =>
                (i == j ? measured[i].Variance + (IsNew(i) ? 0.004 : 0.003) : Alike(measured[i], measured[j]))
                + (IsNew(i) && IsNew(j) ? 0.006 + _places.Row(Site(i)) * (_prior * _places.Row(Site(j))) : 0));
            Vector<double> with = Vector<double>.Build.Dense(measured.Length, i => ofMean.Sum(p => p.Share * Alike(measured[i], p))
                + (IsNew(i) ? _places.Row(Site(i)) * (_prior * _mean) : 0));
            Assert.Equal(_mean * (_prior * _mean) + prior - with * (y.Inverse() * with), left[n], 1e-12);
        }

        static double Alike(ErringPlace one, ErringPlace two) => 2.0 / 3 * Math.Sqrt(one.Variance * two.Variance)
            * Math.Exp(-one.Point.GroundDistanceMetres(two.Point) / 30_000);
    }

    [Fact]
    public void Gains_of_one_site_are_those_of_the_regression()
    {
        double[] gains = SiteCovariance.OfAll(Ensemble()).GainsOfOne();
        for (int c = 0; c < Count; c++)
            Assert.Equal(VarianceAfter([]) - VarianceAfter([c]), gains[c], 1e-12);
    }

    [Fact]
    public void Chosen_places_lie_apart()
    {
        int[] order = GreedyChoice.Of(SiteCovariance.OfAll(Ensemble()), 6, 25_000);
        Assert.Equal(6, order.Length);
        Assert.All(order.SelectMany((a, i) => order[..i].Select(b => _points[a].GroundDistanceMetres(_points[b]))),
            d => Assert.True(d >= 25_000));
        Assert.True(GreedyChoice.Of(SiteCovariance.OfAll(Ensemble()), 6, 500_000).Length == 1);
    }

    /// <summary>Members that agree by chance alone: places tell nothing of the mean.</summary>
    [Fact]
    public void What_is_chance_is_not_told_as_a_gain()
    {
        MersenneTwister random = new(8, threadSafe: false);
        double[] told = new double[40], byThemselves = new double[40];
        for (int world = 0; world < told.Length; world++)
        {
            SiteEnsemble chance = Ensemble() with
            {
                AtPlaces = [.. Enumerable.Range(0, 50).Select(_ => Drawn(Count, 0.3))],
                OfMeans = [.. Enumerable.Range(0, 50).Select(_ => Drawn(1, 0.1))],
                Blocks = 1000,
            };
            SiteCovariance all = SiteCovariance.OfAll(chance);
            double[] left = SiteGain.VariancesLeft(all, all, GreedyChoice.Of(all, 5, 0));
            byThemselves[world] = left[^1] / left[0];
            told[world] = SiteGain.SharesLeft(chance, s => GreedyChoice.Of(s, 5, 0))[^1];
        }
        // the members that chose tell of a quarter gained and more, where nothing is
        Assert.True(byThemselves.Average() < 0.75, $"{byThemselves.Average()}");
        // nothing is gained, and weights of no use do a little harm
        Assert.InRange(told.Average(), 1, 1.5);

        double[] Drawn(int count, double sd) => [.. Enumerable.Range(0, count).Select(_ => Normal.Sample(random, 0, sd))];
    }

    [Fact]
    public void Spread_out_places_lie_farther_apart_than_random_ones()
    {
        Assert.Equal([.. Enumerable.Range(0, Count)], OtherChoices.Spread(_points, Count).Order());
        Assert.Equal([.. Enumerable.Range(0, Count)], OtherChoices.AtRandom(Count, Count + 5, 1).Order());
        double spread = Closest(OtherChoices.Spread(_points, 8));
        Assert.All(Enumerable.Range(0, 10), d => Assert.True(spread > Closest(OtherChoices.AtRandom(Count, 8, d))));

        double Closest(int[] order) =>
            order.SelectMany((a, i) => order[..i].Select(b => _points[a].GroundDistanceMetres(_points[b]))).Min();
    }

    /// <summary>Pairs of members whose covariance is that of the prior to the last digit: its root, with both signs.</summary>
    private SiteEnsemble Ensemble()
    {
        Matrix<double> root = _prior.Cholesky().Factor * Math.Sqrt((2 * Terms - 1) / 2.0 * 99 / 100);
        Vector<double>[] coefficients =
            [.. Enumerable.Range(0, Terms).SelectMany(t => new[] { root.Column(t), -root.Column(t) })];
        return new(_points, [.. coefficients.Select(b => (_places * b).ToArray())], [.. coefficients.Select(b => new[] { _mean * b })], 100,
            _local, Errors, Noise);
    }

    private double VarianceAfter(int[] order)
    {
        Matrix<double> precision = _prior.Inverse();
        if (order.Length > 0)
        {
            Matrix<double> z = Matrix<double>.Build.Dense(order.Length, Terms, (i, t) => _places[order[i], t]);
            Matrix<double> noise = Matrix<double>.Build.Dense(order.Length, order.Length, (i, j) =>
                0.006 + (i == j ? 0.004 + _local[order[i]] : 2.0 / 3 * Math.Sqrt(_local[order[i]] * _local[order[j]])
                    * Math.Exp(-_points[order[i]].GroundDistanceMetres(_points[order[j]]) / 30_000)));
            precision += z.Transpose() * noise.Inverse() * z;
        }
        return _mean * (precision.Inverse() * _mean);
    }
}
