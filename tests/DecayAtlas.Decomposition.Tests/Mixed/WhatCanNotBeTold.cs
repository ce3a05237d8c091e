namespace DecayAtlas.Decomposition.Tests.Mixed;

/// <summary>A sentence where the records give no number, and the published trials where they do.</summary>
public class WhatCanNotBeTold
{
    private static MixedRecord Burial(double value, string site, string lot = "l", double group = 0, double? second = null) =>
        new(value, second, [site, lot], [1, group]);

    private static string Sentence(IReadOnlyList<MixedRecord> records, params string[] factors) => MixedModel.Fit(
        [.. records.Select(r => r with { Units = [.. r.Units.Take(factors.Length)], FixedEffects = [1] })],
        [.. factors.Select(f => new MixedFactor(f))], 1).Statement!.Sentence;

    private static readonly MixedRecord[] Sites =
    [
        .. Enumerable.Range(0, 24).Select(i => Burial(
            Math.Sin(7 * i) + 0.3 * Math.Sin(i / 3), $"s{i / 3}", $"l{i % 2}", i / 12, Math.Cos(5 * i))),
    ];

    [Fact]
    public void One_site() => Assert.Equal(
        "All burials belong to one site: variance between units can't be told.",
        Sentence([.. Sites.Select(r => r with { Units = ["a", "b"] })], "site"));

    [Fact]
    public void One_lot() => Assert.Equal(
        "All burials belong to one lot: variance between units can't be told.",
        Sentence([.. Sites.Select(r => r with { Units = [r.Units[0], "l"] })], "site", "lot"));

    [Fact]
    public void No_replicate() => Assert.Equal(
        "Each site holds one burial only: its variance can't be told from that of burials.",
        Sentence([.. Sites.Select((r, i) => r with { Units = [$"s{i}", "l"] })], "site"));

    [Fact]
    public void Each_site_with_a_lot_of_its_own() => Assert.Equal(
        "Each site holds one lot only: their variances can't be told apart.",
        Sentence([.. Sites.Select(r => r with { Units = [r.Units[0], "l" + r.Units[0]] })], "site", "lot"));

    [Fact]
    public void All_values_equal() => Assert.Equal(
        "All values of the first outcome are equal, so that their scatter says nothing about uncertainty.",
        Sentence([.. Sites.Select(r => r with { First = 1 })], "site"));

    [Fact]
    public void All_values_of_a_site_equal() => Assert.Equal(
        "All values within each site are equal, so that their scatter says nothing about uncertainty.",
        Sentence([.. Sites.Select(r => r with { First = r.Units[0]![1] % 5 })], "site"));

    [Fact]
    public void A_value_that_is_no_number() => Assert.StartsWith(
        "Among the values and their errors is a value that is not a finite number",
        Sentence([Sites[0] with { First = double.NaN }, .. Sites[1..]], "site"), StringComparison.Ordinal);

    [Fact]
    public void Lots_that_are_the_groups() => Assert.Equal(
        "The variance between units of lot can't be told from the fixed effects, since no two units share them.",
        MixedModel.Fit([.. Sites.Select(r => r with { Units = [r.Units[0], $"l{r.FixedEffects[1]}"] })],
            [new("site"), new("lot")], 1).Statement!.Sentence);

    [Fact]
    public void A_covariate_that_repeats_another() => Assert.Equal(
        "A covariate is constant, or repeats the groups or another covariate: their effects can't be told apart.",
        MixedModel.Fit([.. Sites.Select(r => r with { FixedEffects = [1, 1] })], [new("site"), new("lot")], 1).Statement!.Sentence);

    [Fact]
    public void No_burial_with_both_outcomes() => Assert.Equal(
        "A covariance can't be told, since no burial has both outcomes.",
        MixedModel.Fit([.. Sites.Select((r, i) => i % 3 == 0 ? r with { First = null } : r with { Second = null })],
            [new("site"), new("lot")], 2).Statement!.Sentence);

    [Fact]
    public void Too_few_burials() => Assert.Equal(
        "There are 2 burials with the first outcome; at least 3 are needed.", Sentence([Sites[0], Sites[3]], "site"));

    [Fact]
    public void Dyestuff_batches_of_Davies_and_Goldsmith()
    {
        // estimates as given by R lme4 1.1-31
        MixedFit fit = MixedModel.Fit(
            [.. TestTable.Read("Mixed", "davies_goldsmith_dyestuff.csv").Rows
                .Select(r => new MixedRecord(r.Number("Yield"), null, [r["Batch"]], [1]))],
            [new("batch")], 1).Value!;

        Assert.Equal(1764.05, fit.Components[0].Covariance.First, 0.005);
        Assert.Equal(2451.25, fit.Components[1].Covariance.First, 0.005);
        Assert.Equal(319.6543, fit.RestrictedDeviance, 1e-4);
        Assert.Equal(1764.05 / 4215.3, fit.Components[0].FirstShare, 1e-6);
        // balanced: analysis of variance gives the same, se(mean) = √(MS_batch/30) on 5 degrees of freedom, MS_batch = 2451.25 + 5 ·
        // 1764.05
        FixedEffect mean = fit.Effect(0, [1]);
        Assert.Equal(1527.5, mean.Value, 9);
        Assert.Equal(Math.Sqrt((2451.25 + 5 * 1764.05) / 30), mean.StandardError, 1e-4);
        Assert.Equal(5, mean.DegreesOfFreedom, 1e-3);
    }

    [Fact]
    public void Pastes_of_Davies_and_Goldsmith()
    {
        MixedFit fit = MixedModel.Fit(
            [.. TestTable.Read("Mixed", "davies_goldsmith_pastes.csv").Rows
                .Select(r => new MixedRecord(r.Number("strength"), null, [r["batch"], r["batch"] + r["cask"]], [1]))],
            [new("batch"), new("cask")], 1).Value!;

        Assert.Equal(1.65731, fit.Components[0].Covariance.First, 1e-4);
        Assert.Equal(8.43367, fit.Components[1].Covariance.First, 1e-4);
        Assert.Equal(0.67800, fit.Components[2].Covariance.First, 1e-5);
        Assert.Equal(1, fit.Components.Sum(c => c.FirstShare), 12);
        Assert.Equal([10, 30, 60], fit.Components.Select(c => c.Units));
    }
}
