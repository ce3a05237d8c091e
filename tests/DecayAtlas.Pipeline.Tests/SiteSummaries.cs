namespace DecayAtlas.Pipeline.Tests;

public class SiteSummaries
{
    private static (SiteCampaign Summary, Burial[] Burials) SiteOf(params (string? Plot, double SlowFinalGrams)[] bags)
    {
        FlagInputs inputs = Given.Inputs(Given.Contribution(bags:
        [
            .. bags.SelectMany((b, i) => new[]
            {
                Given.FastBag with { BagId = $"{i}-f", BurialId = $"{i}", Replicate = $"{i}", Plot = b.Plot },
                Given.SlowBag
                    with { BagId = $"{i}-s", BurialId = $"{i}", Replicate = $"{i}", Plot = b.Plot, MassFinalGrams = b.SlowFinalGrams },
            }),
        ]));
        return (Assert.Single(SummariseStep.Run(inputs.Burials, FlagStep.Run(inputs, DecisionList.None).Verdicts).SiteCampaigns), [
            .. inputs.Burials]);
    }

    [Fact]
    public void Where_plots_hold_several_burials_the_combined_interval_takes_the_plots_as_replicates()
    {
        (SiteCampaign summary, Burial[] burials) = SiteOf(("A", 1.80), ("A", 1.81), ("B", 1.77));
        SiteMean combined = summary.CombinedRatePerDay!;
        double[] k = [.. burials.Select(b => b.RatePerDay.Value!.Value)];
        double a = (k[0] + k[1]) / 2, b = k[2], mean = (a + b) / 2;

        Assert.Equal((3, 2, ReplicationUnit.Plot), (combined.Burials, combined.Units, combined.Unit));
        Assert.Equal(mean, combined.Mean, 1e-12);
        // t(0.975, 1) = 12.706, z(0.975) = 1.959964 (NIST/SEMATECH e-Handbook 1.3.6.7); what lots and batches share adds with its sign
        double scatter = 12.706205 * Math.Abs(a - b) / 2;
        double Shared(Func<SharedErrors, double> part) =>
            1.959964
            * ((part(burials[0].RatePerDay.Value!.Shared) + part(burials[1].RatePerDay.Value!.Shared)) / 4
                + part(burials[2].RatePerDay.Value!.Shared) / 2);
        Func<LitterErrors, double>[] ofOneLitter =
            [e => e.Hydrolysable, e => e.Ash, e => e.Tare, e => e.LotMoisture, e => e.InitialWater, e => e.FinalWater];
        double half = Math.Sqrt(
            (scatter * scatter)
            + ofOneLitter.Sum(part => Math.Pow(Shared(e => part(e.Fast)), 2) + Math.Pow(Shared(e => part(e.Slow)), 2))
            + Math.Pow(Shared(e => e.Fast.Balance + e.Slow.Balance), 2));
        Assert.Equal(mean + half, combined.Upper95, 1e-7);
        Assert.Equal(3, summary.RatePerDay!.Count);
    }

    [Fact]
    public void One_burial_and_burials_that_agree_have_no_combined_interval()
    {
        Assert.Null(SiteOf((null, 1.80)).Summary.CombinedRatePerDay);
        // coarse readings that agree say nothing of the scatter
        Assert.Null(SiteOf((null, 1.80), (null, 1.80)).Summary.CombinedRatePerDay);
    }
}
