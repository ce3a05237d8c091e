namespace DecayAtlas.Decomposition.Tests.Mixed;

/// <summary>What uncertain variances add to the errors of effects, and degrees of freedom, against R pbkrtest, also where a variance is
/// found to be zero; provenance in data/README.md.</summary>
public class EffectsByKenwardAndRoger
{
    private static readonly TestTable Reference = TestTable.Read("Mixed", "kenward-roger-reference.csv");

    [Theory]
    [MemberData(nameof(AgreementWithR.Sets), MemberType = typeof(AgreementWithR))]
    public void Sites_crossed_with_lots_and_their_plots(string set) => Same(
        set, "crossed", AgreementWithR.Crossed(set, "site", "lot", "plot"),
        effect => [.. ((string[])["(Intercept)", "groupb", "groupc", "x"]).Select(e => e == effect ? 1.0 : 0)]);

    [Theory]
    [MemberData(nameof(NestedUnitsBesideLme4.Sets), MemberType = typeof(NestedUnitsBesideLme4))]
    public void Groups_of_sites(string set) => Same(set, "compare", NestedUnitsBesideLme4.Compared(set), effect => effect switch
    {
        "groupb" => [0, 1, 0, 0],
        "groupc" => [0, 0, 1, 0],
        "c-b" => [0, -1, 1, 0],
        _ => [0, 0, 0, 1],
    });

    // hundreds of burials, of which the program draws: what few sites or seasons tell of their scatter must not be left to that
    [Theory]
    [InlineData("treatment", "site", "cell")]
    [InlineData("season", "site", "x", "cell")]
    public void Effects_between_few_units_of_many_burials(string model, params string[] factors)
    {
        MixedFit fit = MixedModel.Fit(
            [
                .. TestTable.Read("Mixed", "few-units-data.csv").Rows.Where(r => r["model"] == model)
                    .Select(r => new MixedRecord(r.Number("y"), null, [.. factors.Select(f => r[f])], [1, r.Number("x")])),
            ],
            [.. factors.Select(f => new MixedFactor(f))], 1).Value!;
        TestTable.Row row = Reference.Rows.Single(r => r["model"] == model);

        FixedEffect effect = fit.Effect(0, [0, 1]);

        Assert.Equal(1, effect.StandardError / row.Number("se"), 1e-3);
        Assert.Equal(1, effect.DegreesOfFreedom / row.Number("df"), 0.01);
        Assert.Equal(row.Number("p"), effect.PValue!.Value, 2e-3);
    }

    private static void Same(string set, string model, MixedFit fit, Func<string, double[]> contrast)
    {
        TestTable.Row[] rows = [.. Reference.Rows.Where(r => r["set"] == set && r["model"] == model)];
        Assert.Equal(4, rows.Length);
        foreach (TestTable.Row row in rows)
        {
            FixedEffect effect = fit.Effect(0, contrast(row["effect"]));
            Assert.Equal(1, effect.StandardError / row.Number("se"), 1e-5);
            Assert.Equal(1, effect.DegreesOfFreedom / row.Number("df"), 1e-4);
            Assert.Equal(row.Number("p"), effect.PValue!.Value, 1e-5);
        }
    }
}
