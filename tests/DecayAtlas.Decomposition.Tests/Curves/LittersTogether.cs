namespace DecayAtlas.Decomposition.Tests.Curves;

public class LittersTogether
{
    private static LitterPoint[] Series(double sFast, double sSlow, double noise, string name)
    {
        RandomStream random = new(11, name);
        return [.. new[] { 15.0, 30, 60, 90, 150, 240 }.SelectMany(t => Enumerable.Range(0, 2).SelectMany(_ => new[]
        {
            new LitterPoint(LitterRole.Fast,
                t, 1 - 0.842 * (1 - sFast) * (1 - Math.Exp(-0.05 * t)) + noise * random.NextNormalPair().First),
            new LitterPoint(LitterRole.Slow,
                t, 1 - 0.552 * (1 - sSlow) * (1 - Math.Exp(-0.012 * t)) + noise * random.NextNormalPair().First),
        }))];
    }

    [Fact]
    public void Both_fits_and_their_F_test_are_those_of_R()
    {
        // R 4.2 nls and anova; script and series in joint.R beside this file
        double[] days = [12, 12, 25, 40, 40, 61, 90, 90, 90, 130, 200, 10, 30, 30, 45, 60, 90, 120, 120, 180, 260];
        double[] w = [0.6854, 0.6822, 0.5304, 0.4105, 0.4522, 0.3899, 0.3525, 0.3601, 0.3721, 0.3687, 0.3412,
            0.97, 0.8879, 0.8966, 0.8602, 0.8368, 0.772, 0.7384, 0.7155, 0.6714, 0.6509];
        SharedStabilisation both = JointLitters.Fit(
            [.. days.Select((t, i) => new LitterPoint(i < 11 ? LitterRole.Fast : LitterRole.Slow, t, w[i]))], 0.842, 0.552).Value!;

        Check(both.SharedS, [0.24008360322705, 0.05520343510419, 0.00861041552707], [0.006665471590323, 0.002037414251438,
            0.000328043859242]);
        Check(both.SeparateS, [0.2378164763077, 0.3098044796317, 0.0547798899464, 0.0102969554142],
            [0.006160396165281, 0.029012083905870, 0.001840229969002, 0.000888837432298]);
        Assert.Equal(4.79542, both.FRatio, 1e-4);
        Assert.Equal(0.04277, both.PValue, 1e-5);

        static void Check(JointFit fit, double[] values, double[] errors)
        {
            Assert.Equal(values, fit.Parameters.Select(p => p.Value), (x, y) => Math.Abs(x / y - 1) < 1e-5);
            Assert.Equal(errors, fit.Parameters.Select(p => p.StandardError!.Value), (x, y) => Math.Abs(x / y - 1) < 1e-4);
        }
    }

    [Fact]
    public void One_S_for_both_is_found_where_it_is_true()
    {
        SharedStabilisation both = JointLitters.Fit(Series(0.25, 0.25, 0.01, "same"), 0.842, 0.552).Value!;

        Assert.Equal(0.25, both.SharedS.Parameters.Single(p => p.Name == "S").Value, 0.02);
        Assert.Equal(0.05, both.SharedS.Parameters.Single(p => p.Name == "k_f").Value, 0.006);
        Assert.Equal(0.012, both.SharedS.Parameters.Single(p => p.Name == "k_s").Value, 0.0015);
        Assert.True(both.PValue > 0.05);
        Assert.True(both.SharedS.Aicc < both.SeparateS.Aicc);
    }

    [Fact]
    public void Two_S_are_told_apart_where_they_differ()
    {
        SharedStabilisation both = JointLitters.Fit(Series(0.20, 0.45, 0.01, "differ"), 0.842, 0.552).Value!;

        Assert.Equal(0.20, both.SeparateS.Parameters.Single(p => p.Name == "S_f").Value, 0.03);
        Assert.Equal(0.45, both.SeparateS.Parameters.Single(p => p.Name == "S_s").Value, 0.05);
        Assert.True(both.PValue < 1e-4);
        Assert.True(both.SeparateS.Aicc < both.SharedS.Aicc);
    }

    [Fact]
    public void The_test_keeps_its_level()
    {
        // where S is shared, P < 0.05 must come up in 5 % of the series: 150 series, binomial sd 1.8 %
        int rejected = Enumerable.Range(0, 150)
            .Count(i => JointLitters.Fit(Series(0.25, 0.25, 0.01, $"level{i}"), 0.842, 0.552).Value!.PValue < 0.05);
        Assert.InRange(rejected, 1, 16);
    }

    [Fact]
    public void At_one_date_the_joint_curve_passes_through_the_two_bag_equations()
    {
        // w from S = 0.3, k = 0.01 at 90 d by the joint curve; a fast litter at its plateau gives the same S and k back by two bags
        double wf = 1 - 0.842 * 0.7, ws = 1 - 0.552 * 0.7 * (1 - Math.Exp(-0.9));
        LitterLot fast = new(0.842, 0), slow = new(0.552, 0);
        RemainingFraction W(double w, LitterLot lot) =>
            RemainingFraction.Of(new BagWeighing(1, w, MassBasis.Litter), lot, MeasurementAssumptions.Default).Value!;
        Assert.Equal(0.01, TwoLitterIndex.RatePerDay(W(wf, fast), W(ws, slow), new Exposure(90, 0)).Value!.Value, 12);
    }

    [Fact]
    public void One_date_of_a_litter_is_too_few() =>
        Assert.Contains("are needed",
            JointLitters.Fit([.. Series(0.2, 0.2, 0.01, "x").Where(p => p.Litter == LitterRole.Fast || p.Days == 90)], 0.842,
                0.552).Statement!.Sentence);

    [Fact]
    public void A_hydrolysable_fraction_of_nothing_is_refused() =>
        Assert.Contains("The hydrolysable fraction of each litter", JointLitters.Fit(Series(0.2, 0.2, 0.01, "h"), 0, 0.552).Statement!.Sentence);
}
