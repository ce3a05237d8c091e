namespace DecayAtlas.Pipeline.Tests;

public class UseOfRecords
{
    private static (FlagInputs Inputs, Verdicts Verdicts) Judge(params Contribution[] contributions)
    {
        FlagInputs inputs = Given.Inputs(contributions);
        return (inputs, FlagStep.Run(inputs, DecisionList.None).Verdicts);
    }

    [Fact]
    public void A_burial_inherits_the_worst_of_its_bags_and_its_site()
    {
        (FlagInputs inputs, Verdicts verdicts) = Judge(Given.Contribution(
            site: Given.Site with { CoordinateUncertaintyMetres = 9000 },
            bags: [Given.FastBag with { MassFinalGrams = 2.4 }, Given.SlowBag]));

        Assert.Equal(new Verdict(Use.Suspect, "coordinates-coarse"), verdicts.Of(inputs.Sites[0]));
        Assert.Equal(new Verdict(Use.Rejected, "coordinates-coarse,mass-gain"), verdicts.Of(inputs.Bags[0]));
        Assert.Equal(new Verdict(Use.Suspect, "coordinates-coarse"), verdicts.Of(inputs.Bags[1]));
        Assert.Equal(new Verdict(Use.Rejected, "coordinates-coarse,mass-gain"), verdicts.Of(inputs.Burials[0]));
    }

    [Fact]
    public void A_note_leaves_a_record_accepted()
    {
        (FlagInputs inputs, Verdicts verdicts) =
            Judge(Given.Contribution(bags: [Given.FastBag with { BalanceResolutionGrams = null }, Given.SlowBag]));
        Assert.Equal(Verdict.Accepted, verdicts.Of(inputs.Burials[0]));
    }

    [Fact]
    public void A_summary_takes_accepted_burials_only_but_counts_all()
    {
        BagRow[] Pair(string id, double slowFinal, double? resolution = 0.001) =>
        [
            Given.FastBag with { BagId = id + "f", BurialId = id, Replicate = id, BalanceResolutionGrams = resolution },
            Given.SlowBag with { BagId = id + "s", BurialId = id, Replicate = id, MassFinalGrams = slowFinal },
        ];
        Contribution contribution = Given.Contribution(bags: [.. Pair("p", 1.80), .. Pair("q", 1.85), .. Pair("r", 1.70, resolution: 0.2)]);
        (FlagInputs inputs, Verdicts verdicts) = Judge(contribution);

        SiteCampaign summary = Assert.Single(SummariseStep.Run(inputs.Burials, verdicts).SiteCampaigns);

        double[] k = [.. inputs.Burials.Take(2).Select(b => b.RatePerDay.Value!.Value)];
        Assert.Equal(3, summary.Burials);
        Assert.Equal(2, summary.RatePerDay!.Count);
        Assert.Equal((k[0] + k[1]) / 2, summary.RatePerDay.Mean, 15);
        // two burials of the same lots: averaging leaves the lot part as large as that of one
        Assert.InRange(summary.RateSharedPerDay!.Value.Lot,
            inputs.Burials.Take(2).Min(b => b.RatePerDay.Value!.UncertaintyLot), inputs.Burials.Take(2)
                .Max(b => b.RatePerDay.Value!.UncertaintyLot));
    }

    [Fact]
    public void A_lost_bag_gives_its_burial_a_reason_instead_of_a_k()
    {
        Burial burial = Given.Inputs(Given.Contribution(bags: [Given.FastBag, Given.SlowBag with { MassFinalGrams = null }])).Burials[0];
        Assert.Equal(MissingReason.MassNotReported, burial.RatePerDay.Reason);
        Assert.NotNull(burial.StabilisationFactor.Value);   // S needs the fast bag alone
    }

    [Fact]
    public void Two_fast_bags_in_one_burial_are_no_pair() => Assert.Equal(MissingReason.PairAmbiguous, Given.Inputs(Given.Contribution(
        bags: [Given.FastBag, Given.FastBag with { BagId = "x" }, Given.SlowBag])).Burials[0].RatePerDay.Reason);

    [Fact]
    public void The_newest_contribution_describes_a_site_and_sensitive_stays_sensitive()
    {
        Contribution first = Given.Contribution(site: Given.Site with { CoordinatesSensitive = true, Ecosystem = "forest" });
        Contribution second =
            Given.Contribution(header: Given.Header("a-later-one") with { Created = new(2025, 1, 1) },
                site: Given.Site with { Ecosystem = "wetland" });

        Site site = Assert.Single(Given.Inputs(second, first).Sites);

        Assert.Equal("wetland", site.Row.Ecosystem);
        Assert.True(site.Place.IsGeneralised);
        Assert.NotEqual(50, site.Place.LatitudeDegrees);
    }

    [Fact]
    public void Treated_plots_have_a_summary_of_their_own()
    {
        BagRow[] Pair(string id, string? treatment) =>
        [
            Given.FastBag with { BagId = id + "f", BurialId = id, Replicate = id, Treatment = treatment },
            Given.SlowBag
                with { BagId = id + "s", BurialId = id, Replicate = id, Treatment = treatment,
                    MassFinalGrams = treatment is null ? 1.80 : 1.70 },
        ];
        (FlagInputs inputs, Verdicts verdicts) = Judge(Given.Contribution(bags: [.. Pair("p", null), .. Pair("q", "warmed")]));

        Assert.Equal([null, "warmed"], SummariseStep.Run(inputs.Burials, verdicts).SiteCampaigns.Select(s => s.Treatment));
    }

    [Fact]
    public void A_lost_bag_without_retrieval_date_does_not_make_the_dates_differ() =>
        Assert.Equal(["bag-lost Bag b-s"], Given.Flagged(Given.Contribution(
        bags: [Given.FastBag, Given.SlowBag with { RetrievedOn = null, MassFinalGrams = null, Condition = BagCondition.Lost }])));

    [Fact]
    public void The_flags_that_a_fitted_curve_forgives_are_flags()
    {
        Assert.Equal(SeriesUse.ExposureShort, new ExposureShort().Code);
        Assert.Equal(SeriesUse.ExposureLong, new ExposureLong().Code);
        Assert.True(SeriesUse.Fits("suspect", $"{SeriesUse.ExposureShort},{SeriesUse.ExposureLong}"));
        Assert.False(SeriesUse.Fits("suspect", $"{SeriesUse.ExposureShort},coordinates-coarse"));
    }
}
