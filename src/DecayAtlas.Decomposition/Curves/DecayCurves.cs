namespace DecayAtlas.Decomposition.Curves;

/// <summary>One curve beside the others fitted to the same points.</summary>
/// <param name="Fit">Its fit, or why there is none.</param>
/// <param name="Weight">Akaike weight among the curves with an AICc.</param>
public sealed record CurveCandidate(CurveForm Form, Answer<CurveFit> Fit, double? Weight);

/// <summary>
/// Decay curves of remaining fraction against days for one litter at one site.
/// </summary>
/// <remarks>
/// Least squares on w itself, since weighing errors are about equal on w; not on ln w (Adair, Hobbie and Hobbie 2010, Ecology 91:1225-1236,
/// from memory).
/// <c>AICc = n ln(RSS/n) + 2K + 2K(K + 1)/(n - K - 1)</c>, K the parameters and the residual variance;
/// weights <c>exp(-Δ/2)/Σ exp(-Δ/2)</c> (Burnham and Anderson 2002, Model Selection and Multimodel Inference, 2.4, 2.6, 2.9).
/// </remarks>
public static class DecayCurves
{
    /// <summary>Fits one curve, from several starts; the best end is kept.</summary>
    public static Answer<CurveFit> Fit(IReadOnlyList<CurvePoint> points, CurveForm form)
    {
        if (Unusable(points) is { } unusable)
            return unusable;
        int p = DecayCurve.ParametersOf(form);
        if (points.Count <= p)
            return Unanswered.TooFew("points of the series", points.Count, p + 1);
        int dates = points.Select(x => x.Days).Distinct().Count();
        if (dates < p)
            return Unanswered.TooFew("different retrieval dates", dates, p);

        CurvePoint[] sorted = [.. points.OrderBy(x => x.Days).ThenBy(x => x.RemainingFraction).ThenBy(x => x.Weight)];
        DecayCurve model = new(form, sorted);
        double[] observed = [.. sorted.Select(x => x.RemainingFraction)], weights = [.. sorted.Select(x => x.Weight)];
        Answer<BestFit> found = BestFit.Of(model, observed, weights, DecayCurve.Starts(form, sorted));
        if (found.Value is not { } best)
            return found.Statement!;
        if (form != CurveForm.DoubleExponential && best.Fit.Parameters[0] <= 0)
            return new Unanswered("The remaining fraction does not fall over the series: no decay rate can be fitted.");
        if (form == CurveForm.DoubleExponential && !Distinct(best.Fit))
            return new Unanswered("The series does not tell two rates apart: one of the two pools is empty, or both decay alike.");
        if (form == CurveForm.DoubleExponential && best.Fit.Parameters[0] < best.Fit.Parameters[1])
            best = best with { Fit = Swapped(best.Fit) };
        double[] gradient = new double[3];
        LeastSquaresFit fit = best.Fit;
        return new CurveFit(
            form, best.Describe(DecayCurve.NamesOf(form)), fit.ResidualSd, fit.DegreesOfFreedom,
            Aicc(fit.ResidualSumOfSquares, points.Count, p),
            [.. points.Select(x => x.RemainingFraction - DecayCurve.Remaining(form, x.Days, fit.Parameters, gradient))])
        {
            Covariance = fit.Covariance,
        };
    }

    /// <summary>Fits all three curves and weighs them.</summary>
    public static IReadOnlyList<CurveCandidate> Compare(IReadOnlyList<CurvePoint> points)
    {
        Answer<CurveFit>[] fits = [.. Enum.GetValues<CurveForm>().Select(f => Fit(points, f))];
        double least = fits.Min(f => f.Value?.Aicc) ?? double.NaN;
        double sum = fits.Sum(f => f.Value?.Aicc is { } a ? Math.Exp((least - a) / 2) : 0);
        return [.. fits.Select((f, i) => new CurveCandidate(
            (CurveForm)i, f, f.Value?.Aicc is { } a ? Math.Exp((least - a) / 2) / sum : null))];
    }

    /// <summary>AICc of a least-squares fit; missing where n ≤ K + 1 or nothing is left over.</summary>
    internal static double? Aicc(double rss, int n, int parameters)
    {
        int k = parameters + 1;
        return n - k - 1 > 0 && rss > 1e-20 ? n * Math.Log(rss / n) + 2 * k + 2.0 * k * (k + 1) / (n - k - 1) : null;
    }

    internal static Unanswered? Unusable(IEnumerable<CurvePoint> points) =>
        points.Any(p => !double.IsFinite(p.RemainingFraction) || !(p.Days > 0) || !double.IsFinite(p.Days) || !(p.Weight > 0))
            ? new Unanswered("Each point needs days above 0, a remaining fraction and a weight above 0.") : null;

    private static bool Distinct(LeastSquaresFit fit) =>
        fit.Parameters[2] is > 1e-6 and < 1 - 1e-6
        && Math.Abs(fit.Parameters[0] - fit.Parameters[1]) > 1e-6 * Math.Max(fit.Parameters[0], fit.Parameters[1]);

    private static LeastSquaresFit Swapped(LeastSquaresFit fit)
    {
        int[] order = [1, 0, 2];
        double[] sign = [1, 1, -1];
        double[,] covariance = new double[3, 3];
        for (int a = 0; a < 3; a++)
        {
            for (int b = 0; b < 3; b++)
                covariance[a, b] = sign[a] * sign[b] * fit.Covariance[order[a], order[b]];
        }

        return fit with
        {
            Parameters = [fit.Parameters[1], fit.Parameters[0], 1 - fit.Parameters[2]],
            StandardErrors = [fit.StandardErrors[1], fit.StandardErrors[0], fit.StandardErrors[2]],
            AtBound = [fit.AtBound[1], fit.AtBound[0], fit.AtBound[2]],
            Covariance = covariance,
        };
    }
}
