namespace DecayAtlas.Decomposition.Tests.Curves;

public class ShortcutBias
{
    // Bland and Altman 1986, table 1: peak expiratory flow (l/min), first reading of either meter, 17 subjects (from memory; the published
    // summary confirms it)
    private static readonly double[] Wright = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
    private static readonly double[] Mini = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];

    // what is compared is logarithms: these have the published differences (over 100, lest they leave the range of numbers)
    private static MeasuredPair[] Pairs => [.. Wright.Zip(Mini, (w, m) => new MeasuredPair(Math.Exp(w / 100), Math.Exp(m / 100)))];

    [Fact]
    public void Limits_are_those_of_the_peak_flow_meters()
    {
        // the paper: mean difference -2.1, sd 38.8; limits -79.7 and 75.5 by 2 s; interval of the bias -22.0 to 17.8. Exact limits and
        // their intervals with the factors of R for 17 pairs (agreement.R): 2.18136, and 1.31503 to 3.14827
        AgreementLimits a = Agreement.Of(Pairs).Value!;

        Assert.Equal(-2.1, 100 * a.Bias, 0.05);
        Assert.Equal(38.8, 100 * a.Sd, 0.05);
        Assert.Equal(-79.7, 100 * (a.Bias - 2 * a.Sd), 0.1);
        Assert.Equal(75.5, 100 * (a.Bias + 2 * a.Sd), 0.1);
        Assert.Equal(-2.118 - 2.18136 * 38.765, 100 * a.LowerLimit, 0.01);
        Assert.Equal(-2.118 + 2.18136 * 38.765, 100 * a.UpperLimit, 0.01);
        Assert.Equal(-2.118 - 3.14827 * 38.765, 100 * a.OfLower.Lower, 0.01);
        Assert.Equal(-2.118 - 1.31503 * 38.765, 100 * a.OfLower.Upper, 0.01);
        Assert.Equal(-2.118 + 1.31503 * 38.765, 100 * a.OfUpper.Lower, 0.01);
        Assert.Equal(-2.118 + 3.14827 * 38.765, 100 * a.OfUpper.Upper, 0.01);
        Assert.Equal(-22.0, 100 * a.BiasLower95, 0.1);
        Assert.Equal(17.8, 100 * a.BiasUpper95, 0.1);
    }

    [Theory]
    [InlineData(3, 4.9682754235, 0.712647046148, 12.816197273, 1e-5)]   // where R says itself that it may be less exact
    [InlineData(5, 3.04144322758, 0.923164859615, 5.97492049802, 1e-8)]
    [InlineData(9, 2.430741787, 1.12986170751, 3.99175306502, 1e-8)]
    [InlineData(20, 2.14471144375, 1.35648425162, 3.01400309139, 1e-8)]
    [InlineData(200, 1.97688028861, 1.74085678917, 2.21906360162, 1e-8)]
    public void Factors_of_limits_are_those_of_the_t_and_the_noncentral_t_of_R(
        int pairs, double limit, double near, double far, double tolerance)
    {
        // R 4.2, stats::qt(..., ncp); script agreement.R beside this file
        Assert.Equal(1, Agreement.LimitFactor(pairs) / limit, 1e-9);
        Assert.Equal(1, Agreement.PointFactors(pairs).Near / near, tolerance);
        Assert.Equal(1, Agreement.PointFactors(pairs).Far / far, tolerance);
    }

    [Theory]
    [InlineData(5, 0.852)]
    [InlineData(9, 0.900)]
    [InlineData(20, 0.929)]
    public void Limits_hold_the_next_difference_and_their_intervals_the_points_as_often_as_they_say(int pairs, double by196)
    {
        // 20,000 samples of a normal of mean 0.1 and sd 0.3, binomial sd 0.15 %; by196 is P(|t| < 1.96/√(1 + 1/n)), R pt
        const int samples = 20_000;
        const double mean = 0.1, sd = 0.3, z = 1.959963984540054;
        (double limit, double near, double far) =
            (Agreement.LimitFactor(pairs), Agreement.PointFactors(pairs).Near, Agreement.PointFactors(pairs).Far);
        RandomStream random = new(5, $"limits {pairs}");
        int next = 0, next196 = 0, upper = 0, lower = 0;
        for (int i = 0; i < samples; i++)
        {
            SampleSummary d = SampleSummary.Of([.. Enumerable.Range(0, pairs).Select(_ => mean + sd * random.NextNormalPair().First)])!;
            double s = d.Sd!.Value, off = Math.Abs(mean + sd * random.NextNormalPair().First - d.Mean);
            next += off < limit * s ? 1 : 0;
            next196 += off < 1.96 * s ? 1 : 0;
            upper += d.Mean + near * s < mean + z * sd && mean + z * sd < d.Mean + far * s ? 1 : 0;
            lower += d.Mean - far * s < mean - z * sd && mean - z * sd < d.Mean - near * s ? 1 : 0;
        }

        Assert.Equal(0.95, (double)next / samples, 0.006);
        Assert.Equal(0.95, (double)upper / samples, 0.006);
        Assert.Equal(0.95, (double)lower / samples, 0.006);
        Assert.Equal(by196, (double)next196 / samples, 0.01);
    }

    [Fact]
    public void A_shortcut_a_fifth_too_high_is_measured_and_the_correction_offered()
    {
        double[] noise = [0.05, -0.05, 0.02, -0.02, 0];
        MeasuredPair[] pairs = [.. noise.Select((e, i) => new MeasuredPair(1.2 * Math.Exp(e) * 0.01 * (i + 1), 0.01 * (i + 1)))];
        AgreementLimits a = Agreement.Of(pairs).Value!;
        CorrectedRate offered = CorrectedRate.Offer(0.012, a);

        Assert.Equal(Math.Log(1.2), a.Bias, 12);
        Assert.Equal(0.010, offered.RatePerDay, 12);
        // sd of the noise √(0.0058/4) = 0.0380789; t(0.975, 4) = 2.776445; √1.2
        Assert.Equal(0.010 * Math.Exp(2.776445 * 0.0380789 * Math.Sqrt(1.2)), offered.Upper95, 7);
    }

    [Fact]
    public void What_can_not_be_compared_is_said()
    {
        Assert.Contains("are needed", Agreement.Of([new(1, 1), new(2, 1)]).Statement!.Sentence);
        Assert.Contains(" are equal", Agreement.Of([new(2, 1), new(4, 2), new(8, 4)]).Statement!.Sentence);
        Assert.Contains("A ratio needs both values above 0", Agreement.Of([new(-2, 1), new(3, 2), new(4, 3)]).Statement!.Sentence);
        Assert.Throws<ArgumentOutOfRangeException>(() => CorrectedRate.Offer(0, Agreement.Of(Pairs).Value!));
    }
}
