using FsCheck.Xunit;

namespace DecayAtlas.Decomposition.Tests.Outliers;

public class SingleColumn
{
    // Rosner 1983, Technometrics 25:165-172; NIST/SEMATECH e-Handbook 1.3.5.17.3
    private static readonly double[] Rosner =
    [
        -0.25, 0.68, 0.94, 1.15, 1.20, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65, 1.69, 1.70, 1.76, 1.77, 1.81,
        1.91, 1.94,
        1.96, 1.99, 2.06, 2.09, 2.10, 2.14, 2.15, 2.23, 2.24, 2.26, 2.35, 2.37, 2.40, 2.47, 2.54, 2.62, 2.64, 2.90, 2.92, 2.92, 2.93, 3.21,
        3.26,
        3.30, 3.59, 3.68, 4.30, 4.64, 5.34, 5.42, 6.01,
    ];

    [Fact]
    public void Generalised_ESD_finds_Rosners_three()
    {
        EsdResult result = GeneralisedEsd.Of(Rosner, 10).Value!;

        Assert.Equal([3.118, 2.942, 3.179, 2.810, 2.815, 2.848, 2.279, 2.310, 2.101, 2.067],
            result.Steps.Select(s => s.Statistic), (x, y) => Math.Abs(x - y) < 0.001);
        Assert.Equal([3.158, 3.151, 3.143, 3.136, 3.128, 3.120, 3.111, 3.103, 3.094, 3.085],
            result.Steps.Select(s => s.Critical), (x, y) => Math.Abs(x - y) < 0.0011);
        Assert.Equal(3, result.OutlierCount);
        Assert.Equal([6.01, 5.42, 5.34], result.Outliers.Select(o => Rosner[o.Index]));
        Assert.Equal([53, 52, 51], result.Outliers.Select(o => o.Index));
    }

    [Theory]
    // ASTM E178, table 1, one-sided critical values of T (from memory; the formula recomputes each)
    [InlineData(3, 0.05, 1.153)]
    [InlineData(3, 0.025, 1.155)]
    [InlineData(4, 0.05, 1.463)]
    [InlineData(4, 0.01, 1.492)]
    [InlineData(5, 0.05, 1.672)]
    [InlineData(5, 0.025, 1.715)]
    [InlineData(6, 0.01, 1.944)]
    [InlineData(7, 0.05, 1.938)]
    [InlineData(8, 0.025, 2.126)]
    [InlineData(9, 0.01, 2.323)]
    [InlineData(10, 0.05, 2.176)]
    [InlineData(10, 0.01, 2.410)]
    [InlineData(15, 0.05, 2.409)]
    [InlineData(20, 0.05, 2.557)]
    [InlineData(20, 0.01, 2.884)]
    [InlineData(30, 0.05, 2.745)]
    public void Grubbs_critical_values_are_those_of_ASTM_E178(int n, double level, double critical) =>
        Assert.Equal(critical, Grubbs.Critical(n, level), 0.0012);

    [Fact]
    public void Grubbs_on_the_breaking_strengths_of_ASTM_E178()
    {
        // example 1 of the standard: 568 570 570 570 572 572 572 578 584 596; T = (596 - 575.2)/8.70 = 2.39 exceeds 2.176 (from memory)
        GrubbsResult g = Grubbs.Of([568, 570, 570, 570, 572, 572, 572, 578, 584, 596]).Value!;
        Assert.Equal(2.39, g.Statistic, 0.005);
        Assert.Equal(9, g.Index);
        Assert.Equal(2.290, g.Critical, 0.001);     // two-sided 5 % is one-sided 2.5 %
        Assert.True(g.IsOutlier);
    }

    [Fact]
    public void Modified_scores_are_0_6745_over_MAD_but_for_the_small_sample_factor()
    {
        // median 5, MAD 1 of 1 … 9 … : values 1 4 4 5 5 6 6 5 30 with n = 9, b = 1.107
        ModifiedScores m = ModifiedZScore.Of([1, 4, 4, 5, 5, 6, 6, 5, 30]).Value!;
        Assert.Equal(5, m.Median);
        Assert.Equal(0.6745 * 25 / 1.107, m.Scores[8], 2e-3);
        Assert.Equal(RobustScale.MedianAbsoluteDeviation, m.ScaleUsed);
    }

    [Fact]
    public void With_most_values_equal_the_mean_deviation_takes_over()
    {
        ModifiedScores m = ModifiedZScore.Of([5, 5, 5, 5, 5, 5, 9]).Value!;
        Assert.Equal(RobustScale.MeanAbsoluteDeviation, m.ScaleUsed);
        Assert.Equal(4 / (1.253314 * 4 / 7), m.Scores[6], 1e-4);
    }

    [Theory]
    // Croux and Rousseeuw 1992: with the factor the mean of MAD is that of the standard deviation; 40,000 normal samples each. Factors from
    // memory, confirmed here.
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    [InlineData(9)]
    [InlineData(12)]
    [InlineData(22)]
    public void The_small_sample_factor_makes_MAD_right_on_the_average(int n)
    {
        RandomStream random = new(3, $"mad{n}");
        double sum = 0;
        int flagged = 0, beyond = 0;
        const int samples = 40_000;
        for (int i = 0; i < samples; i++)
        {
            double[] x = [.. Enumerable.Range(0, n).Select(_ => random.NextNormalPair().First)];
            ModifiedScores m = ModifiedZScore.Of(x).Value!;
            sum += (x.Max() - m.Median) / m.Scores.Max();
            if (m.Scores.Any(s => Math.Abs(s) > 3.5))
                flagged++;
            if (m.Scores.Any(s => Math.Abs(s) > ModifiedZScore.CutOffFor(n)))
                beyond++;
        }

        // the convention of 3.5 marks far more than it seems to; the cut-off for n marks something in 5 % of samples
        Assert.InRange(flagged / (double)samples, 0.075, 0.16);
        Assert.Equal(0.05, beyond / (double)samples, 0.005);
        Assert.Equal(1, sum / samples, 0.012);
    }

    [Fact]
    public void Generalised_ESD_keeps_its_level()
    {
        int flagged = Enumerable.Range(0, 2000).Count(i =>
        {
            RandomStream random = new(5, $"esd{i}");
            return GeneralisedEsd.Of([.. Enumerable.Range(0, 25).Select(_ => random.NextNormalPair().First)], 3).Value!.OutlierCount > 0;
        });
        // 5 % of 2000 with a sampling sd of 0.5 %; Rosner gives about the nominal level at n = 25
        Assert.InRange(flagged / 2000.0, 0.035, 0.07);
    }

    [Fact]
    public void The_robust_mean_is_that_of_the_chemists()
    {
        // Analytical Methods Committee 1989, Analyst 114:1693 (copper in wholemeal flour, R MASS::chem) and nickel in syenite
        // (MASS::abbey):
        // MASS::hubers gives 3.205498, 0.673652 and 11.73151, 5.258487
        double[] chem = [2.9, 3.1, 3.4, 3.4, 3.7, 3.7, 2.8, 2.5, 2.4, 2.4, 2.7, 2.2, 5.28, 3.37, 3.03, 3.03, 28.95, 3.77, 3.4, 2.2, 3.5,
            3.6, 3.7, 3.7];
        double[] abbey = [5.2, 6.5, 6.9, 7, 7, 7, 7.4, 8, 8, 8, 8, 8.5, 9, 9, 10, 11, 11, 12, 12, 13.7, 14, 14, 14, 16, 17, 17, 18, 24, 28,
            34, 125];
        RobustMean c = RobustLocation.Of(chem).Value!, a = RobustLocation.Of(abbey).Value!;

        Assert.Equal(3.205498, c.Mean, 1e-5);
        Assert.Equal(0.673652, c.Sd, 1e-5);
        Assert.Equal(11.73151, a.Mean, 1e-4);
        Assert.Equal(5.258487, a.Sd, 1e-4);
    }

    [Fact]
    public void A_balance_that_reads_high_is_found_and_few_readings_are_not_blamed()
    {
        Dictionary<string, SampleSummary> readings = [];
        for (int c = 0; c < 12; c++)
        {
            RandomStream random = new(17, $"balance{c}");
            readings[$"c{c:00}"] = SampleSummary.Of([.. Enumerable.Range(0, c == 0 ? 1 : 12)
                .Select(_ => 2 + (c == 7 ? 0.08 : 0) + (c == 0 ? 0.04 : 0) + 0.03 * random.NextNormalPair().First).Order()])!;
        }

        ContributorScore[] scores = ContributorBias.Of(readings).Value!;
        Assert.True(Math.Abs(scores[7].Score) > 3);
        Assert.Equal(0.08, scores[7].Bias, 0.02);
        Assert.All(scores.Where(s => s.Contributor != "c07"), s => Assert.True(Math.Abs(s.Score) < 3));
        Assert.Contains("are needed", ContributorBias.Of(readings.Take(4).ToDictionary()).Statement!.Sentence);
    }

    [Fact]
    public void Rounded_readings_show_and_honest_ones_do_not()
    {
        RandomStream random = new(23);
        double[] honest = [.. Enumerable.Range(0, 400).Select(_ => Math.Round(1 + random.NextUniform(), 2))];
        double[] rounded = [.. honest.Select((x, i) => i % 2 == 0 ? Math.Round(x * 20) / 20 : x)];

        Assert.True(DigitPreference.Of(honest, 0.01).Value!.PValue > 0.01);
        LastDigits found = DigitPreference.Of(rounded, 0.01).Value!;
        Assert.True(found.PValue < 1e-6);
        Assert.True(found.ShareOfZeroAndFive > 0.5);
        Assert.Contains("are needed", DigitPreference.Of(honest[..20], 0.01).Statement!.Sentence);
        Assert.Contains("a power of ten", DigitPreference.Of(honest, 0.05).Statement!.Sentence);
        Assert.Contains("fewer than 20 steps", DigitPreference.Of([.. Enumerable.Repeat(2.0, 60)], 0.01).Statement!.Sentence);
    }

    [Fact]
    public void Chi_square_of_digits_by_hand()
    {
        // counts 10 each but 15 zeros and 5 nines: χ² = (25 + 25)/10 = 5; P(χ²(9) > 5) = 0.8343 (table)
        double[] readings = [.. Enumerable.Range(0, 10)
            .SelectMany(d => Enumerable.Range(0, d == 0 ? 15 : d == 9 ? 5 : 10).Select(i => 1 + i / 10.0 + d / 100.0))];
        LastDigits found = DigitPreference.Of(readings, 0.01).Value!;
        Assert.Equal(5, found.ChiSquare, 9);
        Assert.Equal(0.8343, found.PValue, 4);
        Assert.Equal(Math.Sqrt(5 / 900.0), found.CramersV, 9);
    }

    [Fact]
    public void What_can_not_be_tested_is_said()
    {
        Assert.Contains("are needed", GeneralisedEsd.Of([1, 2, 3], 1).Statement!.Sentence);
        Assert.Contains(" are equal", GeneralisedEsd.Of([.. Enumerable.Repeat(1.0, 20)], 1).Statement!.Sentence);
        Assert.Contains("are needed", Grubbs.Of([1, 2]).Statement!.Sentence);
        Assert.Contains(" are equal", Grubbs.Of([1, 1, 1]).Statement!.Sentence);
        Assert.Contains("are needed", ModifiedZScore.Of([1, 2, 3, 4]).Statement!.Sentence);
        Assert.Contains(" are equal", ModifiedZScore.Of([1, 1, 1, 1, 1]).Statement!.Sentence);
        Assert.Contains("not a finite number", Grubbs.Of([1, double.NaN, 2]).Statement!.Sentence);
    }

    [Property(MaxTest = 50)]
    public bool Order_unit_and_shift_change_nothing(byte seed)
    {
        RandomStream random = new(seed, "outliers");
        double[] x = [.. Enumerable.Range(0, 20).Select(_ => random.NextNormalPair().First)];
        double[] y = [.. x.Reverse().Select(v => 1000 * v + 5)];
        EsdResult a = GeneralisedEsd.Of(x, 3).Value!, b = GeneralisedEsd.Of(y, 3).Value!;
        ModifiedScores m = ModifiedZScore.Of(x).Value!, k = ModifiedZScore.Of(y).Value!;
        return a.Steps.Zip(b.Steps)
            .All(s => Math.Abs(s.First.Statistic - s.Second.Statistic) < 1e-9 && s.First.Index == 19 - s.Second.Index)
            && m.Scores.Zip(k.Scores.Reverse()).All(s => Math.Abs(s.First - s.Second) < 1e-9);
    }
}
