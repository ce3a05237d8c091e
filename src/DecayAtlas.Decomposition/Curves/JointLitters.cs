using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Curves;

/// <summary>One retrieval of either litter, as a <see cref="CurvePoint"/>.</summary>
public readonly record struct LitterPoint(LitterRole Litter, double Days, double RemainingFraction, double Weight = 1);

/// <summary>Both litters of one site fitted together.</summary>
/// <param name="Parameters">With one S: S, k_f, k_s. With two: S_f, S_s, k_f, k_s.</param>
public sealed record JointFit(IReadOnlyList<FittedParameter> Parameters, double ResidualSumOfSquares, int DegreesOfFreedom, double? Aicc);

/// <summary>The two-litter assumption put to the test.</summary>
/// <param name="SharedS">Fit with one stabilisation factor for both litters, as the two-bag equations assume.</param>
/// <param name="SeparateS">Fit with one each.</param>
/// <param name="FRatio">Extra sum of squares for the second S over the residual variance.</param>
/// <param name="PValue">Its probability if S were shared.</param>
public sealed record SharedStabilisation(JointFit SharedS, JointFit SeparateS, double FRatio, double PValue);

/// <summary>
/// Fast and slow litter of one site fitted together with <c>w = 1 - H (1 - S)(1 - exp(-k t))</c>, with one S or one each.
/// </summary>
/// <remarks>
/// The curve is that behind the two-bag equations (Keuskamp et al. 2013, doi:10.1111/2041-210X.12097) at every date instead of one.
/// Test: extra sum of squares, F on 1 and n - 4 degrees of freedom (Bates and Watts 1988, 3.10; from memory).
/// </remarks>
public static class JointLitters
{
    /// <param name="fastHydrolysable">H of the litter.</param>
    public static Answer<SharedStabilisation> Fit(IReadOnlyList<LitterPoint> points, double fastHydrolysable, double slowHydrolysable)
    {
        if (!(fastHydrolysable is > 0 and <= 1) || !(slowHydrolysable is > 0 and <= 1))
            return new Unanswered("The hydrolysable fraction of each litter must lie above 0 and not above 1.");
        if (DecayCurves.Unusable(points.Select(p => new CurvePoint(p.Days, p.RemainingFraction, p.Weight))) is { } unusable)
            return unusable;
        foreach (LitterRole litter in Enum.GetValues<LitterRole>())
        {
            int dates = points.Where(p => p.Litter == litter).Select(p => p.Days).Distinct().Count();
            if (dates < 2)
                return Unanswered.TooFew($"retrieval dates of the {(litter == LitterRole.Fast ? "fast" : "slow")} litter", dates, 2);
        }

        if (points.Count < 5)
            return Unanswered.TooFew("points", points.Count, 5);
        Answer<JointFit> shared = FitOne(points, fastHydrolysable, slowHydrolysable, isShared: true);
        Answer<JointFit> separate = FitOne(points, fastHydrolysable, slowHydrolysable, isShared: false);
        if ((shared.Statement ?? separate.Statement) is { } statement)
            return statement;

        JointFit one = shared.Value!, two = separate.Value!;
        double variance = two.ResidualSumOfSquares / two.DegreesOfFreedom;
        if (!(variance > 0))
            return Unanswered.NoScatter("residuals");
        double f = Math.Max(0, one.ResidualSumOfSquares - two.ResidualSumOfSquares) / variance;
        return new SharedStabilisation(one, two, f, 1 - FisherSnedecor.CDF(1, two.DegreesOfFreedom, f));
    }

    private static Answer<JointFit> FitOne(IReadOnlyList<LitterPoint> points, double hFast, double hSlow, bool isShared)
    {
        LitterPoint[] sorted = [.. points.OrderBy(p => p.Litter).ThenBy(p => p.Days).ThenBy(p => p.RemainingFraction)];
        double[] y = [.. sorted.Select(p => p.RemainingFraction)], weights = [.. sorted.Select(p => p.Weight)];
        Model model = new(sorted, hFast, hSlow, isShared);
        double longest = sorted.Max(p => p.Days);
        const double inf = double.PositiveInfinity;
        // S enters the curve linearly: one start of it is enough
        const double s = 0.3;
        IEnumerable<SearchBox> starts = ((double[])[2.0 / longest, 10 / longest])
            .SelectMany(_ => (double[])[0.5 / longest, 3 / longest], (kFast, kSlow) => isShared
                ? new SearchBox([s, kFast, kSlow], [-1, 0, 0], [1, inf, inf])
                : new SearchBox([s, s, kFast, kSlow], [-1, -1, 0, 0], [1, 1, inf, inf]));
        Answer<BestFit> found = BestFit.Of(model, y, weights, starts);
        if (found.Value is not { } best)
            return found.Statement!;
        string[] names = isShared ? ["S", "k_f", "k_s"] : ["S_f", "S_s", "k_f", "k_s"];
        return new JointFit(best.Describe(names), best.Fit.ResidualSumOfSquares, best.Fit.DegreesOfFreedom,
            DecayCurves.Aicc(best.Fit.ResidualSumOfSquares, y.Length, names.Length));
    }

    private sealed class Model(LitterPoint[] points, double hFast, double hSlow, bool isShared) : IRegression
    {
        public int Parameters => isShared ? 3 : 4;

        public int Observations => points.Length;

        public double Expect(int i, ReadOnlySpan<double> p, Span<double> gradient)
        {
            gradient.Clear();
            bool isFast = points[i].Litter == LitterRole.Fast;
            double h = isFast ? hFast : hSlow, t = points[i].Days;
            int s = isShared || isFast ? 0 : 1, k = (isShared ? 1 : 2) + (isFast ? 0 : 1);
            double e = Math.Exp(-p[k] * t);
            gradient[s] = h * (1 - e);
            gradient[k] = -h * (1 - p[s]) * t * e;
            return 1 - h * (1 - p[s]) * (1 - e);
        }
    }
}
