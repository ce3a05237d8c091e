namespace DecayAtlas.Decomposition.Tests.Warmth;

/// <summary>Warmed plots beside their controls against R 4.2; script in warmth.R beside this file.</summary>
public class Responses
{
    private static void Near(double value, double lower, double upper, IntervalEstimate found)
    {
        Assert.Equal(1, found.Value / value, 1e-8);
        Assert.Equal(1, found.Lower95 / lower, 1e-8);
        Assert.Equal(1, found.Upper95 / upper, 1e-8);
    }

    [Fact]
    public void Pairs_are_Students_paired_test()
    {
        // Student 1908, as ln k: mean difference 1.58, interval 0.7001142 to 2.4598858, p 0.002833 (R t.test(paired = TRUE))
        double[] one = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0], two = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
        WarmingEffect e = PairedWarming.Of([.. one.Zip(two, (c, w) => new WarmedPair(Math.Exp(w), Math.Exp(c)))]).Value!;
        Assert.Equal(1.58, Math.Log(e.RateRatio.Value), 1e-10);
        Assert.Equal(0.7001142, Math.Log(e.RateRatio.Lower95), 1e-7);
        Assert.Equal(2.4598858, Math.Log(e.RateRatio.Upper95), 1e-7);
        Assert.Equal(0.002833, e.PValue, 1e-6);
        Assert.Null(e.Q10);
    }

    [Fact]
    public void Q10_of_pairs_is_a_regression_through_the_origin()
    {
        // R lm(d ~ x - 1): d .2 .1 .35 .3 .12 on ΔT/10 .3 .25 .4 .35 .2
        double[] d = [.2, .1, .35, .3, .12], x = [3, 2.5, 4, 3.5, 2];
        Near(2.10699583462, 1.67351489957, 2.65275884203,
            PairedWarming.Of([.. d.Zip(x, (a, b) => new WarmedPair(Math.Exp(a), 1, b))]).Value!.Q10!.Value);
    }

    [Fact]
    public void What_can_not_be_told_is_said()
    {
        Assert.Contains("are needed", PairedWarming.Of([new(1, 2)]).Statement!.Sentence);
        Assert.Contains(" are equal", PairedWarming.Of([new(1, 2), new(1, 2)]).Statement!.Sentence);
    }
}
