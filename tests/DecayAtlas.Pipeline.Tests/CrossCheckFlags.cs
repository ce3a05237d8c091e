namespace DecayAtlas.Pipeline.Tests;

/// <summary>Contributors held against one another: each check on evidence in which one thing is wrong, and on the same without
/// it.</summary>
public class CrossCheckFlags
{
    private static Evidence Of(
        IEnumerable<SiteEvidence>? sites = null, IEnumerable<ReplicateEvidence>? replicates = null,
        IEnumerable<FillingEvidence>? fillings = null, IEnumerable<MassEvidence>? masses = null) =>
        new([.. sites ?? []], [.. replicates ?? []], [.. fillings ?? []], [.. masses ?? []]);

    /// <summary>Twelve contributions of one lot, forty bags each, sd 0.1 g; the third reads off by a given mass.</summary>
    private static Evidence[] Weighed(double offGrams)
    {
        RandomStream random = new(4, "fillings");
        return [.. Enumerable.Range(0, 12).Select(c =>
        {
            double mean = 2 + (0.1 / Math.Sqrt(40) * random.NextNormalPair().First) + (c == 2 ? offGrams : 0);
            return Of(fillings: [new FillingEvidence($"c{c:00}", "F1", 40, mean, 39 * 0.01)]);
        })];
    }

    [Fact]
    public void A_balance_that_reads_high_is_noted_on_its_contribution_with_the_mass_it_is_off()
    {
        Flag flag = Assert.Single(new BiasCheck().Raise(Weighed(0.12), []));
        Assert.Equal((new RecordKey("c02", RecordKind.Contribution, "c02"), "contributor-bias", Severity.Note, "g"),
            (flag.Record, flag.Code, flag.Severity, flag.Unit));
        Assert.Equal(0.12, flag.Measured!.Value, 0.04);
        Assert.True(flag.Limit < flag.Measured);
        Assert.Empty(new BiasCheck().Raise(Weighed(0), []));
    }

    [Fact]
    public void A_lot_that_fewer_than_five_use_judges_nobody() => Assert.Empty(new BiasCheck().Raise(Weighed(0.5)[..4], []));

    /// <summary>Thirty sites of three burials in one ecosystem and campaign; S and ln k scatter by 0.015 and 0.1.</summary>
    private static Evidence[] Replicated(double offS, double offLnRate)
    {
        RandomStream random = new(9, "replicates");
        return [.. Enumerable.Range(0, 30).Select(site => Of(replicates: Enumerable.Range(0, 3).Select(i =>
        {
            (double a, double b) = random.NextNormalPair();
            bool isOdd = site == 7 && i == 1;
            return new ReplicateEvidence($"c{site:00}", $"b{i}", "grassland", "2024-spring", 0,
                new Replicate(0.2 + (site * 0.005) + (0.015 * a) + (isOdd ? offS : 0), -4.5 + (0.1 * b) + (isOdd ? offLnRate : 0), 1e-6,
                    1e-4, 0));
        })))];
    }

    [Fact]
    public void An_odd_burial_beside_two_others_is_noted_by_the_scatter_of_all_sites()
    {
        (IReadOnlyList<Flag> flags, int judged) = new MultivariateCheck().Raise(Replicated(0.09, -0.4));
        Flag flag = Assert.Single(flags);
        Assert.Equal((new RecordKey("c07", RecordKind.Burial, "b1"), "multivariate-outlier", Severity.Note),
            (flag.Record, flag.Code, flag.Severity));
        Assert.True(flag.Measured > flag.Limit);
        // the 0.9995 quantile of chi-square on 2 degrees is -2 ln 0.0005 = 15.20
        Assert.Equal(Math.Sqrt(-2 * Math.Log(0.0005)), flag.Limit!.Value, 1e-6);
        Assert.Equal(90, judged);
        Assert.Empty(new MultivariateCheck().Raise(Replicated(0, 0)).Flags);
    }

    [Fact]
    public void A_burial_that_its_own_weighing_explains_is_not_noted()
    {
        Evidence[] coarse = [.. Replicated(0.09, -0.4)
            .Select(e =>
                e with {
                    Replicates = [
                        .. e.Replicates.Select(r => r with { Pair = r.Pair with { VarianceX = 0.05 * 0.05, VarianceY = 0.3 * 0.3 } })] })];
        Assert.Empty(new MultivariateCheck().Raise(coarse).Flags);
    }

    [Fact]
    public void Too_few_burials_judge_nobody() => Assert.Equal(0, new MultivariateCheck().Raise(Replicated(0.3, -1)[..16]).Judged);

    /// <summary>Forty burials each of twenty contributors, masses of any kind; the first shares some with the second.</summary>
    private static Evidence[] Sent(int pasted) =>
    [
        .. Enumerable.Range(0, 20).Select(c => Of(masses: Enumerable.Range(0, 40).Select(i =>
            new MassEvidence($"c{c:00}", $"b{i}", c == 1 && i < pasted ? (ulong)i : ((ulong)c * 1000) + (ulong)i)))),
    ];

    [Fact]
    public void Masses_that_another_group_sent_too_are_noted_on_both_sides()
    {
        IReadOnlyList<Flag> flags = new PastedCheck().Raise(Sent(3));
        Assert.Equal(["c00 b0", "c00 b1", "c00 b2", "c01 b0", "c01 b1", "c01 b2"],
            flags.Select(f => $"{f.Record.ContributionId} {f.Record.RecordId}").Order(StringComparer.Ordinal));
        Assert.All(flags, f => Assert.Equal(("masses-repeated-across", Severity.Note, 3.0), (f.Code, f.Severity, f.Measured!.Value)));
        Assert.Empty(new PastedCheck().Raise(Sent(1)));
    }

    [Fact]
    public void Where_many_agree_by_chance_agreement_says_nothing()
    {
        // a coarse world: every print is one of 60, so that any two contributions share many
        Evidence[] coarse = [.. Sent(3)
            .Select((e, c) => e with { Masses = [.. e.Masses.Select((m, i) => m with { Print = (ulong)(((c * 7) + (i * 13)) % 60) })] })];
        Assert.Empty(new PastedCheck().Raise(coarse));
    }

    /// <summary>Two hundred sites over a continent whose ln k follows two covariates; one is off by a given number of ln units.</summary>
    private static Evidence[] Mapped(double off, bool isSensitive = false)
    {
        RandomStream random = new(12, "sites");
        return [.. Enumerable.Range(0, 40).Select(c => Of(sites: Enumerable.Range(0, 5).Select(i =>
        {
            (double a, double b) = random.NextNormalPair();
            double warmth = 12 + (5 * a), moisture = 0.5 + (0.1 * b), latitude = 20 * random.NextUniform(),
                longitude = 20 * random.NextUniform();
            bool isOdd = c == 11 && i == 3;
            double lnRate = -4.5 + (0.06 * (warmth - 12)) - (6 * Math.Pow(moisture - 0.55, 2)) + (0.12 * random.NextNormalPair().First)
                + (isOdd ? off : 0);
            return new SiteEvidence($"c{c:00}", $"S{i}", $"c{c:00}", "2024-spring", isOdd && isSensitive, latitude,
                longitude, [warmth, moisture], new SampleSummary(4, lnRate, 0.1, null, null), null);
        })))];
    }

    [Fact]
    public void A_site_far_from_what_its_covariates_and_the_sites_most_alike_let_expect_is_noted()
    {
        SurpriseCheck.Result result = new SurpriseCheck().Raise(Mapped(-1.2))[0];
        Flag flag = Assert.Single(result.Flags);
        Assert.Equal((new RecordKey("c11", RecordKind.Site, "S3"), "surprise", Severity.Note, 4.0),
            (flag.Record, flag.Code, flag.Severity, flag.Limit!.Value));
        Assert.Empty(new SurpriseCheck().Raise(Mapped(0))[0].Flags);
    }

    [Fact]
    public void Of_a_sensitive_site_no_number_goes_out_and_nobody_is_judged_by_it()
    {
        SurpriseCheck.Result result = new SurpriseCheck().Raise(Mapped(-1.2, isSensitive: true))[0];
        Flag flag = Assert.Single(result.Flags);
        Assert.Equal((null, null), (flag.Measured, flag.Limit));
        Assert.Equal("Numbers withheld: the site is marked sensitive.", flag.Explanation);
        Assert.Equal(4, result.Residuals["c11"].Count);
    }

    [Fact]
    public void Without_covariates_or_with_few_sites_nothing_is_judged_and_it_is_said()
    {
        Evidence[] bare = [.. Mapped(-1.2).Select(e => e with { Sites = [.. e.Sites.Select(s => s with { Covariates = [] })] })];
        Assert.Contains("0 covariates", new SurpriseCheck().Raise(bare)[0].NotJudged, StringComparison.Ordinal);
        Assert.NotNull(new SurpriseCheck().Raise(Mapped(-1.2)[..3])[0].NotJudged);
        Assert.Contains("0 covariates", new SurpriseCheck().Raise([])[1].NotJudged, StringComparison.Ordinal);
    }

    [Fact]
    public void The_order_of_contributors_does_not_matter()
    {
        Evidence[] all = [.. Mapped(-1.2)
            .Zip(Replicated(0.09, -0.4).Concat(Enumerable.Repeat(Of(), 10)), (a, b) => a with { Replicates = b.Replicates })];
        Assert.Equal(
            new MultivariateCheck().Raise(all).Flags.Select(f => f.Record).Order(),
            new MultivariateCheck().Raise([.. all.Reverse()]).Flags.Select(f => f.Record).Order());
        Assert.Equal(new SurpriseCheck().Raise(all)[0].Flags.Select(f => f.Record),
            new SurpriseCheck().Raise([.. all.Reverse()])[0].Flags.Select(f => f.Record));
    }

    [Fact]
    public void Only_accepted_burials_and_sound_weighings_become_evidence()
    {
        Contribution torn = Given.Contribution(bags: [Given.FastBag, Given.SlowBag with { Condition = BagCondition.Torn }]);
        Evidence sound = Gathered(Given.Contribution()), spoiled = Gathered(torn);
        Assert.Equal((1, 1, 2, 1), (sound.Sites.Count, sound.Replicates.Count, sound.Fillings.Count, sound.Masses.Count));
        Assert.Equal((0, 0, 1, 1), (spoiled.Sites.Count, spoiled.Replicates.Count, spoiled.Fillings.Count, spoiled.Masses.Count));
        Assert.Equal(2.0, sound.Fillings.Single(f => f.LotId == "F1").MeanGrams, 1e-12);   // 2.250 g less a tare of 0.25 g
    }

    private static Evidence Gathered(Contribution contribution)
    {
        IndexStep.Output index = IndexStep.Run([contribution], MeasurementAssumptions.Default, []);
        FlagStep.Output flags = FlagStep.Run(Given.Inputs(contribution), DecisionList.None);
        return EvidenceGathering.Of(index, new SnapStep.Output([], []), flags.Verdicts,
            SummariseStep.Run(index.Burials, flags.Verdicts), []);
    }
}
