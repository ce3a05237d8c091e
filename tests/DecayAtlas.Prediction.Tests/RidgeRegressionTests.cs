using System.Globalization;

namespace DecayAtlas.Prediction.Tests;

/// <summary>The closed form behind lines and curves, held against R's numbers in <c>data/ridge.txt</c>.</summary>
public class RidgeRegressionTests
{
    private static readonly double[][] Soils = TestTable.Read("meuse.csv").Rows;
    private static readonly double[][] Terms = [.. Soils.Select(r => new[] { r[2], r[3] })];
    private static readonly double[] Targets = [.. Soils.Select(r => r[6])];
    private static readonly double[] Weights = [.. Soils.Select((_, i) => 1.0 + i % 3)];

    private static readonly double[][] OfR =
        [.. File.ReadLines(TestTable.PathOf("ridge.txt"))
            .Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(v => double.Parse(v, CultureInfo.InvariantCulture))
                .ToArray())];

    [Fact]
    public void Slopes_and_intercept_are_those_of_the_formula_in_R()
    {
        foreach (double[] expected in OfR.SkipLast(1))
        {
            RidgeRegression found = RidgeRegression.Fit(Terms, Targets, Weights, expected[0]);
            Assert.Equal(expected[1..], [.. found.Slopes, found.Intercept], (a, b) => Math.Abs(a - b) <= 1e-9 * Math.Abs(a));
        }
    }

    [Fact]
    public void A_vanishing_penalty_comes_to_lm_in_R()
    {
        RidgeRegression found = RidgeRegression.Fit(Terms, Targets, Weights, 1e-10);
        Assert.Equal(OfR[^1][1..], [.. found.Slopes, found.Intercept], (a, b) => Math.Abs(a - b) <= 1e-7 * Math.Abs(a));
    }

    [Fact]
    public void The_unit_of_a_term_or_of_the_weights_does_not_change_what_is_predicted()
    {
        RidgeRegression plain = RidgeRegression.Fit(Terms, Targets, Weights, 0.01);
        RidgeRegression other =
            RidgeRegression.Fit([.. Terms.Select(t => new[] { 1000 * t[0] + 5, t[1] })], Targets, [.. Weights.Select(w => w * 7)], 0.01);
        Assert.All(Terms, t => Assert.Equal(
            plain.Intercept + plain.Slopes[0] * t[0] + plain.Slopes[1] * t[1],
            other.Intercept + other.Slopes[0] * (1000 * t[0] + 5) + other.Slopes[1] * t[1], 1e-9));
    }

    [Fact]
    public void Equal_terms_share_a_slope_and_a_constant_one_has_none()
    {
        RidgeRegression found = RidgeRegression.Fit([.. Terms.Select(t => new[] { t[0], t[0], 3.0 })], Targets, Weights, 1e-4);
        Assert.Equal(found.Slopes[0], found.Slopes[1], 1e-9);
        Assert.Equal(0, found.Slopes[2]);
        Assert.All([.. found.Slopes, found.Intercept], v => Assert.True(double.IsFinite(v)));
    }

    [Fact]
    public void A_saved_line_predicts_the_same_numbers()
    {
        using TemporaryFolder folder = new();
        CovariateTable table = CovariateTable.Of(InventedSites.Make(60, InventedSites.LinearTruth, 0.1));
        FittedModel fitted = new LinearCandidate().Fit(table, new(Penalty: 0.01), new());
        Directory.CreateDirectory(folder.Path);
        SavedPredictor saved = fitted.Save();
        File.WriteAllBytes(folder.Of(saved.FileName), saved.Bytes);
        double[] before = new double[table.Count], after = new double[table.Count];
        fitted.Predictor.Predict(table.Features, before);
        SavedPredictor.Read(folder.Path).Predictor.Predict(table.Features, after);
        Assert.Equal(before, after);
    }
}
