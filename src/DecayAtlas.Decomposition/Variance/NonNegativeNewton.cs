using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DecayAtlas.Decomposition.Variance;

/// <summary>
/// Minimises a smooth function of a few numbers that must not be negative: projected Newton steps (Bertsekas 1982, SIAM J. Control and
/// Optimization 20:221-246), the Hessian from differences of the exact gradient, its eigenvalues made positive, each step halved until it
/// descends.
/// </summary>
internal static class NonNegativeNewton
{
    /// <summary>Where a search that would run away ends: beyond it nothing is left within units.</summary>
    public const double Largest = 1e8;

    /// <summary>The minimum, or <see langword="null"/> where the search does not settle.</summary>
    public static double[]? Minimise(Func<double[], (double Value, double[] Gradient)> function, double[] start)
    {
        double[] x = [.. start];
        (double value, double[] gradient) = function(x);
        for (int step = 0; step < 200; step++)
        {
            int[] free = [.. Enumerable.Range(0, x.Length).Where(j => gradient[j] < 0 ? x[j] < Largest : x[j] > 0)];
            if (free.Length == 0)
                return x;
            Matrix<double> hessian = Hessian(function, x, free);
            if (!hessian.ForAll(double.IsFinite))
                return null;
            Evd<double> eigen = hessian.Evd(Symmetricity.Symmetric);
            double floor = 1e-12 * Math.Max(eigen.EigenValues.Max(e => Math.Abs(e.Real)), 1e-300);
            Vector<double> direction = -(eigen.EigenVectors * Matrix<double>.Build.DenseOfDiagonalVector(
                eigen.EigenValues.Map(e => 1 / Math.Max(Math.Abs(e.Real), floor))) * eigen.EigenVectors.Transpose())
                * Vector<double>.Build.Dense(free.Length, i => gradient[free[i]]);
            // a ratio may at most grow threefold a step, plus 2
            double shorten = Enumerable.Range(0, free.Length)
                .Select(i => (2 * x[free[i]] + 2) / Math.Max(direction[i], 1e-300)).Append(1).Min();

            bool descended = false;
            double moved = 0;
            for (double length = shorten; length > 1e-12 && !descended; length /= 2)
            {
                double[] trial = [.. x];
                for (int i = 0; i < free.Length; i++)
                    trial[free[i]] = Math.Clamp(x[free[i]] + length * direction[i], 0, Largest);
                (double trialValue, double[] trialGradient) = function(trial);
                // near the end the value is flat to rounding: a smaller projected gradient then counts as descent
                descended = trialValue < value - 1e-13 * Math.Abs(value)
                    || (trialValue <= value + 1e-12 * Math.Abs(value) && Slope(trial, trialGradient) < 0.9 * Slope(x, gradient));
                if (descended)
                {
                    moved = Enumerable.Range(0, x.Length).Max(j => Math.Abs(trial[j] - x[j]) / (x[j] + 1e-6));
                    (x, value, gradient) = (trial, trialValue, trialGradient);
                }
            }

            if (!descended || moved < 1e-13)
                return Slope(x, gradient) < 1e-3 ? x : null;
        }

        return null;
    }

    // size of the gradient where it counts, in units of the value per e-fold of x
    private static double Slope(double[] x, double[] gradient)
    {
        double slope = 0;
        for (int j = 0; j < x.Length; j++)
        {
            double here = gradient[j] > 0 ? gradient[j] * x[j] : x[j] < Largest ? -gradient[j] * Math.Max(x[j], x[j] > 0 ? 0 : 1) : 0;
            slope = Math.Max(slope, here);
        }

        return slope;
    }

    internal static Matrix<double> Hessian(Func<double[], (double Value, double[] Gradient)> function, double[] x, int[] free)
    {
        Matrix<double> hessian = Matrix<double>.Build.Dense(free.Length, free.Length);
        for (int i = 0; i < free.Length; i++)
        {
            double h = 1e-4 * (x[free[i]] + 1e-3);
            double[] up = [.. x], down = [.. x];
            up[free[i]] += h;
            down[free[i]] = Math.Max(0, down[free[i]] - h);
            double span = up[free[i]] - down[free[i]];
            double[] gUp = function(up).Gradient, gDown = function(down).Gradient;
            for (int j = 0; j < free.Length; j++)
                hessian[i, j] = (gUp[free[j]] - gDown[free[j]]) / span;
        }

        return (hessian + hessian.Transpose()) / 2;
    }
}
