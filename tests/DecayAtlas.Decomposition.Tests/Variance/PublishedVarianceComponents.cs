namespace DecayAtlas.Decomposition.Tests.Variance;

/// <summary>REML on the two trials of Davies and Goldsmith 1972; estimates as given by R lme4 1.1-31.</summary>
public class PublishedVarianceComponents
{
    private static NestedValue[] Dyestuff => [.. TestTable.Read("Variance", "davies_goldsmith_dyestuff.csv").Rows
        .Select(r => new NestedValue(r.Number("Yield"), [r["Batch"]]))];

    private static NestedValue[] Pastes => [.. TestTable.Read("Variance", "davies_goldsmith_pastes.csv").Rows
        .Select(r => new NestedValue(r.Number("strength"), [r["batch"], r["cask"]]))];

    [Fact]
    public void Dyestuff_batches()
    {
        VarianceSplit split = VarianceComponents.Of(Dyestuff, ["batch"]).Value!;

        Assert.Equal(1764.05, split.Components[0].Variance, 0.005);
        Assert.Equal(2451.25, split.Components[1].Variance, 0.005);
        Assert.Equal(1527.5, split.Mean.Value, 9);
        // balanced: analysis of variance gives the same, se(mean) = √(MS_batch/30) on 5 degrees of freedom, MS_batch = 2451.25 + 5 ·
        // 1764.05
        Assert.Equal(Math.Sqrt((2451.25 + 5 * 1764.05) / 30), split.Mean.StandardError, 1e-4);
        Assert.Equal(5, split.Mean.DegreesOfFreedom, 1e-3);
        Assert.Equal(1764.05 / 4215.3, split.Components[0].Share, 1e-6);
        Assert.Equal(319.6543, split.RestrictedDeviance, 1e-4);     // lme4: REML criterion at convergence 319.6543
    }

    [Fact]
    public void Pastes_nested()
    {
        VarianceSplit split = VarianceComponents.Of(Pastes, ["batch", "cask"]).Value!;

        Assert.Equal(1.65731, split.Components[0].Variance, 1e-4);
        Assert.Equal(8.43367, split.Components[1].Variance, 1e-4);
        Assert.Equal(0.67800, split.Components[2].Variance, 1e-5);
        Assert.Equal(1, split.Components.Sum(c => c.Share), 12);
        Assert.Equal([10, 30, 60], split.Components.Select(c => c.Groups));
    }

    [Fact]
    public void Repeatability_of_a_mean_rises_with_planned_replicates()
    {
        VarianceSplit split = VarianceComponents.Of(Pastes, ["batch", "cask"]).Value!;
        double b = split.Components[0].Variance, c = split.Components[1].Variance, e = split.Components[2].Variance;

        Assert.Equal(split.Components[0].Share, split.Repeatability("batch", 1, 1), 12);
        Assert.Equal(b / (b + c / 3 + e / 6), split.Repeatability("batch", 3, 2), 12);
        Assert.Equal((b + c) / (b + c + e / 4), split.Repeatability("cask", 4), 12);
    }
}
