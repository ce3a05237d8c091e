using DecayAtlas.Demo.Campaigns;
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

        // Burials scatter by 0.10, and weighing and water add to it: with 2 to 8 burials a site, a site's mean is off by 0.04 to 0.1.
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

    /// <summary>Deviations by their standard deviation are standard normal by what the sheet states: 1,200 of them have a mean square of 1,
    /// give or take 0.04 (chi-squared, 1,200 degrees of freedom).</summary>
    [Fact]
    public void Lots_are_off_their_sheets_by_what_the_sheets_state()
    {
        double[] off =
            [.. Enumerable.Range(0, 200).Select(seed => new StandardLots(seed)).SelectMany(l => l.Fast.Concat(l.Slow)).Select(OffBySds)];
        Assert.InRange(off.Average(x => x * x), 0.88, 1.12);
        Assert.InRange(off.Average(), -0.09, 0.09);
    }

    private static double OffBySds(LotDraft lot)
    {
        LotTruth truth = lot.Truth!;
        double organic = truth.WaterSoluble + truth.AcidSoluble + (lot.Nonpolar is null ? truth.Nonpolar : 0);
        return ((lot.IsAshFree ? organic : organic * (1 - truth.Ash)) - lot.Hydrolysable) / lot.HydrolysableSd;
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
        Dictionary<string, LotRow> lots = contribution.Lots.ToDictionary(lot => lot.LotId, WithTrueChemistry);
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

    /// <summary>The lot as it is made and not as its sheet says: sheets are off, and all bags of a lot with them.</summary>
    private LotRow WithTrueChemistry(LotRow lot)
    {
        double Of(string column) => Truth("lots.csv", column, cells => cells[0]).GetValueOrDefault(lot.LotId, double.NaN);
        double ash = Of("ash_of_dry"), organic = Of("water_soluble_of_organic") + Of("acid_soluble_of_organic")
            + (lot.HydrolysableParts == HydrolysableParts.WaterAndAcidSoluble ? 0 : Of("nonpolar_of_organic"));
        return double.IsNaN(ash) ? lot : lot with
        {
            HydrolysableFraction = lot.HydrolysableBasis == FractionBasis.AshFree ? organic : organic * (1 - ash),
            NonpolarFraction = lot.NonpolarFraction is null ? null : Of("nonpolar_of_organic"),
            AshFraction = ash,
            MoistureFraction = Of("water_of_supplied"),
        };
    }

    private Dictionary<(string, string), double> SiteTruth(string column) => Truth("sites.csv", column, cells => (cells[0], cells[1]));

    private Dictionary<TKey, double> Truth<TKey>(string file, string column, Func<string[], TKey> key)
        where TKey : notnull
    {
        string[] lines = File.ReadAllLines(Path.Combine(scenario.Folder, "truth", file));
        int place = Array.IndexOf(lines[0].Split(','), column);
        return lines.Skip(1).Select(line => line.Split(',')).ToDictionary(
            key, cells => double.Parse(cells[place], CultureInfo.InvariantCulture));
    }
}
