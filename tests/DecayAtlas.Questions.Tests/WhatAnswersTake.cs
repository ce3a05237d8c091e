namespace DecayAtlas.Questions.Tests;

/// <summary>What an answer says of the evidence that it takes and leaves, and of forms that are as good.</summary>
public class WhatAnswersTake
{
    /// <summary>A weighed site, a summarised and a reported one, of 3, 2 and 4 burials.</summary>
    private sealed class ThreeKinds : IReleasedRows
    {
        public IReadOnlyList<TRow> Rows<TRow>(Table<TRow> table)
            where TRow : class => table.Name switch
            {
                "plots" => Of<TRow, ReleasedPlot>(Plot("a", "weighed", -4, -5, -6), Plot("b", "summarised", -4, -5),
                    Plot("c", "reported", -3, -4, -5, -6)),
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
