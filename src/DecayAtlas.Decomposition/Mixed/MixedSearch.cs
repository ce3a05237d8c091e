using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DecayAtlas.Decomposition.Mixed;

/// <summary>
/// Minimises -2 l over the numbers of the loadings: Newton steps with the average information and the curvature of Λ Λᵀ, eigenvalues made
/// positive, near the end with what the gradients show of the curvature, each step halved until it descends.
/// </summary>
/// <remarks>-2 l is even in a number on the diagonal of a loading, so that a variance of zero is an inner minimum and is found as any
/// other; none is ever started at zero.</remarks>
internal static class MixedSearch
{
    /// <summary>A standard deviation, in units of the outcome's, below which it is tried as zero.</summary>
    private const double Smallest = 1e-3;

    /// <summary>Where a variance that was zero starts anew: nothing moves one from zero, and one near it nearly.</summary>
    private const double Opened = 0.05;

    private const int MostSteps = 200, RestartAfter = 25;

    /// <summary>The numbers at the minimum, from several starts where the records are few and nothing is near;
    /// <see langword="null"/> where the search does not settle.</summary>
    /// <param name="near">Covariances to start from, of scaled outcomes.</param>
    public static MixedLikelihood? Minimise(MixedDesign design, MixedParameters parameters, OutcomeCovariance[]? near)
    {
        if (near is not null && Near(parameters, near) is { } from
            && Minimise(design, parameters, new FreeNumbers(parameters), from) is { } there)
        {
            return WithZeros(design, parameters, there);
        }

        int blocks = parameters.Blocks;
        double even = 1 / Math.Sqrt(blocks);
        double[][] starts = design.Structure.NonZeros > 30_000 ? [[even, even]] : [[even, even], [0.1, 0.7], [0.9, 0.2]];
        MixedLikelihood? best = null;
        foreach (double[] start in starts)
        {
            double[] numbers = [.. parameters.Places.Select(p =>
                MixedParameters.IsDiagonal(p) ? p / 4 == blocks - 1 ? start[1] : start[0] : 0)];
            if (Minimise(design, parameters, new FreeNumbers(parameters), numbers) is { } found
                && (best is null || found.Criterion < best.Criterion - 1e-8))
            {
                best = found;
            }
        }

        return best is null ? null : WithZeros(design, parameters, best);
    }

    private static double[]? Near(MixedParameters parameters, OutcomeCovariance[] near)
    {
        if (near.Length != parameters.Blocks)
            return null;
        double[] numbers = new double[parameters.Places.Length];
        for (int j = 0; j < numbers.Length; j++)
        {
            int place = parameters.Places[j];
            OutcomeCovariance g = near[place / 4];
            double first = Math.Sqrt(g.First), cross = first > 0 ? g.Cross / first : 0;
            numbers[j] = (place % 4) switch
            {
                0 => Math.Max(first, Opened),
                2 => cross,
                _ => Math.Max(Math.Sqrt(Math.Max(0, g.Second - cross * cross)), Opened),
            };
        }

        return numbers;
    }

    /// <summary>Sets to zero what is small and does not worsen the likelihood, and settles the rest.</summary>
    private static MixedLikelihood WithZeros(MixedDesign design, MixedParameters parameters, MixedLikelihood found)
    {
        double[] numbers = parameters.NumbersOf(found.Loadings);
        bool any = false;
        for (int j = 0; j < numbers.Length; j++)
        {
            int place = parameters.Places[j];
            if (!MixedParameters.IsDiagonal(place) || numbers[j] == 0 || numbers[j] > Smallest)
                continue;
            double[] trial = [.. numbers];
            trial[j] = 0;
            // without a leading variance there is no covariance, and the other variance is one number
            int cross = Array.IndexOf(parameters.Places, MixedParameters.Place(place / 4, 1 - parameters.Lead, parameters.Lead));
            int other = MixedParameters.Place(place / 4, 1 - parameters.Lead, 1 - parameters.Lead);
            if (cross >= 0 && place != other)
            {
                int rest = Array.IndexOf(parameters.Places, other);
                trial[rest] = Math.Sqrt(trial[rest] * trial[rest] + trial[cross] * trial[cross]);
                trial[cross] = 0;
            }

            if (new MixedLikelihood(design, parameters.Loadings(trial)).Criterion <= found.Criterion + 1e-6)
                (numbers, any) = (trial, true);
        }

        return any ? Minimise(design, parameters, new FreeNumbers(parameters, numbers), numbers) ?? found : found;
    }

    /// <summary>The minimum over what a map lets move, from a start.</summary>
    public static MixedLikelihood? Minimise(MixedDesign design, MixedParameters parameters, INumbersMap map, double[] start,
        double enough = 1e-13)
    {
        Vector<double> x = Vector<double>.Build.DenseOfArray(map.Reduce(start));
        MixedLikelihood here = At(x);
        if (!double.IsFinite(here.Criterion))
            return null;
        if (x.Count == 0)
            return here;
        (Vector<double> gradient, Matrix<double> hessian) = (Gradient(x, here), Hessian(x, here));
        double least = double.PositiveInfinity;
        bool isScoring = true;
        for (int step = 1; step < MostSteps; step++)
        {
            Vector<double> direction = Step(hessian, gradient);
            double decrement = -gradient.DotProduct(direction);
            if (!double.IsFinite(decrement))
                return null;
            // at the end the value is flat to rounding and the step itself tells
            bool isEnd = decrement < 1e-7;
            if (decrement < enough || (isEnd && decrement > 0.8 * least))
                return here;
            isScoring &= decrement > 0.1 && decrement < 0.5 * least;
            least = Math.Min(least, decrement);
            double length = Math.Min(1, 1 / Math.Max(direction.AbsoluteMaximum(), 1e-300));
            MixedLikelihood there = At(x + length * direction);
            while (there.Criterion > here.Criterion - 1e-4 * length * decrement && !(isEnd && double.IsFinite(there.Criterion)))
            {
                length /= 2;
                if (length < 1e-10)
                    return decrement < 1e-4 ? here : null;
                there = At(x + length * direction);
            }

            Vector<double> moved = length * direction;
            x += moved;
            here = there;
            Vector<double> slope = Gradient(x, here);
            if (isScoring || step % RestartAfter == 0)
                hessian = Hessian(x, here);
            else
                Update(hessian, moved, slope - gradient);
            gradient = slope;
        }

        return null;

        MixedLikelihood At(Vector<double> free) => new(design, parameters.Loadings(map.Expand([.. free])));

        Vector<double> Gradient(Vector<double> free, MixedLikelihood at)
        {
            double[] full = at.Gradient();
            return map.Jacobian([.. free]).TransposeThisAndMultiply(
                Vector<double>.Build.DenseOfEnumerable(parameters.Places.Select(p => full[p])));
        }

        Matrix<double> Hessian(Vector<double> free, MixedLikelihood at)
        {
            Matrix<double> jacobian = map.Jacobian([.. free]);
            Matrix<double> all = Matrix<double>.Build.DenseOfArray(new MixedInformation(design, at).Average(parameters.Places));
            double[] full = at.Gradient();
            for (int block = 0; block < parameters.Blocks; block++)
                AddCurvature(all, at.Loadings, full, parameters, block);
            return Positive(jacobian.TransposeThisAndMultiply(all * jacobian));
        }
    }

    /// <summary>The update of Broyden, Fletcher, Goldfarb and Shanno (Nocedal and Wright 2006, Numerical Optimization, 6.1, from
    /// memory), in place; none where the curvature seen is not positive.</summary>
    private static void Update(Matrix<double> hessian, Vector<double> moved, Vector<double> change)
    {
        double curvature = moved.DotProduct(change);
        Vector<double> expected = hessian * moved;
        if (!(curvature > 1e-10 * moved.DotProduct(expected)))
            return;
        Matrix<double> updated = hessian - expected.OuterProduct(expected) / moved.DotProduct(expected)
            + change.OuterProduct(change) / curvature;
        updated.CopyTo(hessian);
    }

    /// <summary>With Γ the derivative of -2 l in G, that in Λ is 2 Γ Λ, and the curvature of G = Λ Λᵀ adds 2 tr(Γ dΛ dΛᵀ).</summary>
    private static void AddCurvature(Matrix<double> hessian, double[] loadings, double[] gradient, MixedParameters parameters, int block)
    {
        int a = parameters.Lead, b = 1 - a;
        int leading = Of(a, a), cross = Of(b, a), trailing = Of(b, b);
        double gammaTrailing = trailing >= 0 ? Ratio(At(b, b, gradient), At(b, b, loadings)) : 0;
        double gammaCross = cross >= 0 ? Ratio(At(b, a, gradient) - 2 * gammaTrailing * At(b, a, loadings), At(a, a, loadings)) : 0;
        double gammaLeading = leading >= 0 ? Ratio(At(a, a, gradient) - 2 * gammaCross * At(b, a, loadings), At(a, a, loadings)) : 0;
        if (leading >= 0)
            hessian[leading, leading] += 2 * gammaLeading;
        if (trailing >= 0)
            hessian[trailing, trailing] += 2 * gammaTrailing;
        if (cross >= 0)
        {
            hessian[cross, cross] += 2 * gammaTrailing;
            hessian[leading, cross] += 2 * gammaCross;
            hessian[cross, leading] += 2 * gammaCross;
        }

        int Of(int row, int column) => Array.IndexOf(parameters.Places, MixedParameters.Place(block, row, column));

        double At(int row, int column, double[] of) => of[MixedParameters.Place(block, row, column)];

        static double Ratio(double slope, double loading) => Math.Abs(loading) > 1e-9 ? slope / (2 * loading) : 0;
    }

    private static Vector<double> Step(Matrix<double> hessian, Vector<double> gradient) => -Positive(hessian).Cholesky().Solve(gradient);

    private static Matrix<double> Positive(Matrix<double> hessian)
    {
        Evd<double> eigen = hessian.Evd(Symmetricity.Symmetric);
        double floor = 1e-10 * Math.Max(eigen.EigenValues.Max(e => Math.Abs(e.Real)), 1e-300);
        return eigen.EigenVectors
            * Matrix<double>.Build.DenseOfDiagonalVector(eigen.EigenValues.Map(e => Math.Max(Math.Abs(e.Real), floor)))
            * eigen.EigenVectors.Transpose();
    }
}
