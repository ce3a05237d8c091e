using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Decomposition.Tests.Variance;

/// <summary>What counts, mean and sum of squares of a unit say is all that the likelihood asks of its values.</summary>
public class SummedUp
{
    private static readonly string[] Levels = ["ecosystem", "site", "plot"];

    // 5 ecosystems, 4 to 12 sites each, 1 or 2 plots, 1 to 3 burials: many sites of one build, some of their own
    private static NestedValue[] Burials()
    {
        RandomStream random = new(41, "summed up");
        List<NestedValue> values = new();
        for (int e = 0; e < 5; e++)
        {
            double ecosystem = 0.5 * random.NextNormalPair().First;
            for (int s = 0; s < 4 + 2 * e; s++)
            {
                double site = ecosystem + 0.4 * random.NextNormalPair().First;
                for (int p = 0; p < 1 + s % 2; p++)
                {
                    double plot = site + 0.2 * random.NextNormalPair().First;
                    for (int b = 0; b < 1 + (s + p) % 3; b++)
                        values.Add(new NestedValue(plot + 0.3 * random.NextNormalPair().First, [$"e{e}", $"s{s}", $"p{p}"]));
                }
            }
        }

        return [.. values];
    }

    private static NestedValue[] Sums(IEnumerable<NestedValue> values) =>
    [
        .. values.GroupBy(v => string.Join('/', v.Units)).Select(g =>
        {
            double mean = g.Average(v => v.Value);
            return new NestedValue(mean, g.First().Units, g.Count(), g.Sum(v => (v.Value - mean) * (v.Value - mean)));
        }),
    ];

    [Fact]
    public void Shares_of_sums_are_those_of_the_values()
    {
        NestedValue[] values = Burials();
        VarianceSplit one = VarianceComponents.Of(values, Levels).Value!, summed = VarianceComponents.Of(Sums(values), Levels).Value!;
        Assert.Equal(one.RestrictedDeviance, summed.RestrictedDeviance, 1e-8);
        Assert.Equal(one.Observations, summed.Observations);
        foreach ((VarianceComponent a, VarianceComponent b) in one.Components.Zip(summed.Components))
        {
            Assert.Equal(a.Variance, b.Variance, 1e-7);
            Assert.Equal(a.ShareLower95 ?? 0, b.ShareLower95 ?? 0, 1e-6);
            Assert.Equal(a.ShareUpper95 ?? 0, b.ShareUpper95 ?? 0, 1e-6);
        }
    }

    [Fact]
    public void Units_of_one_build_taken_together_give_the_likelihood_of_the_whole_matrix()
    {
        // -2 l = log|V| + log|1ᵀV⁻¹1| + rᵀV⁻¹r + (n - 1) log 2π (Patterson and Thompson 1971), with V written out over all values
        NestedValue[] values = Burials();
        VarianceSplit split = VarianceComponents.Of(values, Levels).Value!;
        int n = values.Length;
        Matrix<double> v = Matrix<double>.Build.Dense(n, n, (i, j) =>
        {
            double sum = i == j ? split.Components[^1].Variance : 0;
            for (int level = 0; level < Levels.Length && values[i].Units[level] == values[j].Units[level]; level++)
                sum += split.Components[level].Variance;
            return sum;
        });
        Vector<double> one = Vector<double>.Build.Dense(n, 1), y = Vector<double>.Build.Dense(n, i => values[i].Value);
        Matrix<double> inverse = v.Inverse();
        double information = one * inverse * one, mean = one * inverse * y / information;
        Vector<double> r = y - mean * one;
        double logDeterminant = v.Cholesky().DeterminantLn;
        Assert.Equal(mean, split.Mean.Value, 1e-8);
        Assert.Equal(logDeterminant + Math.Log(information) + r * inverse * r + (n - 1) * Math.Log(2 * Math.PI), split.RestrictedDeviance,
            1e-6);
    }
}
