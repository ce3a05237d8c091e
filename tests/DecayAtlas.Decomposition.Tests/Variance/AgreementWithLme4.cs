namespace DecayAtlas.Decomposition.Tests.Variance;

/// <summary>Six unbalanced data sets against R lme4 and lmerTest; provenance in data/README.md.</summary>
public class AgreementWithLme4
{
    private static readonly TestTable Data = TestTable.Read("Variance", "mixed-models-data.csv");

    private static readonly Dictionary<(string Set, string Model, string Quantity), double> Reference =
        TestTable.Read("Variance", "mixed-models-reference.csv").Rows
            .ToDictionary(r => (r["set"], r["model"], r["quantity"]), r => r.Number("value"));

    public static TheoryData<string> Sets => ["one", "two", "three", "four", "five", "six"];

    private static TestTable.Row[] Rows(string set) => [.. Data.Rows.Where(r => r["set"] == set)];

    [Theory]
    [MemberData(nameof(Sets))]
    public void Variances_of_sites(string set) => Same(set, "one", ["site"]);

    [Theory]
    [MemberData(nameof(Sets))]
    public void Variances_of_ecosystems_sites_and_plots(string set) => Same(set, "nested", ["ecosystem", "site", "plot"]);

    private static void Same(string set, string model, string[] levels)
    {
        VarianceSplit split = VarianceComponents.Of(
            [.. Rows(set).Select(r => new NestedValue(r.Number("y"), [.. levels.Select(l => r[l])]))], levels).Value!;
        double total = split.Components.Sum(c => c.Variance);
        foreach (VarianceComponent c in split.Components)
        {
            double expected = Reference[(set, model, c.Level == "residual" ? "var.Residual" : "var." + c.Level)];
            Assert.True(Math.Abs(c.Variance - expected) < 2e-6 * total, $"{c.Level}: {c.Variance} against {expected}");
            Assert.Equal(c.Level != "residual" && expected < 1e-9, c.AtZero);
        }

        Assert.Equal(Reference[(set, model, "mean")], split.Mean.Value, 1e-6);
        Assert.Equal(1, split.Mean.StandardError / Reference[(set, model, "se.mean")], 1e-5);
        Assert.Equal(Reference[(set, model, "reml")], split.RestrictedDeviance, 1e-6);
    }

    [Theory]
    [InlineData("one")]
    [InlineData("two")]
    [InlineData("three")]
    [InlineData("four")]
    [InlineData("five")]
    public void The_share_of_sites_has_the_profile_interval_of_R(string set)
    {
        VarianceComponent site =
            VarianceComponents.Of([.. Rows(set).Select(r => new NestedValue(r.Number("y"), [r["site"]]))], ["site"]).Value!.Components[0];

        Assert.Equal(Reference[(set, "one", "share.lower")], site.ShareLower95!.Value, 1e-5);
        Assert.Equal(Reference[(set, "one", "share.upper")], site.ShareUpper95!.Value, 1e-5);
    }

    [Theory]
    [InlineData("two")]
    [InlineData("four")]
    [InlineData("five")]
    public void The_share_of_sites_over_plots_has_the_profile_interval_of_R(string set)
    {
        VarianceComponent site = VarianceComponents.Of(
            [.. Rows(set).Select(r => new NestedValue(r.Number("y"), [r["site"], r["plot"]]))], ["site", "plot"]).Value!.Components[0];

        Assert.Equal(Reference[(set, "two-level", "share.site")], site.Share, 1e-5);
        Assert.Equal(Reference[(set, "two-level", "share.lower")], site.ShareLower95!.Value, 1e-4);
        Assert.Equal(Reference[(set, "two-level", "share.upper")], site.ShareUpper95!.Value, 1e-4);
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void Groups_with_a_covariate_and_Satterthwaite_degrees_of_freedom(string set)
    {
        ComparedGroups compared = GroupComparison.Of(
            [.. Rows(set).Select(r => new GroupValue(r.Number("y"), r["group"], [r["site"]], [r.Number("x")]))], ["site"], ["x"]).Value!;

        Check(compared.Differences.Single(d => d is { First: "a", Second: "b" }).Difference, "groupb");
        Check(compared.Differences.Single(d => d is { First: "a", Second: "c" }).Difference, "groupc");
        Check(compared.Differences.Single(d => d is { First: "b", Second: "c" }).Difference, "c-b");
        Check(compared.Covariates[0].Slope, "x");
        Assert.Equal(Reference[(set, "compare", "reml")], compared.RestrictedDeviance, 1e-5);

        void Check(FixedEffect effect, string name)
        {
            Assert.Equal(Reference[(set, "compare", "est." + name)], effect.Value, 1e-6);
            Assert.Equal(1, effect.StandardError / Reference[(set, "compare", "se." + name)], 1e-5);
            Assert.Equal(1, effect.DegreesOfFreedom / Reference[(set, "compare", "df." + name)], 1e-3);
            if (name != "c-b")
                Assert.Equal(Reference[(set, "compare", "p." + name)], effect.PValue!.Value, 1e-5);
        }
    }
}
