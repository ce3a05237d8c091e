using System.Globalization;

namespace DecayAtlas.Demo.Tests;

/// <summary>The weighings, worked forwards by the Decomposition project, give back the truth they were made from.</summary>
public sealed class TruthTests(ScenarioFixture scenario)
{
    [Fact]
    public void The_mean_ln_k_of_a_site_s_burials_scatters_about_the_site_s_true_ln_k_without_bias()
    {
        Dictionary<(string, string), double> truth = SiteTruth("k_site_per_day");
        List<double> errors = new();
        foreach (Contribution contribution in scenario.Contributions)
        {
            foreach (IGrouping<string, (string SiteId, double Rate)> site in SoundRates(contribution).GroupBy(burial => burial.SiteId))
                errors.Add(site.Average(burial => Math.Log(burial.Rate)) - Math.Log(truth[(contribution.Header.ContributorId, site.Key)]));
        }

        // Burials scatter by 0.10, weighing, water and the lots' sheets add to it: with 2 to 8 burials a site, a site's mean is off by 0.04
        // to 0.1, and all of a lot by up to 0.06.
        Assert.True(errors.Count > 250);
        Assert.InRange(errors.Average(), -0.02, 0.02);
        Assert.InRange(Math.Sqrt(errors.Average(error => error * error)), 0.02, 0.13);
    }

    [Fact]
    public void Every_burial_that_is_not_listed_has_a_rate_above_zero()
    {
        foreach (Contribution contribution in scenario.Contributions)
            Assert.All(SoundRates(contribution), burial => Assert.InRange(burial.Rate, 0.002, 0.04));
    }

    [Fact]
    public void Site_effects_have_the_spread_that_the_readme_states()
    {
        Dictionary<(string, string), double> expected = SiteTruth("k_expected_per_day"), site = SiteTruth("k_site_per_day");
        double[] effects = [.. expected.Select(pair => Math.Log(site[pair.Key] / pair.Value))];
        Assert.InRange(Math.Sqrt(effects.Average(effect => effect * effect)), 0.09, 0.16);
    }

    [Fact]
    public void Warmth_acts_as_Lloyd_and_Taylor_say()
    {
        // Lloyd and Taylor 1994, equation 11, is 1 at 10 degC by its form; at 0 degC 308.56 (1/56.02 - 1/46.02) = -1.19687,
        // at 20 degC 308.56 (1/56.02 - 1/66.02) = 0.83430 (worked by hand from the published constants).
        double atTen = DecayResponse.LnRate(10, 0.5, 6, 20);
        Assert.Equal(-1.19687, DecayResponse.LnRate(0, 0.5, 6, 20) - atTen, 4);
        Assert.Equal(0.83430, DecayResponse.LnRate(20, 0.5, 6, 20) - atTen, 4);
    }

    private IEnumerable<(string SiteId, double Rate)> SoundRates(Contribution contribution)
    {
        string id = contribution.Header.ContributionId;
        Dictionary<string, LotRow> lots = contribution.Lots.ToDictionary(lot => lot.LotId);
        foreach (IGrouping<string, BagRow> burial in contribution.Bags.GroupBy(bag => bag.BurialId))
        {
            // a warmed plot is not the site
            if (burial.Any(bag => bag.Treatment == "warmed")) continue;
            if (scenario.IsListed(id, "burial", burial.Key) || burial.Any(bag => scenario.IsListed(id, "bag", bag.BagId))) continue;
            Computed<RateAndStabilisation> rate =
                WeighedBurial.Of([.. burial.Select(bag => (bag, lots[bag.LotId]))], MeasurementAssumptions.Default).Rate;
            Assert.True(rate.Value is not null, $"{id} {burial.Key}: {rate.Reason}");
            yield return (burial.First().SiteId, rate.Value.RatePerDay.Value);
        }
    }

    private Dictionary<(string, string), double> SiteTruth(string column)
    {
        string[] lines = File.ReadAllLines(Path.Combine(scenario.Folder, "truth", "sites.csv"));
        int place = Array.IndexOf(lines[0].Split(','), column);
        return lines.Skip(1).Select(line => line.Split(',')).ToDictionary(
            cells => (cells[0], cells[1]), cells => double.Parse(cells[place], CultureInfo.InvariantCulture));
    }
}
