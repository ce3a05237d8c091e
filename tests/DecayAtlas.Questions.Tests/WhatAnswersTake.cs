namespace DecayAtlas.Questions.Tests;

/// <summary>What an answer says of the evidence it takes, and of errors that no interval of it holds.</summary>
public class WhatAnswersDoNotHold
{
    /// <summary>A weighed site, a summarised and a reported one, of 3, 2 and 4 burials; their shared errors are 5, 13 and 25 % of k
    /// (3, 4, 5 and 5, 12, 13 and 7, 24, 25 are the sides of right triangles).</summary>
    private sealed class ThreeKinds : IReleasedRows
    {
        public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
            where TRow : class => table.Name switch
            {
                "plots" => Of<TRow, ReleasedPlot>(Plot("a", "weighed", -4, -5, -6), Plot("b", "summarised", -4, -5),
                    Plot("c", "reported", -3, -4, -5, -6)),
                "site_campaigns" => Of<TRow, ReleasedSiteCampaign>(Campaign("a", 0.0003, 0.0004), Campaign("b", 0.0005, 0.0012),
                    Campaign("c", 0.0007, 0.0024)),
                _ => [],
            };

        private static ReleasedPlot Plot(string site, string evidence, params double[] lnRates) =>
            new()
            {
                SiteKey = site,
                Campaign = "2024",
                Evidence = evidence,
                LnRateBurials = lnRates.Length,
                LnRateMean = lnRates.Average(),
                LnRateSd = SampleSummary.Of(lnRates)!.Sd,
            };

        private static ReleasedSiteCampaign Campaign(string site, double batch, double lot) => new()
        {
            SiteKey = site,
            Campaign = "2024",
            Burials = 3,
            RateBurials = 3,
            RateNotPositiveBurials = 0,
            RateAtLeastBurials = 0,
            LnRateBurials = 3,
            StabilisationBurials = 3,
            RateMeanPerDay = 0.01,
            RateMeanBatchUncertaintyPerDay = batch,
            RateMeanLotUncertaintyPerDay = lot,
        };

        private static IReadOnlyList<TRow> Of<TRow, TOwn>(params TOwn[] rows) => [.. rows.Cast<TRow>()];
    }

    [Fact]
    public void Burials_are_told_by_kind_of_evidence_and_those_not_taken_are_told_too()
    {
        ReleasedRates rates = new(new ThreeKinds());
        Assert.Equal("3 weighed and 2 of summaries", ReleasedRates.Split(ReleasedRates.ByEvidence(rates.Plots)));
        Assert.Equal(["4 burials of reported results (answers.evidence)"], rates.LeftOut());
    }

    [Fact]
    public void The_size_of_shared_errors_is_the_median_over_what_the_answer_takes()
    {
        ReleasedRates rates = new(new ThreeKinds());                       // 5 and 13 %: the median is 9 %
        Assert.Contains("of the order of 9 % of k here", rates.NotInIntervals(rates.Plots), StringComparison.Ordinal);
        Assert.DoesNotContain("of the order", rates.NotInIntervals([]), StringComparison.Ordinal);
    }

    [Fact]
    public void Another_form_within_two_AICc_is_no_other_conclusion()
    {
        WarmthAnswer all = Answer(("q10", -100), ("arrhenius", -99));
        Assert.False(SlopeChanges.Of(all, Answer(("arrhenius", -90), ("q10", -89))).IsOfConclusion);
        Assert.True(SlopeChanges.Of(all, Answer(("arrhenius", -90), ("q10", -87))).IsOfConclusion);
    }

    private static WarmthAnswer Answer(params (string Form, double Aicc)[] forms) => new(
        "t", null, 9, 0, [.. forms.Select(f => new FittedWarmth(f.Form, "none", new(2, 1.8, 2.2), new(2, 1.8, 2.2), 0.5, f.Aicc))], null,
        null, null, []);
}
