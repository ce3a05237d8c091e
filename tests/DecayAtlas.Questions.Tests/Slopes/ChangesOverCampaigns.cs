using MathNet.Numerics.Distributions;

namespace DecayAtlas.Questions.Tests.Slopes;

/// <summary>The change of k and S over campaigns, held against lmerTest and pbkrtest (data/slopes.R), and what is said where it can't
/// be told.</summary>
public class ChangesOverCampaigns
{
    [Theory]
    [InlineData("trend", TrendSlope.All, false)]
    [InlineData("trend with clay", TrendSlope.All, false)]
    [InlineData("within sites", TrendSlope.WithinSites, true)]
    [InlineData("between sites", TrendSlope.BetweenSites, true)]
    public void Slopes_are_those_of_R(string what, string over, bool isBySite)
    {
        TrendRequest request = new(what == "trend with clay" ? ["clay"] : [], isBySite);
        TrendAnswer k = TrendQuestion.Ask(new ReleasedRates(new ReleaseOfSixCampaigns()), request);
        TrendAnswer s = TrendQuestion.Ask(
            new ReleasedRates(new ReleaseOfSixCampaigns(AskedOf.Stabilisation)), request, AskedOf.Stabilisation);
        Assert.Null(k.Statement);
        Assert.Equal((139, 18, 11), (k.Burials, k.Sites, k.SitesDugAgain));
        Assert.Equal(["site", "campaign", "campaign at site"], k.Levels);
        (double slope, double error, double df) = ReleaseOfSixCampaigns.Reference(what);
        // of six seasons 4 degrees of freedom at most, where R gives more
        double half = error * StudentT.InvCDF(0, 1, Math.Min(df, 4), 0.975);
        IntervalEstimate ofK = k.Slopes.Single(x => x.Over == over).PerYear, ofS = s.Slopes.Single(x => x.Over == over).PerYear;
        Assert.Equal(slope, Math.Log(ofK.Value), 1e-5);
        Assert.Equal(slope - half, Math.Log(ofK.Lower95), 1e-4);
        Assert.Equal(slope + half, ofS.Upper95, 1e-4);
        Assert.Equal(slope, ofS.Value, 1e-5);
    }

    [Fact]
    public void One_campaign_no_site_dug_again_and_two_campaigns_are_told_in_sentences()
    {
        TrendAnswer one = Ask((_, c) => c == "c4");
        Assert.Empty(one.Slopes);
        Assert.Equal("There is 1 campaign, c4: a change takes at least 2, and a trend at least 3.", one.Statement);

        Dictionary<string, string> first = new(StringComparer.Ordinal);
        TrendAnswer never = Ask((s, c) => first.TryAdd(s, c) || first[s] == c, isBySite: true);
        Assert.Equal("No site was dug in several campaigns: there is no change within sites; ask without --by-site.", never.Statement);

        TrendAnswer two = Ask((_, c) => c is "c3" or "c4");
        Assert.Single(two.Slopes);
        Assert.DoesNotContain("campaign", two.Levels);
        Assert.Contains(
            "With 2 campaigns a trend can't be told from the difference of two seasons, and how seasons scatter is in no interval.",
            two.Sentences);
        Assert.Equal("No accepted burial in an untreated plot has k above 0, dates and the covariates.", Ask((_, _) => false).Statement);
    }

    [Fact]
    public void An_answer_says_who_joined_when_and_how_many_were_dug_again()
    {
        TrendAnswer answer = Ask((_, _) => true);
        Assert.Equal(18, answer.Campaigns.Sum(c => c.NewSites));
        Assert.Contains(
            "Of 18 sites 11 were dug in several campaigns; what changed there is told from what differs between sites.", answer.Sentences);
        Assert.Contains(answer.Sentences, s => s.StartsWith("Sites joined over time (c1: ", StringComparison.Ordinal));
        // P 0.21 by the t of 4 degrees of freedom
        Assert.StartsWith(
            "Over 6 campaigns at 18 sites no change of k is shown: a year may multiply it by ", answer.Sentences[0],
            StringComparison.Ordinal);
        Assert.False(SlopeChanges.Of(answer, answer).IsOfConclusion);
        Assert.True(SlopeChanges.Of(answer, answer with { Statement = "There are none." }).IsOfConclusion);
    }

    [Fact]
    public void Intervals_of_the_yearly_change_hold_the_truth_as_often_as_they_say()
    {
        const int Releases = 60;
        bool[][] held = new bool[Releases][];
        Parallel.For(0, Releases, seed =>
        {
            ReleasedRates rates = new(new ReleaseWithAChange(seed));
            held[seed] = [.. new[] { false, true }.Select(isBySite =>
            {
                TrendAnswer answer = TrendQuestion.Ask(rates, new TrendRequest([], isBySite));
                (double lower, double upper) = (Math.Log(answer.Slopes[0].PerYear.Lower95), Math.Log(answer.Slopes[0].PerYear.Upper95));
                return lower <= ReleaseWithAChange.LnRatePerYear && upper >= ReleaseWithAChange.LnRatePerYear;
            })];
        });
        // of 60 at 95 % fewer than 51 come up once in 1300 times (binomial); more than they say is no harm
        Assert.All(new[] { 0, 1 }, i => Assert.InRange(held.Count(h => h[i]), 51, Releases));
    }

    private static TrendAnswer Ask(Func<string, string, bool> isKept, bool isBySite = false) =>
        TrendQuestion.Ask(new ReleasedRates(new ReleaseOfSixCampaigns(isKept: isKept)), new TrendRequest([], isBySite));
}
