namespace DecayAtlas.Decomposition.Curves;

/// <summary>The three decay curves as regression functions with exact derivatives.</summary>
internal sealed class DecayCurve(CurveForm form, IReadOnlyList<CurvePoint> points) : IRegression
{
    public int Parameters => ParametersOf(form);

    public int Observations => points.Count;

    public double Expect(int i, ReadOnlySpan<double> parameters, Span<double> gradient) =>
        Remaining(form, points[i].Days, parameters, gradient);

    public static int ParametersOf(CurveForm form) => form switch
    {
        CurveForm.SingleExponential => 1,
        CurveForm.Asymptotic => 2,
        _ => 3,
    };

    public static string[] NamesOf(CurveForm form) => form switch
    {
        CurveForm.SingleExponential => ["k"],
        CurveForm.Asymptotic => ["k", "r"],
        _ => ["k1", "k2", "p"],
    };

    public static double Remaining(CurveForm form, double t, ReadOnlySpan<double> p, Span<double> gradient)
    {
        double e = Math.Exp(-p[0] * t);
        switch (form)
        {
            case CurveForm.SingleExponential:
                gradient[0] = -t * e;
                return e;
            case CurveForm.Asymptotic:
                gradient[0] = -t * (1 - p[1]) * e;
                gradient[1] = 1 - e;
                return p[1] + (1 - p[1]) * e;
            default:
                double e2 = Math.Exp(-p[1] * t);
                gradient[0] = -t * p[2] * e;
                gradient[1] = -t * (1 - p[2]) * e2;
                gradient[2] = e - e2;
                return p[2] * e + (1 - p[2]) * e2;
        }
    }

    /// <summary>Starts spread over the rates that the exposures can tell, so that one bad valley does not decide.</summary>
    public static IEnumerable<SearchBox> Starts(CurveForm form, IReadOnlyList<CurvePoint> points)
    {
        double longest = points.Max(p => p.Days);
        double[] rates = [0.1 / longest, 0.5 / longest, 2 / longest, 6 / longest, 20 / longest, 60 / longest];
        const double inf = double.PositiveInfinity;
        double least = Math.Clamp(points.Min(p => p.RemainingFraction), 0.02, 0.95);
        return form switch
        {
            CurveForm.SingleExponential => rates.Select(k => new SearchBox([k], [0], [inf])),
            CurveForm.Asymptotic => rates.SelectMany(k => ((double[])[0.5 * least, 0.95 * least])
                .Select(r => new SearchBox([k, r], [0, 0], [inf, 1]))),
            _ => rates.SelectMany(a => rates.Where(b => b < a).SelectMany(b => ((double[])[0.3, 0.7])
                .Select(p => new SearchBox([a, b, p], [0, 0, 0], [inf, inf, 1])))),
        };
    }
}
