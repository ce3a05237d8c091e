using MathNet.Numerics.Distributions;

namespace DecayAtlas.Questions.Tests.Slopes;

/// <summary>k and S beside a quantity, held against lmerTest and pbkrtest (data/slopes.R), and what is said where it can't be
/// told.</summary>
public class QuantitiesBesideRates
{
    [Theory]
    [InlineData("clay", "clay", 11.77552)]
    [InlineData("richness with clay", "richness", 33.35134)]
    public void Slopes_are_those_of_R(string what, string to, double sd)
    {
        RelateRequest request = new(to, to == "clay" ? [] : ["clay"]);
        RelateAnswer k = RelateQuestion.Ask(new ReleasedRates(new ReleaseOfSixCampaigns()), request);
        RelateAnswer s = RelateQuestion.Ask(
            new ReleasedRates(new ReleaseOfSixCampaigns(AskedOf.Stabilisation)), request, AskedOf.Stabilisation);
        Assert.Null(k.Statement);
        Assert.Equal((139, 18, 0), (k.Burials, k.Sites, k.SitesLeftOut));
        (double slope, double error, double df) = ReleaseOfSixCampaigns.Reference(what);
        double half = error * StudentT.InvCDF(0, 1, df, 0.975);
        foreach (RelatedSlope found in new[] { k.Slope!, s.Slope! })
        {
            Assert.Equal(slope, found.PerUnit.Value, 1e-6);
            Assert.Equal(slope - half, found.PerUnit.Lower95, 1e-5);
            Assert.Equal(2 * StudentT.CDF(0, 1, df, -Math.Abs(slope / error)), found.PValue, 1e-4);
        }

        // as slopes.R prints it
        Assert.Equal(sd, k.StandardDeviation!.Value, 1e-4);
        Assert.Equal(Math.Exp(slope * sd), k.Slope!.PerStandardDeviation.Value, 1e-4);
        Assert.Equal(slope * sd, s.Slope!.PerStandardDeviation.Value, 1e-4);
    }

    [Fact]
    public void What_can_not_be_told_is_said_in_a_sentence()
    {
        Assert.Equal("2 sites have both k and clay; at least 3 are needed.", Ask(new("clay", []), (s, _) => s is "s01" or "s02").Statement);
        Assert.Equal("1 site has both k and clay; at least 3 are needed.", Ask(new("clay", []), (s, _) => s == "s01").Statement);
        Assert.Equal(
            "A covariate is constant, or repeats the groups or another covariate: their effects can't be told apart.",
            Ask(new("clay", ["clay"])).Statement);
        Assert.Equal(
            "--to is sand, expected a covariate of the release (clay) or a quantity of its samples (richness, shannon_index_nat, "
            + "gene_copies_per_g_dry, gene_copies_per_g_moist, fungi_to_bacteria_ratio).",
            Assert.Throws<ConfigurationException>(() => Ask(new("sand", []))).Message);
        Assert.Equal(
            "--gene is ITS, but no sample with richness is of it; there are 16S rRNA.",
            Assert.Throws<ConfigurationException>(() => Ask(new("richness", [], "ITS"))).Message);
        Assert.Null(Ask(new("richness", [], "16s rrna")).Statement);
    }

    [Fact]
    public void Numbers_of_several_genes_are_not_mixed()
    {
        ReleasedSample[] samples =
        [
            .. new ReleaseOfSixCampaigns().Rows(AtlasTables.Samples).Select((s, i) => i == 0 ? s with { TargetGene = "ITS" } : s),
        ];
        Assert.Equal(
            "Samples with richness are of several genes (16S rRNA, ITS), whose numbers do not compare: name one with --gene, for example "
            + "--gene \"16S rRNA\".",
            Assert.Throws<ConfigurationException>(() => SampleQuantities.Means(samples, "richness", null)).Message);
    }

    [Fact]
    public void A_relation_says_what_it_does_not_show()
    {
        RelateAnswer answer = Ask(new("richness", ["clay"]));
        Assert.StartsWith(
            "Over 18 sites k is 1.089 times as high where richness is one standard deviation (33.4) higher (95 % interval ",
            answer.Sentences[0], StringComparison.Ordinal);
        Assert.Contains(answer.Sentences, s => s.StartsWith("Sites were not given their richness by lot:", StringComparison.Ordinal));
        Assert.Contains(answer.Sentences, s => s.Contains("flatten its slope", StringComparison.Ordinal));
        Assert.Contains(answer.Sentences, s => s.Contains("by its contributor's own method", StringComparison.Ordinal));
        Assert.False(SlopeChanges.Of(answer, answer).IsOfConclusion);
    }

    [Fact]
    public void Intervals_of_a_slope_hold_the_truth_as_often_as_they_say()
    {
        const int Releases = 60;
        bool[] held = new bool[Releases];
        Parallel.For(0, Releases, seed =>
        {
            ReleasedRates rates = new(new ReleaseWithAChange(seed));
            IntervalEstimate slope = RelateQuestion.Ask(rates, new RelateRequest("quantity", [])).Slope!.PerUnit;
            held[seed] = slope.Lower95 <= ReleaseWithAChange.LnRatePerUnit && slope.Upper95 >= ReleaseWithAChange.LnRatePerUnit;
        });
        // of 60 at 95 % fewer than 51 come up once in 1300 times (binomial)
        Assert.InRange(held.Count(h => h), 51, Releases);
    }

    private static RelateAnswer Ask(RelateRequest request, Func<string, string, bool>? isKept = null) =>
        RelateQuestion.Ask(new ReleasedRates(new ReleaseOfSixCampaigns(isKept: isKept)), request);
}
