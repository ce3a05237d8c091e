namespace DecayAtlas.Decomposition.Tests.Mixed;

/// <summary>Ten unbalanced data sets, units crossed and nested, against R lme4, metafor and nlme; provenance in
/// data/README.md.</summary>
public class AgreementWithR
{
    private static readonly TestTable Data = TestTable.Read("Mixed", "joint-models-data.csv");

    private static readonly Dictionary<(string Set, string Model, string Quantity), double> Reference =
        TestTable.Read("Mixed", "joint-models-reference.csv").Rows
            .ToDictionary(r => (r["set"], r["model"], r["quantity"]), r => r.Number("value"));

    public static TheoryData<string> Sets => ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];

    private static TestTable.Row[] Rows(string set) => [.. Data.Rows.Where(r => r["set"] == set)];

    internal static double[] GroupsAndX(TestTable.Row r) => [1, r["group"] == "b" ? 1 : 0, r["group"] == "c" ? 1 : 0, r.Number("x")];

    internal static MixedFit Crossed(string set, params string[] factors) => MixedModel.Fit(
        [.. Rows(set).Select(r => new MixedRecord(r.Number("y1"), null, [.. factors.Select(f => r[f])], GroupsAndX(r)))],
        [.. factors.Select(f => new MixedFactor(f))], 1).Value!;

    [Theory]
    [MemberData(nameof(Sets))]
    public void Sites_crossed_with_lots_and_their_plots_have_the_variances_and_effects_of_lme4(string set)
    {
        MixedFit fit = Crossed(set, "site", "lot", "plot");

        double total = fit.Components.Sum(c => c.Covariance.First);
        foreach (MixedComponent c in fit.Components)
        {
            double expected = Reference[(set, "lme4", c.Name == "residual" ? "var.Residual" : "var." + c.Name)];
            Assert.True(Math.Abs(c.Covariance.First - expected) < 1e-5 * total, $"{c.Name}: {c.Covariance.First} against {expected}");
            Assert.Equal(expected < 1e-9, c.FirstAtZero);
        }

        Assert.Equal(Reference[(set, "lme4", "reml")], fit.RestrictedDeviance, 1e-6);
        string[] names = ["(Intercept)", "groupb", "groupc", "x"];
        for (int j = 0; j < 4; j++)
        {
            double error = Reference[(set, "lme4", "se." + names[j])];
            Assert.Equal(0, (fit.FixedEffects(0)[j] - Reference[(set, "lme4", "est." + names[j])]) / error, 1e-5);
            Assert.Equal(1, fit.ErrorIfKnown(0, [.. names.Select((_, i) => i == j ? 1.0 : 0)]) / error, 1e-5);
        }
    }

    [Theory]
    [InlineData("one")]
    [InlineData("two")]
    [InlineData("three")]
    [InlineData("four")]
    public void Intervals_of_the_variance_of_sites_and_of_its_share_are_where_the_criterion_of_R_has_risen_enough(string set)
    {
        MixedFit fit = Crossed(set, "site", "lot");
        (double Lower, double Upper) variance = fit.VarianceInterval("site")!.Value, share = fit.ShareInterval("site")!.Value;

        Assert.Equal(1, variance.Lower / Reference[(set, "profile", "var.lower")], 1e-5);
        Assert.Equal(1, variance.Upper / Reference[(set, "profile", "var.upper")], 1e-5);
        Assert.Equal(1, share.Lower / Reference[(set, "profile", "share.lower")], 1e-5);
        Assert.Equal(1, share.Upper / Reference[(set, "profile", "share.upper")], 1e-5);
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void Values_of_sites_are_those_of_the_whole_matrices_in_R(string set)
    {
        MixedFit fit = Crossed(set, "site", "lot", "plot");
        UnitValue[] sites = [.. fit.Values("site")];
        string[] some = [.. Reference.Keys.Where(k => k.Set == set && k.Quantity.StartsWith("value.", StringComparison.Ordinal))
            .Select(k => k.Quantity[6..])];

        Assert.Equal(4, some.Length);
        foreach (string site in some)
        {
            UnitValue value = sites.Single(s => s.Unit == site);
            double variance = Reference[(set, "lme4", "pev." + site)];
            Assert.Equal(0, (value.Value - Reference[(set, "lme4", "value." + site)]) / Math.Sqrt(variance), 1e-4);
            // the uncertain variances can only add
            Assert.InRange(value.StandardError * value.StandardError / variance, 1 - 1e-5, 3);
            Assert.Equal(Rows(set).Where(r => r["site"] == site).Average(r => r.Number("y1")), value.RawMean!.Value, 1e-12);
        }
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void Two_outcomes_with_known_errors_some_of_them_shared_agree_with_metafor(string set)
    {
        MixedFit fit = MixedModel.Fit(
            [.. Rows(set).Select(r => new MixedRecord(r.Number("k1"), Second(r, "k2"), [r["site"]], GroupsAndX(r))
            {
                Error = new OutcomeCovariance(r.Number("v1"), r.Number("v12"), r.Number("v2")),
                Shared = [new SharedLoading(r["lot"], r.Number("c1"), r.Number("c2"))],
            })],
            [new MixedFactor("site")], 2).Value!;

        Same(set, "metafor", fit);
        Assert.Equal(Reference[(set, "metafor", "reml")], fit.RestrictedDeviance, 1e-5);
        foreach ((string outcome, int number) in (ReadOnlySpan<(string, int)>)[("k", 0), ("s", 1)])
        {
            string[] names = ["outcome" + outcome, $"outcome{outcome}:groupb", $"outcome{outcome}:groupc", $"outcome{outcome}:x"];
            for (int j = 0; j < 4; j++)
            {
                double error = Reference[(set, "metafor", "se." + names[j])];
                Assert.Equal(0, (fit.FixedEffects(number)[j] - Reference[(set, "metafor", "est." + names[j])]) / error, 1e-5);
                Assert.Equal(1, fit.ErrorIfKnown(number, [.. names.Select((_, i) => i == j ? 1.0 : 0)]) / error, 1e-5);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void Two_outcomes_with_residuals_of_their_own_agree_with_nlme(string set)
    {
        MixedFit fit = MixedModel.Fit(
            [.. Rows(set).Select(r => new MixedRecord(
                r.Number("y1"), r["k2"].Length > 0 ? r.Number("y2") : null, [r["site"]], [1, r.Number("x")]))],
            [new MixedFactor("site")], 2).Value!;

        Same(set, "nlme", fit);
        Assert.Equal(Reference[(set, "nlme", "reml")], fit.RestrictedDeviance, 1e-5);
    }

    private static double? Second(TestTable.Row r, string column) => r[column].Length > 0 ? r.Number(column) : null;

    private static void Same(string set, string model, MixedFit fit)
    {
        foreach ((string name, MixedComponent c) in (ReadOnlySpan<(string, MixedComponent)>)[("site", fit.Components[0]),
            ("res", fit.Components[1])])
        {
            double first = Reference[(set, model, name + ".k")], second = Reference[(set, model, name + ".s")];
            Assert.Equal(1, c.Covariance.First / first, 1e-5);
            Assert.Equal(1, c.Covariance.Second / second, 1e-5);
            Assert.Equal(0, (c.Covariance.Cross - Reference[(set, model, name + ".cross")]) / Math.Sqrt(first * second), 1e-5);
        }
    }
}
