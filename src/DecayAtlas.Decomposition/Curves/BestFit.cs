namespace DecayAtlas.Decomposition.Curves;

/// <summary>The best end of searches from several starts, with the box it was searched in.</summary>
internal sealed record BestFit(IRegression Model, double[] Observed, double[] Weights, SearchBox Box, LeastSquaresFit Fit)
{
    public static Answer<BestFit> Of(IRegression model, double[] observed, double[] weights, IEnumerable<SearchBox> starts)
    {
        BestFit? best = null;
        Unanswered? obstacle = null;
        foreach (SearchBox start in starts)
        {
            Answer<LeastSquaresFit> found = NonlinearLeastSquares.Fit(model, observed, weights, start);
            obstacle ??= found.Statement;
            if (found.Value is { } fit && (best is null || fit.ResidualSumOfSquares < best.Fit.ResidualSumOfSquares * (1 - 1e-10)))
                best = new BestFit(model, observed, weights, start, fit);
        }

        return best is null ? obstacle! : best;
    }

    public FittedParameter[] Describe(string[] names) => [.. names.Select((name, j) =>
    {
        (double? lower, double? upper) = ProfileLikelihood.Interval95(Model, Observed, Weights, Box, Fit, j);
        return new FittedParameter(name, Fit.Parameters[j], Fit.StandardErrors[j], lower, upper, Fit.AtBound[j]);
    })];
}
