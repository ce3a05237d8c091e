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
        // the paper: mean difference -2.1, sd 38.8; limits -79.7 and 75.5 by 2 s (here 1.96 s: -78.1 and 73.9);
        // interval of the bias -22.0 to 17.8
        AgreementLimits a = Agreement.Of(Pairs).Value!;

        Assert.Equal(-2.1, 100 * a.Bias, 0.05);
        Assert.Equal(38.8, 100 * a.Sd, 0.05);
        Assert.Equal(-79.7, 100 * (a.Bias - 2 * a.Sd), 0.1);
        Assert.Equal(75.5, 100 * (a.Bias + 2 * a.Sd), 0.1);
        Assert.Equal(-78.1, 100 * a.LowerLimit, 0.1);
        Assert.Equal(73.9, 100 * a.UpperLimit, 0.1);
        Assert.Equal(-22.0, 100 * a.BiasLower95, 0.1);
        Assert.Equal(17.8, 100 * a.BiasUpper95, 0.1);
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
