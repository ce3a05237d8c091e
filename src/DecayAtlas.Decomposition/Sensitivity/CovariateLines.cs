using MathNet.Numerics.Distributions;
using MathNet.Numerics.Statistics;

namespace DecayAtlas.Decomposition.Sensitivity;

/// <summary>One covariate of a linear model, all others in it.</summary>
/// <param name="Slope">Change of the result for one standard deviation of the covariate.</param>
/// <param name="PValue">Two-sided, of no slope.</param>
public sealed record CovariateLine(string Name, double Slope, double PValue);

/// <summary>A straight line in each of several covariates by ordinary least squares: a cheap and stable picture of what goes with what, not
/// a model to predict by.</summary>
/// <remarks>Draper and Smith 1998, Applied Regression Analysis, chapter 5.</remarks>
public sealed record CovariateLines(IReadOnlyList<CovariateLine> Lines, double Intercept, IReadOnlyList<double> Means,
    IReadOnlyList<double> Sds)
{
    /// <param name="values">One array a place, in the order of the names.</param>
    public static Answer<CovariateLines> Fit(IReadOnlyList<string> names, IReadOnlyList<double[]> values, IReadOnlyList<double> results)
    {
        if (values.Count < names.Count + 2)
            return Unanswered.TooFew("sites with all covariates", values.Count, names.Count + 2);
        double[] means = [.. names.Select((_, c) => values.Average(v => v[c]))];
        double[] sds = [.. names.Select((_, c) => values.Select(v => v[c]).StandardDeviation())];
        if (sds.Any(s => !(s > 0)))
            return Unanswered.NoScatter("values of a covariate");
        if (!(results.StandardDeviation() > 0))
            return Unanswered.NoScatter("results");
        double[][] rows = [.. values.Select(v => (double[])[1, .. v.Select((x, c) => (x - means[c]) / sds[c])])];
        Answer<LinearRegression> answer = LinearRegression.Fit(rows, results, [.. results.Select(_ => 1.0)]);
        if (answer.Value is not { } fit)
            return answer.Statement!;
        return new CovariateLines(
            [.. names.Select((name, c) => new CovariateLine(name, fit.Coefficients[c + 1], PValueOf(fit, c + 1)))],
            fit.Coefficients[0], means, sds);
    }

    public double Predict(IReadOnlyList<double> values)
    {
        double sum = Intercept;
        for (int c = 0; c < values.Count; c++)
            sum += Lines[c].Slope * (values[c] - Means[c]) / Sds[c];
        return sum;
    }

    /// <summary>Spearman's correlation of what two models predict for the same places (1).</summary>
    public double RankCorrelation(CovariateLines other, IReadOnlyList<double[]> places) =>
        Correlation.Spearman(places.Select(Predict), places.Select(other.Predict));

    private static double PValueOf(LinearRegression fit, int at) =>
        2 * StudentT.CDF(0, 1, fit.DegreesOfFreedom, -Math.Abs(fit.Coefficients[at]) / Math.Sqrt(fit.Covariance[at, at]));
}
