namespace DecayAtlas.Decomposition.Tests;

public class CovariateLinesTests
{
    /// <summary>wt, qsec and mpg of R's data set mtcars.</summary>
    private static readonly double[][] Cars =
    [
        [2.62, 16.46, 21], [2.875, 17.02, 21], [2.32, 18.61, 22.8], [3.215, 19.44, 21.4], [3.44, 17.02, 18.7], [3.46, 20.22, 18.1],
        [3.57, 15.84, 14.3], [3.19, 20, 24.4], [3.15, 22.9, 22.8], [3.44, 18.3, 19.2], [3.44, 18.9, 17.8], [4.07, 17.4, 16.4],
        [3.73, 17.6, 17.3], [3.78, 18, 15.2], [5.25, 17.98, 10.4], [5.424, 17.82, 10.4], [5.345, 17.42, 14.7], [2.2, 19.47, 32.4],
        [1.615, 18.52, 30.4], [1.835, 19.9, 33.9], [2.465, 20.01, 21.5], [3.52, 16.87, 15.5], [3.435, 17.3, 15.2], [3.84, 15.41, 13.3],
        [3.845, 17.05, 19.2], [1.935, 18.9, 27.3], [2.14, 16.7, 26], [1.513, 16.9, 30.4], [3.17, 14.5, 15.8], [2.77, 15.5, 19.7],
        [3.57, 14.6, 15], [2.78, 18.6, 21.4],
    ];

    private static readonly double[][] Places = [.. Cars.Select(c => c[..2])];

    /// <summary>R 4: summary(lm(log(mpg) ~ scale(wt) + scale(qsec), mtcars)).</summary>
    [Fact]
    public void Slopes_and_probabilities_are_those_of_R()
    {
        CovariateLines lines = CovariateLines.Fit(["wt", "qsec"], Places, [.. Cars.Select(c => Math.Log(c[2]))]).Value!;

        Assert.Equal(2.9575143875622, lines.Intercept, 11);
        Assert.Equal(-0.2519929046150, lines.Lines[0].Slope, 11);
        Assert.Equal(0.0797684515319, lines.Lines[1].Slope, 11);
        Assert.Equal(4.86465129667e-13, lines.Lines[0].PValue, 1e-19);
        Assert.Equal(5.29209421753e-04, lines.Lines[1].PValue, 1e-11);
    }

    [Fact]
    public void A_model_turned_upside_down_ranks_the_places_the_other_way_round()
    {
        double[] results = [.. Cars.Select(c => c[2])];
        CovariateLines lines = CovariateLines.Fit(["wt", "qsec"], Places, results).Value!;
        CovariateLines turned = CovariateLines.Fit(["wt", "qsec"], Places, [.. results.Select(r => -r)]).Value!;

        Assert.Equal(1, lines.RankCorrelation(lines, Places), 12);
        Assert.Equal(-1, lines.RankCorrelation(turned, Places), 12);
    }

    [Fact]
    public void A_covariate_that_follows_from_another_gives_a_sentence() => Assert.NotNull(
        CovariateLines.Fit(["wt", "twice"], [.. Cars.Select(c => new[] { c[0], 2 * c[0] })], [.. Cars.Select(c => c[2])]).Statement);
}
