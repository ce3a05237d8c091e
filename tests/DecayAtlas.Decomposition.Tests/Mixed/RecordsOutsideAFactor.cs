namespace DecayAtlas.Decomposition.Tests.Mixed;

/// <summary>Records that stand in no unit of a factor: noted burials with an effect of their contribution that others have not.</summary>
public class RecordsOutsideAFactor
{
    private static readonly TestTable Data = TestTable.Read("Mixed", "joint-models-data.csv");

    // R lme4, whose term of lots is 0 for burials up to 12 of x; provenance in data/README.md
    private static readonly Dictionary<(string Set, string Quantity), double> Reference =
        TestTable.Read("Mixed", "missing-units-reference.csv").Rows.ToDictionary(r => (r["set"], r["quantity"]), r => r.Number("value"));

    private static readonly MixedFactor[] Factors = [new("site"), new("noted")];

    private static MixedRecord[] Records(string set) =>
    [
        .. Data.Rows.Where(r => r["set"] == set).Select(r => new MixedRecord(
            r.Number("y1"), null, [r["site"], r.Number("x") > 12 ? r["lot"] : null],
            [1, r["group"] == "b" ? 1 : 0, r["group"] == "c" ? 1 : 0])),
    ];

    [Theory]
    [MemberData(nameof(AgreementWithR.Sets), MemberType = typeof(AgreementWithR))]
    public void A_factor_of_some_records_has_the_variance_and_effects_of_lme4(string set)
    {
        MixedFit fit = MixedModel.Fit(Records(set), Factors, 1).Value!;

        string[] components = ["var.site", "var.lot", "var.Residual"];
        double total = fit.Components.Sum(c => c.Covariance.First);
        foreach ((MixedComponent c, string name) in fit.Components.Zip(components))
            Assert.True(Math.Abs(c.Covariance.First - Reference[(set, name)]) < 1e-5 * total, $"{name}: {c.Covariance.First}");
        Assert.Equal(Reference[(set, "reml")], fit.RestrictedDeviance, 1e-6);
        string[] effects = ["(Intercept)", "groupb", "groupc"];
        for (int j = 0; j < 3; j++)
        {
            double error = Reference[(set, "se." + effects[j])];
            Assert.Equal(0, (fit.FixedEffects(0)[j] - Reference[(set, "est." + effects[j])]) / error, 1e-5);
            Assert.Equal(1, fit.ErrorIfKnown(0, [.. effects.Select((_, i) => i == j ? 1.0 : 0)]) / error, 1e-5);
        }
    }

    [Fact]
    public void A_sites_value_stands_in_its_factors_only()
    {
        InventedCampaigns invented = new(3);
        MixedRecord[] records =
        [
            .. invented.Records.Select(r => r with
            {
                First = r.First + 0.5 * Math.Cos(r.Units[0]![^1]), Units = [.. r.Units, Ecosystem(r.Units[0]!)],
            }),
        ];
        MixedFit fit = MixedModel.Fit(records, [.. InventedCampaigns.Factors, new("ecosystem")], 2).Value!;

        UnitValue[] alone = [.. fit.Values("site")], together = [.. fit.Values("site", "ecosystem")];

        Assert.Contains(together.Zip(alone), x => Ecosystem(x.First.Unit) is not null && x.First.Value != x.Second.Value);
        Assert.All(together.Zip(alone).Where(x => Ecosystem(x.First.Unit) is null), x => Assert.Equal(x.Second.Value, x.First.Value));
        Assert.Equal(6, fit.Values("ecosystem").Count(v => v.Outcome == 0));
        Assert.NotNull(fit.VarianceInterval("ecosystem"));

        static string? Ecosystem(string site) => site.EndsWith('3') ? null : $"e{site[^1] % 7}";
    }

    [Fact]
    public void Wider_scatter_of_noted_burials_is_theirs_and_not_the_others()
    {
        // 60 of 300 burials, by their contribution, have a further standard deviation of 0.6 beside the 0.2 of all
        RandomStream random = new(5, "noted");
        MixedRecord[] records =
        [
            .. Enumerable.Range(0, 300).Select(i =>
            {
                (double a, double b) = random.NextNormalPair();
                bool isNoted = i % 5 == 0;
                return new MixedRecord(-4 + 0.2 * a + (isNoted ? 0.6 * b : 0), null, [isNoted ? $"n{i}" : null], [1]);
            }),
        ];

        MixedFit fit = MixedModel.Fit(records, [new("noted")], 1).Value!;

        Assert.Equal(0.36, fit.Components[0].Covariance.First, 0.13);
        Assert.Equal(0.04, fit.Components[1].Covariance.First, 0.01);
        (double lower, double upper) = fit.VarianceInterval("noted")!.Value;
        Assert.InRange(0.36, lower, upper);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void Fewer_than_two_units_of_a_factor_of_some_records(int units)
    {
        MixedRecord[] records =
            [.. Records("one").Select(r => r with { Units = [r.Units[0], units > 0 && r.Units[0] == "s1" ? "n" : null] })];

        Assert.Equal($"There are {units} units of noted; at least 2 are needed.",
            MixedModel.Fit(records, Factors, 1).Statement!.Sentence);
    }

    [Fact]
    public void Units_that_are_the_groups_of_noted_burials()
    {
        MixedRecord[] records =
        [
            .. Records("one").Select(r => r with
            {
                Units = [r.Units[0], r.FixedEffects[1] == 1 ? "b" : r.FixedEffects[2] == 1 ? "c" : null],
            }),
        ];

        Assert.Equal("The variance between units of noted can't be told from the fixed effects, since no two units share them.",
            MixedModel.Fit(records, Factors, 1).Statement!.Sentence);
    }
}
