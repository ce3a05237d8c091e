namespace DecayAtlas.Pipeline.Tests;

/// <summary>Results of a contribution on their way through the night: flagged, summed up under their own evidence, chosen.</summary>
public class MeansInPlaceOfWeighings
{
    private static readonly ResultRow Summarised = new(
        2, "r1", "S1", null, EvidenceKind.Summarised, 6, new(2024, 4, 1), new(2024, 7, 1), null, null, 8, "F1", "L1", StatedBasis.Dry,
        0.442, 0.021, 0.753, 0.026, null, null, null, null, null, null, null, null, null, null);

    private static readonly ResultRow Reported = Summarised with
    {
        ResultId = "r2",
        Evidence = EvidenceKind.Reported,
        FastRemainingMean = null,
        FastRemainingSd = null,
        SlowRemainingMean = null,
        SlowRemainingSd = null,
        RatePerDay = 0.011,
        RateErrorPerDay = 0.002,
        Stabilisation = 0.3,
        StabilisationError = 0.02,
        ErrorsAre = ErrorKind.Sd,
        Method = ResultMethod.TwoLitter,
        FastHydrolysableUsed = 0.842,
        SlowHydrolysableUsed = 0.552,
    };

    private static readonly ResultRow Cold = Summarised with
    {
        RetrievedOn = new(2024, 5, 31),
        FastRemainingMean = 1 - 0.842 * 0.75 * (1 - Math.Exp(-8 * 0.18)),
        FastRemainingSd = 0.01,
        SlowRemainingMean = 1 - 0.552 * 0.75 * (1 - Math.Exp(-0.18)),
        SlowRemainingSd = 0.005,
    };

    private static Contribution With(params ResultRow[] results) => new(
        Given.Header(), [Given.Site], [Given.FastLot, Given.SlowLot], [], [])
    { Results = results };

    private static FlagInputs Inputs(params Contribution[] contributions) => Given.Inputs(contributions) with
    {
        Results = IndexStep.Run(contributions, MeasurementAssumptions.Default, []).Results,
    };

    private static string[] Flagged(ResultRow row) => Given.Flagged(Inputs(With(row)));

    [Fact]
    public void Sound_means_raise_nothing()
    {
        Assert.Empty(Flagged(Summarised));
        Assert.Empty(Flagged(Reported));
    }

    public static TheoryData<string, ResultRow> Faults => new()
    {
        { "mass-gain", Summarised with { SlowRemainingMean = 1.2 } },
        { "fast-loss-beyond-hydrolysable", Reported with { Stabilisation = -0.4 } },
        { "slow-loss-at-plateau", Summarised with { SlowRemainingMean = 0.5 } },
        { "retrieved-before-buried", Summarised with { RetrievedOn = new(2024, 3, 1) } },
        { "retrieved-in-future", Summarised with { RetrievedOn = null, ExposureDays = 300 } },
        { "exposure-short", Summarised with { RetrievedOn = new(2024, 4, 20) } },
        // with H 0.842 and 0.552: S 0.25, k 0.003 and 60 days leave 1 - 0.842 · 0.75 · 0.76307 and 1 - 0.552 · 0.75 · 0.16473 where the
        // fast litter decays 8 times as fast, and S comes out 0.428, k 0.0041
        { "plateau-not-reached", Cold },
        { "plateau-not-reached", Reported with { RetrievedOn = Cold.RetrievedOn, Stabilisation = 0.4277, RatePerDay = 0.0040633 } },
        { "exposure-long", Reported with { BuriedOn = new(2023, 4, 1) } },
        { "depth-out-of-range", Summarised with { DepthCentimetres = 30 } },
        { "role-differs-from-lot", Reported with { FastLotId = "L1" } },
        { "initial-water-unstated", Summarised with { Basis = null } },
        { "result-error-missing", Summarised with { FastRemainingSd = null } },
        { "result-error-missing", Reported with { ErrorsAre = null } },
        { "result-error-missing", Summarised with { Burials = 1 } },
        { "result-lot-missing", Summarised with { SlowLotId = null } },
        { "result-method-other", Reported with { Method = ResultMethod.SingleExponential } },
        { "result-method-other", Reported with { Method = null } },
        { "result-not-harmonised", Reported with { FastHydrolysableUsed = null } },
        { "result-rate-not-positive", Reported with { RatePerDay = 0 } },
        { "result-scatter-large", Summarised with { SlowRemainingSd = 0.15 } },
        { "result-scatter-none", Summarised with { FastRemainingSd = 0 } },
        { "result-scatter-none", Reported with { RateErrorPerDay = 0 } },
        { "result-without-rate", Summarised with { RetrievedOn = null } },
        { "result-nothing-lost", Reported with { Stabilisation = 1 } },
        { "result-days-differ", Summarised with { ExposureDays = 75 } },      // 91 days by the dates
        { "initial-water-unstated", Reported with { Basis = null } },
    };

    [Theory]
    [MemberData(nameof(Faults))]
    public void A_fault_of_means_is_flagged(string code, ResultRow row) =>
        Assert.Contains($"{code} Result {row.ResultId}", Flagged(row));

    public static TheoryData<string, LotRow> FaultsOfLots => new()
    {
        { "result-without-rate", Given.SlowLot with { HydrolysableParts = HydrolysableParts.AcidSoluble } },
        { "chemistry-incomplete", Given.SlowLot with { HydrolysableParts = HydrolysableParts.WaterAndAcidSoluble } },
        { "chemistry-basis-unstated", Given.SlowLot with { HydrolysableBasis = null } },
        // 0.552 + 0.5 + 0.05 of ash come to more than the litter
        {
            "chemistry-impossible",
            Given.SlowLot with { HydrolysableParts = HydrolysableParts.AcidSoluble, WaterSolubleFraction = 0.5, NonpolarFraction = 0 }
        },
    };

    [Theory]
    [MemberData(nameof(FaultsOfLots))]
    public void A_fault_of_a_lot_is_flagged_on_the_means_that_use_it(string code, LotRow slow) =>
        Assert.Contains($"{code} Result r1", Given.Flagged(Inputs(With(Summarised) with { Lots = [Given.FastLot, slow] })));

    [Fact]
    public void A_lot_that_no_number_of_a_report_rests_on_is_not_flagged_on_it()
    {
        LotRow slow = Given.SlowLot with { HydrolysableBasis = null };
        ResultRow row = Reported with { FastHydrolysableUsed = null };
        Assert.DoesNotContain("chemistry-basis-unstated Result r2",
            Given.Flagged(Inputs(With(row) with { Lots = [Given.FastLot, slow] })));
    }

    /// <summary>An exposure of 80 with a scatter of 5 may differ from its 91 days by 7 + 10.</summary>
    [Fact]
    public void Dates_that_stand_for_several_may_differ_from_the_mean_exposure_by_their_scatter() =>
        Assert.Empty(Flagged(Summarised with { ExposureDays = 80, ExposureSdDays = 5 }));

    [Fact]
    public void What_water_did_to_reported_numbers_is_not_known_and_not_0()
    {
        ReleasedResult[] rows = [.. Inputs(With(Summarised, Reported)).Results.Select(r => ReleasedResult.Of(r, Verdict.Accepted))];
        Assert.True(rows[0].LnRateBatchUncertainty > 0);
        Assert.Null(rows[1].LnRateBatchUncertainty);
        Assert.Null(rows[1].StabilisationBatchUncertainty);
    }

    [Fact]
    public void Burials_behind_means_at_the_plateau_or_without_a_positive_k_are_counted()
    {
        FlagInputs inputs = Inputs(With(Summarised with { SlowRemainingMean = 0.5 }, Reported with { RatePerDay = -0.001, Burials = 5 }));
        ReleasedSiteCampaign[] rows = [.. SummariseStep.Run([], FlagStep.Run(inputs, DecisionList.None).Verdicts, inputs.Results)
            .SiteCampaigns.Select(ReleasedSiteCampaign.Of)];

        Assert.Equal([("summarised", 6, 0), ("reported", 0, 5)],
            rows.Select(r => (r.Evidence, r.RateAtLeastBurials, r.RateNotPositiveBurials)));
        Assert.All(rows, r => Assert.Null(r.RateMeanPerDay));
    }

    /// <summary>An error of the mean over 6 burials is √6 times smaller than the standard deviation between them.</summary>
    [Fact]
    public void A_standard_error_is_read_as_one()
    {
        SentResult sd = Inputs(With(Reported)).Results[0], se = Inputs(With(Reported with { ErrorsAre = ErrorKind.Se })).Results[0];
        Assert.Equal(sd.Index.LnRate.Value!.Sd!.Value * Math.Sqrt(6), se.Index.LnRate.Value!.Sd!.Value, 1e-12);
    }

    [Fact]
    public void Litter_weighed_moist_and_dry_give_the_same_k_once_the_lots_moisture_is_off()
    {
        LotRow fast = Given.FastLot with { MoistureFraction = 0.06 }, slow = Given.SlowLot with { MoistureFraction = 0.06 };
        Contribution moist = With(Summarised with
        {
            Basis = StatedBasis.Moist,
            FastRemainingMean = 0.442 * 0.94,
            FastRemainingSd = 0.021 * 0.94,
            SlowRemainingMean = 0.753 * 0.94,
            SlowRemainingSd = 0.026 * 0.94,
        }) with
        { Lots = [fast, slow] };

        Assert.Equal(
            Inputs(With(Summarised)).Results[0].Index.LnRate.Value!.Mean, Inputs(moist).Results[0].Index.LnRate.Value!.Mean, 1e-12);
    }

    [Fact]
    public void Each_kind_of_evidence_has_a_summary_of_its_own_and_answers_take_the_strongest()
    {
        FlagInputs inputs = Inputs(With(Summarised, Reported, Summarised with { ResultId = "r3", SiteId = "S1", Treatment = "warmed" }));
        SummariseStep.Output output = SummariseStep.Run([], FlagStep.Run(inputs, DecisionList.None).Verdicts, inputs.Results);

        Assert.Equal(
            [("summarised", null, 6), ("reported", null, 6), ("summarised", "warmed", 6)],
            output.SiteCampaigns.Select(s => (AtlasCode.Of(s.Evidence), s.Treatment, s.LnRate!.Count)));
        Assert.Equal(3, output.Plots.Count);
        Assert.Equal(["summarised", "summarised"], EvidenceChoice.Usual.Choose(output.Plots).Select(p => p.Evidence));
        Assert.Equal(["reported"], EvidenceChoice.Of(["reported"]).Choose(output.Plots).Select(p => p.Evidence));
        ReleasedPlot weighed = output.Plots[0] with { Evidence = "weighed" };
        Assert.Equal(["weighed"], EvidenceChoice.Of(["weighed", "summarised", "reported"]).Choose([.. output.Plots.Take(2), weighed])
            .Select(p => p.Evidence));
    }

    /// <summary>u(H) 0.023 of 0.842 alone makes S uncertain by a/H² u(H): 0.558 and 0.842 · 0.7 are lost; 2.571 = t(0.975, 5)
    /// (NIST/SEMATECH e-Handbook 1.3.6.7) on scatter alone would be 0.026 and 0.021.</summary>
    [Fact]
    public void The_interval_of_S_of_means_holds_what_the_lot_leaves_uncertain()
    {
        FlagInputs inputs = Inputs(With(Summarised, Reported));
        ReleasedSiteCampaign[] released = [.. SummariseStep.Run(
            [], FlagStep.Run(inputs, DecisionList.None).Verdicts, inputs.Results).SiteCampaigns.Select(ReleasedSiteCampaign.Of)];

        Assert.InRange(HalfOf(released[0]), 1.96 * 0.558 / (0.842 * 0.842) * 0.023, 0.06);
        Assert.InRange(HalfOf(released[1]), 1.96 * 0.7 / 0.842 * 0.023, 0.06);

        static double HalfOf(ReleasedSiteCampaign row) => (row.StabilisationUpper95!.Value - row.StabilisationLower95!.Value) / 2;
    }

    [Fact]
    public void A_run_counts_them_by_use_and_by_evidence()
    {
        FlagInputs inputs = Inputs(With(Summarised, Reported, Summarised with { ResultId = "r3", DepthCentimetres = 30 }));
        WorkCounts counts = WorkCounts.Of(
            new IndexStep.Output(inputs.Sites, [], []) { Results = inputs.Results }, FlagStep.Run(inputs, DecisionList.None));

        Assert.Equal([("accepted", 2), ("suspect", 1)], counts.ResultsByUse.Select(c => (c.Key, c.Value)));
        Assert.Equal([("reported", 1), ("summarised", 2)], WorkCounts.Sum([counts]).ResultsByEvidence.Select(c => (c.Key, c.Value)));
    }

    [Fact]
    public void Means_that_are_set_aside_count_and_are_not_averaged()
    {
        FlagInputs inputs = Inputs(With(Summarised, Summarised with { ResultId = "r3", DepthCentimetres = 30 }));
        SiteCampaign summary = Assert.Single(
            SummariseStep.Run([], FlagStep.Run(inputs, DecisionList.None).Verdicts, inputs.Results).SiteCampaigns);

        Assert.Equal((12, 6), (summary.Burials, summary.LnRate!.Count));
    }

    /// <summary>Two rows of 6 with one mean and scatter s are 12 burials with scatter s √(10/11): sums of squares, no source
    /// needed.</summary>
    [Fact]
    public void Rows_of_one_site_are_pooled_as_one_sample()
    {
        FlagInputs inputs = Inputs(With(Summarised, Summarised with { ResultId = "r3" }));
        SampleSummary lnRate = Assert.Single(
            SummariseStep.Run([], FlagStep.Run(inputs, DecisionList.None).Verdicts, inputs.Results).SiteCampaigns).LnRate!;

        MeanWithErrors one = inputs.Results[0].Index.LnRate.Value!;
        Assert.Equal(12, lnRate.Count);
        Assert.Equal(one.Mean, lnRate.Mean, 1e-12);
        Assert.Equal(one.Sd!.Value * Math.Sqrt(10.0 / 11), lnRate.Sd!.Value, 1e-12);
    }
}
