using System.Globalization;

namespace DecayAtlas.Decomposition.Tests.Mixed;

/// <summary>How often 95 % intervals hold a truth that is known, since it was invented.</summary>
public class CoverageOfTheJointModel
{
    private static int Campaigns =>
        int.Parse(Environment.GetEnvironmentVariable("DECAYATLAS_CAMPAIGNS") ?? "48", CultureInfo.InvariantCulture);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Intervals_of_group_differences_variances_and_site_values_hold_the_truth_as_often_as_they_say(bool manyQuantities)
    {
        (string What, int Held, int Asked)[][] campaigns = new (string, int, int)[Campaigns][];
        Parallel.For(0, campaigns.Length, seed => campaigns[seed] = [.. Held(seed, manyQuantities)]);
        foreach (IGrouping<string, (string What, int Held, int Asked)> g in campaigns.SelectMany(c => c).GroupBy(c => c.What))
        {
            int asked = g.Sum(x => x.Asked);
            double share = g.Sum(x => x.Held) / (double)asked;
            TestContext.Current.SendDiagnosticMessage(string.Create(CultureInfo.InvariantCulture, $"{g.Key}: {share:0.0000} of {asked}"));
            // 93 to 97 % as the number of campaigns grows, and three standard errors of that number
            double slack = 0.02 + 3 * Math.Sqrt(0.95 * 0.05 / campaigns.Length);
            Assert.True(Math.Abs(share - 0.95) < slack, $"{g.Key}: {share} of {asked}");
        }
    }

    private static IEnumerable<(string What, int Held, int Asked)> Held(int seed, bool manyQuantities)
    {
        InventedCampaigns invented = new(seed);
        IReadOnlyList<MixedRecord> records = manyQuantities ? invented.WithManyQuantities(seed) : invented.Records;
        MixedFit fit = MixedModel.Fit(records, InventedCampaigns.Factors, 2).Value!;
        FixedEffect k = fit.Effect(0, [0, 1]), s = fit.Effect(1, [0, 1]);
        yield return One("difference of ln k", k.Lower95 <= 0.3 && k.Upper95 >= 0.3);
        yield return One("difference of S", s.Lower95 <= -0.04 && s.Upper95 >= -0.04);
        double site = Square(InventedCampaigns.SiteSd);
        double total = site + Square(InventedCampaigns.CampaignSd) + Square(InventedCampaigns.BurialSd);
        yield return One("variance of sites, ln k", Holds(fit.VarianceInterval("site"), site));
        yield return One("share of sites, S", Holds(fit.ShareInterval("site", 1), site / total));
        UnitValue[] values = [.. fit.Values("site")];
        yield return Sites("ln k of a site", 0);
        yield return Sites("S of a site", 1);

        (string, int, int) Sites(string what, int outcome)
        {
            UnitValue[] of = [.. values.Where(v => v.Outcome == outcome)];
            return (what, of.Count(v =>
            {
                (double first, double second) = invented.Truth[v.Unit];
                double truth = outcome == 0 ? first : second;
                return v.Lower95 <= truth && v.Upper95 >= truth;
            }), of.Length);
        }
    }

    private static (string, int, int) One(string what, bool holds) => (what, holds ? 1 : 0, 1);

    private static bool Holds((double Lower, double Upper)? interval, double truth) =>
        interval is var (lower, upper) && lower <= truth && upper >= truth;

    private static double Square(double x) => x * x;
}
