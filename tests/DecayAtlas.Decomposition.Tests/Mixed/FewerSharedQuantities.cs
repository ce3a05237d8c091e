using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DecayAtlas.Decomposition.Tests.Mixed;

/// <summary>Many quantities of a lot or a batch, in a few numbers, change nothing that is found.</summary>
public class FewerSharedQuantities
{
    private static readonly double[] One = [1, 1];

    /// <summary>Eighteen quantities a burial, whose effects follow from what was weighed, each on its own way.</summary>
    private static MixedRecord[] Many(int seed)
    {
        RandomStream random = new((ulong)seed, "quantities");
        return
        [
            .. new InventedCampaigns(seed, 15).Records.Select(r =>
            {
                double fast = 0.25 + 0.3 * random.NextUniform(), slow = 0.6 + 0.2 * random.NextUniform();
                return r with
                {
                    Shared =
                    [
                        .. Enumerable.Range(0, 18).Select(q => new SharedLoading(
                            q < 6 ? $"{r.Shared[0].Quantity} {q}" : q < 12 ? $"batch {r.Units[0]![..2]} {q}" : $"day {r.Units[1]} {q}",
                            0.06 * Math.Cos(1.3 * q + fast * (1 + q % 3) + slow * slow), 0.02 * Math.Sin(q + fast) * slow)),
                    ],
                };
            }),
        ];
    }

    [Fact]
    public void The_covariance_of_all_records_stays()
    {
        MixedRecord[] records = Many(1), reduced = SharedQuantities.Reduce(records, One, 2);

        Assert.InRange(reduced.Average(r => r.Shared.Count), 1, 14);
        for (int i = 0; i < records.Length; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                OutcomeCovariance before = Between(records[i], records[j]), after = Between(reduced[i], reduced[j]);
                double first = after.First + (i == j ? reduced[i].MeanError.First : 0);
                double second = after.Second + (i == j ? reduced[i].MeanError.Second : 0);
                // effects of missing outcomes are gone
                Assert.Equal(before.First, first, 1e-6);
                if (records[i].Second is not null && records[j].Second is not null)
                    Assert.Equal(before.Second, second, 1e-6);
            }
        }
    }

    [Fact]
    public void The_fit_is_that_of_the_whole_covariance_of_all_quantities()
    {
        MixedRecord[] records = Many(2);
        MixedFit fit = MixedModel.Fit(records, InventedCampaigns.Factors, 2).Value!;
        OutcomeCovariance[] found = [.. fit.Components.Select(c => c.Covariance)];

        (double deviance, Vector<double> effects, Matrix<double> covariance) = Whole(records, found);

        Assert.Equal(deviance, fit.RestrictedDeviance, 1e-5);
        for (int j = 0; j < 4; j++)
        {
            double error = Math.Sqrt(covariance[j, j]);
            Assert.Equal(0, (fit.FixedEffects(j / 2)[j % 2] - effects[j]) / error, 1e-6);
            Assert.Equal(1, fit.ErrorIfKnown(j / 2, j % 2 == 0 ? 1 : 0, j % 2) / error, 1e-6);
        }

        // and the variances are at the least of it
        double step = 0.003 * found.Sum(g => g.First), small = 0.003 * found.Sum(g => g.Second);
        int tried = 0;
        for (int b = 0; b < found.Length; b++)
        {
            OutcomeCovariance g = found[b];
            OutcomeCovariance[] moves =
            [
                g with { First = g.First + step }, g with { First = g.First - step },
                g with { Second = g.Second + small }, g with { Second = g.Second - small },
            ];
            foreach (OutcomeCovariance move in moves.Where(m => m.First >= 0 && m.Second >= 0 && m.First * m.Second >= m.Cross * m.Cross))
            {
                Assert.True(Whole(records, [.. found[..b], move, .. found[(b + 1)..]]).Deviance > deviance);
                tried++;
            }
        }

        Assert.True(tried > 6);
    }

    [Fact]
    public void What_one_mean_has_alone_is_its_own_error_as_if_shared_by_its_burials()
    {
        MixedRecord[] means = [.. new InventedCampaigns(4).Records.Select((r, i) => r with
        {
            Count = 3,
            SumsOfSquares = new OutcomeCovariance(0.08 + 0.01 * (i % 3), 0, r.Second is null ? 0 : 0.004),
            Shared = [new SharedLoading($"day {i}", 0.2, -0.01), new SharedLoading($"hour {i}", 0.05, 0.02)],
        })];
        MixedFit named = MixedModel.Fit(means, InventedCampaigns.Factors, 2).Value!;
        MixedFit stated = MixedModel.Fit(
            [.. means.Select(r => r with { Shared = [], MeanError = new OutcomeCovariance(0.0425, -0.001, 0.0005) })],
            InventedCampaigns.Factors, 2).Value!;
        // the same, each burial of the mean by itself, at the same mean and with the same sums of squares
        MixedFit single = MixedModel.Fit([.. means.SelectMany((r, i) => Burials(r, i))], InventedCampaigns.Factors, 2).Value!;

        foreach (MixedFit other in (MixedFit[])[stated, single])
        {
            foreach ((MixedComponent x, MixedComponent y) in named.Components.Zip(other.Components))
                Assert.Equal(1, x.Covariance.First / y.Covariance.First, 1e-5);
            Assert.Equal(1, named.ErrorIfKnown(0, 0, 1) / other.ErrorIfKnown(0, 0, 1), 1e-5);
        }

        static IEnumerable<MixedRecord> Burials(MixedRecord r, int i)
        {
            // differences of the first outcome along (1, -1, 0), of the second along (1, 1, -2), which are orthogonal
            double a = Math.Sqrt(r.SumsOfSquares.First / 2), b = Math.Sqrt(r.SumsOfSquares.Second / 6);
            foreach ((double x, double y) in ((double, double)[])[(a, b), (-a, b), (0, -2 * b)])
                yield return r with { First = r.First + x, Second = r.Second + y, Count = 1, SumsOfSquares = default };
        }
    }

    [Fact]
    public void A_fit_that_starts_near_another_ends_where_it_would_end_anyway()
    {
        MixedRecord[] records = [.. new InventedCampaigns(6).Records];
        MixedFit all = MixedModel.Fit(records, InventedCampaigns.Factors, 2).Value!;

        MixedFit near = MixedModel.Fit(records[4..], InventedCampaigns.Factors, 2, all).Value!;
        MixedFit far = MixedModel.Fit(records[4..], InventedCampaigns.Factors, 2).Value!;

        Assert.Equal(far.RestrictedDeviance, near.RestrictedDeviance, 1e-8);
        foreach ((MixedComponent x, MixedComponent y) in near.Components.Zip(far.Components))
            Assert.Equal(1, x.Covariance.First / y.Covariance.First, 1e-6);
        Assert.Equal(0, (near.Effect(1, [0, 1]).Value - far.Effect(1, [0, 1]).Value) / far.Effect(1, [0, 1]).StandardError, 1e-6);
    }

    private static OutcomeCovariance Between(MixedRecord a, MixedRecord b)
    {
        double first = 0, second = 0;
        foreach (SharedLoading x in a.Shared)
        {
            foreach (SharedLoading y in b.Shared.Where(y => y.Quantity == x.Quantity))
                (first, second) = (first + x.OnFirst * y.OnFirst, second + x.OnSecond * y.OnSecond);
        }

        return new OutcomeCovariance(first, 0, second);
    }

    /// <summary>-2 l, β and its covariance by whole matrices, every quantity by itself.</summary>
    private static (double Deviance, Vector<double> Effects, Matrix<double> Covariance) Whole(
        MixedRecord[] records, OutcomeCovariance[] components)
    {
        (MixedRecord Record, int Outcome, double Value)[] values =
        [
            .. records.Select(r => (r, 0, r.First!.Value)),
            .. records.Where(r => r.Second is not null).Select(r => (r, 1, r.Second!.Value)),
        ];
        int n = values.Length;
        Matrix<double> v = Matrix<double>.Build.Dense(n, n, (i, j) =>
        {
            (MixedRecord a, int x, _) = values[i];
            (MixedRecord b, int y, _) = values[j];
            double sum = ReferenceEquals(a, b) ? Of(a.Error, x, y) + Of(components[^1], x, y) : 0;
            for (int f = 0; f < a.Units.Count; f++)
                sum += a.Units[f] == b.Units[f] ? Of(components[f], x, y) : 0;
            foreach (SharedLoading q in a.Shared)
            {
                foreach (SharedLoading p in b.Shared.Where(p => p.Quantity == q.Quantity))
                    sum += (x == 0 ? q.OnFirst : q.OnSecond) * (y == 0 ? p.OnFirst : p.OnSecond);
            }

            return sum;
        });
        Matrix<double> design = Matrix<double>.Build.Dense(n, 4, (i, j) =>
            j / 2 == values[i].Outcome ? values[i].Record.FixedEffects[j % 2] : 0);
        Vector<double> outcomes = Vector<double>.Build.Dense(n, i => values[i].Value);
        Cholesky<double> factor = v.Cholesky();
        Matrix<double> solved = factor.Solve(design), information = design.Transpose() * solved, covariance = information.Inverse();
        Vector<double> effects = covariance * (solved.Transpose() * outcomes), rest = outcomes - design * effects;
        double deviance = factor.DeterminantLn + Math.Log(information.Determinant()) + rest.DotProduct(factor.Solve(rest))
            + (n - 4) * Math.Log(2 * Math.PI);
        return (deviance, effects, covariance);

        static double Of(OutcomeCovariance c, int x, int y) => x != y ? c.Cross : x == 0 ? c.First : c.Second;
    }
}
