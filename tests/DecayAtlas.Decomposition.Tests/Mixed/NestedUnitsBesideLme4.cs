namespace DecayAtlas.Decomposition.Tests.Mixed;

/// <summary>One outcome of nested units, six unbalanced data sets, against R lme4; provenance in data/README.md.</summary>
public class NestedUnitsBesideLme4
{
    private static readonly TestTable Data = TestTable.Read("Mixed", "nested-models-data.csv");

    private static readonly Dictionary<(string Set, string Model, string Quantity), double> Reference =
        TestTable.Read("Mixed", "nested-models-reference.csv").Rows
            .ToDictionary(r => (r["set"], r["model"], r["quantity"]), r => r.Number("value"));

    public static TheoryData<string> Sets => ["one", "two", "three", "four", "five", "six"];

    private static MixedFit Fit(string set, string[] factors, Func<TestTable.Row, double[]> fixedEffects) => MixedModel.Fit(
        [
            .. Data.Rows.Where(r => r["set"] == set)
                .Select(r => new MixedRecord(r.Number("y"), null, [.. factors.Select(f => r[f])], fixedEffects(r))),
        ],
        [.. factors.Select(f => new MixedFactor(f))], 1).Value!;

    /// <summary>Three groups and a number, sites random.</summary>
    internal static MixedFit Compared(string set) =>
        Fit(set, ["site"], r => [1, r["group"] == "b" ? 1 : 0, r["group"] == "c" ? 1 : 0, r.Number("x")]);

    private static MixedFit Fit(string set, params string[] factors) => Fit(set, factors, _ => [1]);

    [Theory]
    [MemberData(nameof(Sets))]
    public void Variances_of_sites(string set) => Same(set, "one", Fit(set, "site"));

    [Theory]
    [MemberData(nameof(Sets))]
    public void Variances_of_ecosystems_sites_and_plots(string set) => Same(set, "nested", Fit(set, "ecosystem", "site", "plot"));

    private static void Same(string set, string model, MixedFit fit)
    {
        double total = fit.Components.Sum(c => c.Covariance.First);
        foreach (MixedComponent c in fit.Components)
        {
            double expected = Reference[(set, model, c.Name == "residual" ? "var.Residual" : "var." + c.Name)];
            Assert.True(Math.Abs(c.Covariance.First - expected) < 2e-6 * total, $"{c.Name}: {c.Covariance.First} against {expected}");
            Assert.Equal(c.Name != "residual" && expected < 1e-9, c.FirstAtZero);
        }

        Assert.Equal(Reference[(set, model, "mean")], fit.FixedEffects(0)[0], 1e-6);
        Assert.Equal(1, fit.ErrorIfKnown(0, 1) / Reference[(set, model, "se.mean")], 1e-5);
        Assert.Equal(Reference[(set, model, "reml")], fit.RestrictedDeviance, 1e-6);
    }

    [Theory]
    [InlineData("one")]
    [InlineData("two")]
    [InlineData("three")]
    [InlineData("four")]
    [InlineData("five")]
    public void The_share_of_sites_has_the_profile_interval_of_R(string set)
    {
        (double lower, double upper) = Fit(set, "site").ShareInterval("site")!.Value;

        Assert.Equal(Reference[(set, "one", "share.lower")], lower, 1e-5);
        Assert.Equal(Reference[(set, "one", "share.upper")], upper, 1e-5);
    }

    [Theory]
    [InlineData("two")]
    [InlineData("four")]
    [InlineData("five")]
    public void The_share_of_sites_over_plots_has_the_profile_interval_of_R(string set)
    {
        MixedFit fit = Fit(set, "site", "plot");
        (double lower, double upper) = fit.ShareInterval("site")!.Value;

        Assert.Equal(Reference[(set, "two-level", "share.site")], fit.Components[0].FirstShare, 1e-5);
        Assert.Equal(Reference[(set, "two-level", "share.lower")], lower, 1e-4);
        Assert.Equal(Reference[(set, "two-level", "share.upper")], upper, 1e-4);
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void Groups_with_a_covariate(string set)
    {
        MixedFit fit = Compared(set);

        Check([0, 1, 0, 0], "groupb");
        Check([0, 0, 1, 0], "groupc");
        Check([0, -1, 1, 0], "c-b");
        Check([0, 0, 0, 1], "x");
        Assert.Equal(Reference[(set, "compare", "reml")], fit.RestrictedDeviance, 1e-5);

        void Check(double[] contrast, string name)
        {
            Assert.Equal(Reference[(set, "compare", "est." + name)], fit.Effect(0, contrast).Value, 1e-6);
            Assert.Equal(1, fit.ErrorIfKnown(0, contrast) / Reference[(set, "compare", "se." + name)], 1e-5);
        }
    }
}
