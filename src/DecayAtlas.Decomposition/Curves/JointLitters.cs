using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Curves;

/// <summary>One retrieval of either litter.</summary>
/// <param name="Litter">Which litter.</param>
/// <param name="Days">Days since burial (d, &gt; 0).</param>
/// <param name="RemainingFraction">w (1).</param>
/// <param name="Weight">Weight (&gt; 0).</param>
public readonly record struct LitterPoint(LitterRole Litter, double Days, double RemainingFraction, double Weight = 1);

/// <summary>Both litters of one site fitted together.</summary>
/// <param name="Parameters">With one S: S, k_f, k_s. With two: S_f, S_s, k_f, k_s.</param>
/// <param name="ResidualSumOfSquares">Weighted residual sum of squares.</param>
/// <param name="DegreesOfFreedom">n less the free parameters.</param>
/// <param name="Aicc">Second-order information criterion.</param>
public sealed record JointFit(IReadOnlyList<FittedParameter> Parameters, double ResidualSumOfSquares, int DegreesOfFreedom, double? Aicc)
{
    /// <summary>Value of a parameter by its name.</summary>
    public double this[string name] => Parameters.Single(p => p.Name == name).Value;
}

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
    /// <summary>Fits both ways.</summary>
    /// <param name="points">Retrievals of both litters.</param>
    /// <param name="fastHydrolysable">H of the fast litter.</param>
    /// <param name="slowHydrolysable">H of the slow litter.</param>
    public static Answer<SharedStabilisation> Fit(IReadOnlyList<LitterPoint> points, double fastHydrolysable, double slowHydrolysable)
    {
        if (!(fastHydrolysable is > 0 and <= 1) || !(slowHydrolysable is > 0 and <= 1))
        {
            return new Unanswered(UnansweredReason.ValueOutOfDomain,
                "The hydrolysable fraction of each litter must lie above 0 and not above 1.");
        }

        if (points.Any(p => !double.IsFinite(p.RemainingFraction) || !(p.Days > 0) || !double.IsFinite(p.Days) || !(p.Weight > 0)))
        {
            return new Unanswered(UnansweredReason.ValueOutOfDomain,
                "Each point needs days above 0, a remaining fraction and a weight above 0.");
        }

        foreach (LitterRole litter in Enum.GetValues<LitterRole>())
        {
            int dates = points.Where(p => p.Litter == litter).Select(p => p.Days).Distinct().Count();
            if (dates < 2)
            {
                return Unanswered.TooFew(litter == LitterRole.Fast ? "retrieval dates of the fast litter"
                    : "retrieval dates of the slow litter", dates, 2);
            }
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
        LeastSquaresFit? best = null;
        SearchBox? box = null;
        Unanswered? obstacle = null;
        // S enters the curve linearly: one start of it is enough
        const double s = 0.3;
        foreach (double kFast in (double[])[2.0, 10])
        {
            foreach (double kSlow in (double[])[0.5, 3])
            {
                SearchBox start = isShared
                    ? new([s, kFast / longest, kSlow / longest], [-1, 0, 0], [1, inf, inf])
                    : new([s, s, kFast / longest, kSlow / longest], [-1, -1, 0, 0], [1, 1, inf, inf]);
                Answer<LeastSquaresFit> found = NonlinearLeastSquares.Fit(model, y, weights, start);
                obstacle ??= found.Statement;
                if (found.Value is { } fit && (best is null || fit.ResidualSumOfSquares < best.ResidualSumOfSquares * (1 - 1e-10)))
                    (best, box) = (fit, start);
            }
        }

        if (best is null)
            return obstacle!;
        string[] names = isShared ? ["S", "k_f", "k_s"] : ["S_f", "S_s", "k_f", "k_s"];
        return new JointFit(
            [.. names.Select((name, j) =>
            {
                (double? lower, double? upper) = ProfileLikelihood.Interval95(model, y, weights, box!, best, j);
                return new FittedParameter(name, name[0] == 'k' ? "1/d" : "1", best.Parameters[j], best.StandardErrors[j], lower, upper,
                    best.AtBound[j]);
            })],
            best.ResidualSumOfSquares, best.DegreesOfFreedom, DecayCurves.Aicc(best.ResidualSumOfSquares, y.Length, names.Length));
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
