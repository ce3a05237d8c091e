namespace DecayAtlas.Pipeline.Tests;

public sealed class Decisions : IDisposable
{
    private readonly string _file = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".yaml");

    public void Dispose() => File.Delete(_file);

    private DecisionList Read(string items)
    {
        File.WriteAllText(_file, "version: 1\ndecisions:\n" + items);
        return DecisionsFile.Read(_file);
    }

    private const string Signed = ", by: curator, on: \"2025-03-01\", because: \"the depth was measured again\" }\n";

    [Fact]
    public void An_overruled_flag_stays_and_no_longer_bears_on_the_use()
    {
        DecisionList decisions = Read("  - { overrule: depth-out-of-range, contribution: c1, record: bag, id: b-f" + Signed);
        FlagInputs inputs = Given.Inputs(Given.Contribution(bags: [Given.FastBag with { DepthCentimetres = 15 }, Given.SlowBag]));

        FlagStep.Output judged = FlagStep.Run(inputs, decisions);

        Flag flag = Assert.Single(judged.Flags);
        Assert.Equal("the depth was measured again", flag.Overruling!.Because);
        Assert.Equal(Verdict.Accepted, judged.Verdicts.Of(inputs.Burials[0]));
    }

    [Fact]
    public void A_replicate_that_a_curator_lets_stand_counts_and_a_bag_that_was_let_stand_is_a_measure_for_its_neighbours()
    {
        BagRow[] bags =
        [
            .. new[] { 1.80, 1.81, 1.79, 1.83, 1.82, 1.78, 2.10 }.SelectMany((mass, i) => new[]
            {
                Given.FastBag with { BagId = $"{i}-f", BurialId = $"{i}", Replicate = $"{i}", DepthCentimetres = i == 0 ? 15 : 8 },
                Given.SlowBag with { BagId = $"{i}-s", BurialId = $"{i}", Replicate = $"{i}", MassFinalGrams = mass },
            }),
        ];
        FlagInputs inputs = Given.Inputs(Given.Contribution(bags: bags));
        Assert.Contains("6 burials", Outlier(FlagStep.Run(inputs, DecisionList.None)).Explanation, StringComparison.Ordinal);

        FlagStep.Output judged = FlagStep.Run(inputs, Read(
            "  - { overrule: replicate-outlier, contribution: c1, record: burial, id: \"6\"" + Signed
            + "  - { overrule: depth-out-of-range, contribution: c1, record: bag, id: 0-f" + Signed));
        Assert.Contains("7 burials", Outlier(judged).Explanation, StringComparison.Ordinal);
        Assert.All(inputs.Burials, b => Assert.Equal(Verdict.Accepted, judged.Verdicts.Of(b)));

        static Flag Outlier(FlagStep.Output flags) => Assert.Single(flags.Flags, f => f.Code == "replicate-outlier");
    }

    [Theory]
    [InlineData("version: 1\ndecisions: []\n")]
    [InlineData("version: 1\ndecisions:\n")]
    [InlineData("version: 1\ndecisions:\n  # - { withdraw: c9 }\n")]
    public void An_empty_list_is_an_empty_list(string text)
    {
        File.WriteAllText(_file, text);
        Assert.Empty(DecisionsFile.Read(_file).All);
    }

    [Fact]
    public void A_withdrawal_names_its_contribution() =>
        Assert.Equal(["c9"], Read("  - { withdraw: c9" + Signed).Withdrawn);

    [Theory]
    [InlineData("  - { by: curator, on: \"2025-03-01\", because: \"no reason\" }\n", "withdraw")]
    [InlineData("  - { withdraw: c1, overrule: depth-out-of-range" + Signed, "withdraw")]
    [InlineData("  - { overrule: mass-gain, contribution: c1, record: bag, id: b" + Signed, "suspect flag")]
    [InlineData("  - { overrule: no-such-flag, contribution: c1, record: bag, id: b" + Signed, "no-such-flag")]
    [InlineData("  - { overrule: depth-out-of-range, contribution: c1, record: site, id: b" + Signed, "bag")]
    [InlineData("  - { overrule: depth-out-of-range, contribution: c1" + Signed, "all three")]
    [InlineData("  - { withdraw: c1, by: curator, on: \"2025-02-30\", because: \"no such day\" }\n", "2025-02-30")]
    [InlineData("  - { withdraw: c1, on: \"2025-03-01\", because: \"nobody signed\" }\n", "by")]
    public void A_decision_that_cannot_be_carried_out_is_refused_with_its_line(string items, string named)
    {
        string message = Assert.Throws<ConfigurationException>(() => Read(items)).Message;
        Assert.Contains(named, message, StringComparison.Ordinal);
        Assert.Matches(@"\.yaml:\d+", message);
    }
}
