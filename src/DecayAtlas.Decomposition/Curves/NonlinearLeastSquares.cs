namespace DecayAtlas.Decomposition.Curves;

/// <summary>
/// Nonlinear least squares by Levenberg and Marquardt with exact derivatives and simple bounds.
/// </summary>
/// <remarks>
/// Source: Marquardt 1963, SIAM J. Appl. Math. 11:431-441, damping scaled by the largest column norms seen (Moré 1978,
/// Lecture Notes in Mathematics 630:105-116), each step by QR of the damped Jacobian. A parameter on a bound that the gradient pushes
/// outward is held for that step (active set). Standard errors: s² (JᵀJ)⁻¹ with s² = RSS/(n - p) (Bates and Watts 1988, Nonlinear
/// Regression Analysis and its Applications, 2.3). Own code and not Math.NET's minimiser, since that one maps bounds through a
/// transformation which never reaches them, while an asymptote of exactly 0 is a common answer here.
/// </remarks>
public static class NonlinearLeastSquares
{
    private const int MostSteps = 1000;

    /// <param name="weights">1/variance up to a factor; null for equal ones.</param>
    /// <param name="held">Parameters that stay at their start; null for none.</param>
    public static Answer<LeastSquaresFit> Fit(
        IRegression model, IReadOnlyList<double> observed, IReadOnlyList<double>? weights, SearchBox box, IReadOnlyList<bool>? held = null)
    {
        int free = held is null ? model.Parameters : held.Count(h => !h);
        if (model.Observations <= free)
            return Unanswered.TooFew("points", model.Observations, free + 1);
        State state = Search(model, observed, weights, box, held);
        return double.IsFinite(state.Rss)
            ? state.Finish(Moving(state, box, held))
            : new Unanswered("The search for the curve left the range of numbers.");
    }

    /// <summary>The least sum of squares alone, where it matters not whether the parameters behind it are unique.</summary>
    internal static (double[] Parameters, double ResidualSumOfSquares) Minimise(
        IRegression model, IReadOnlyList<double> observed, IReadOnlyList<double>? weights, SearchBox box, IReadOnlyList<bool> held)
    {
        State state = Search(model, observed, weights, box, held);
        return (state.Parameters, state.Rss);
    }

    private static State Search(
        IRegression model, IReadOnlyList<double> observed, IReadOnlyList<double>? weights, SearchBox box, IReadOnlyList<bool>? held)
    {
        int p = model.Parameters;
        State state = new(model, observed, weights, [.. box.Start]);
        double[] scale = new double[p];
        // small first steps: a long one can jump from the slope of a saturating curve to the plain beyond it, where nothing leads back
        double damping = 1e4;
        bool converged = false;
        for (int step = 0; step < MostSteps && !converged; step++)
        {
            int[] moving = Moving(state, box, held);
            if (moving.Length == 0 || state.Rss == 0)
                break;
            foreach (int j in moving)
                scale[j] = Math.Max(scale[j], state.ColumnNorm(j));

            bool accepted = false;
            while (!accepted && !converged)
            {
                double[] trial = state.Step(moving, scale, damping, box);
                double change = 0;
                for (int j = 0; j < p; j++)
                    change = Math.Max(change, Math.Abs(trial[j] - state.Parameters[j]) / (Math.Abs(state.Parameters[j]) + 1e-12));
                State next = new(model, observed, weights, trial);
                accepted = next.Rss < state.Rss;
                converged = change < 1e-13 || damping > 1e14;
                damping = accepted ? Math.Max(damping / 10, 1e-18) : Math.Max(damping * 8, 1e-10);
                if (accepted)
                {
                    converged |= change < 1e-9 && state.Rss - next.Rss <= 1e-15 * state.Rss;
                    state = next;
                }
            }
        }

        // The sum of squares is flat to √ε of a parameter at its minimum; undamped steps go on where comparing sums can't see.
        double last = double.PositiveInfinity;
        for (int polish = 0; polish < 8 && double.IsFinite(state.Rss); polish++)
        {
            int[] moving = Moving(state, box, held);
            if (moving.Length == 0)
                break;
            double[] trial = state.Step(moving, scale, 0, box);
            double size = moving.Max(j => Math.Abs(trial[j] - state.Parameters[j]) / (Math.Abs(state.Parameters[j]) + 1e-12));
            State next = new(model, observed, weights, trial);
            if (!(size < last / 2) || !(size < 1e-3) || !(next.Rss <= state.Rss * (1 + 1e-9) + 1e-300))
                break;
            (state, last) = (next, size);
        }

        return state;
    }

    private static int[] Moving(State state, SearchBox box, IReadOnlyList<bool>? held)
    {
        List<int> moving = new();
        for (int j = 0; j < state.Parameters.Length; j++)
        {
            double downhill = state.Downhill(j);
            bool blocked = (state.Parameters[j] <= box.Lower[j] && downhill <= 0) || (state.Parameters[j] >= box.Upper[j] && downhill >= 0);
            if (!blocked && held?[j] != true)
                moving.Add(j);
        }

        return [.. moving];
    }

    /// <summary>Residuals and Jacobian, both times √weight, at one point.</summary>
    private sealed class State
    {
        private readonly int _n;
        private readonly double[] _jacobian;      // column by column
        private readonly double[] _residuals;

        public State(IRegression model, IReadOnlyList<double> observed, IReadOnlyList<double>? weights, double[] parameters)
        {
            Parameters = parameters;
            _n = model.Observations;
            _jacobian = new double[_n * parameters.Length];
            _residuals = new double[_n];
            Span<double> gradient = stackalloc double[parameters.Length];
            double rss = 0;
            for (int i = 0; i < _n; i++)
            {
                double root = weights is null ? 1 : Math.Sqrt(weights[i]);
                _residuals[i] = root * (observed[i] - model.Expect(i, parameters, gradient));
                rss += _residuals[i] * _residuals[i];
                for (int j = 0; j < gradient.Length; j++)
                    _jacobian[j * _n + i] = root * gradient[j];
            }

            Rss = double.IsNaN(rss) ? double.PositiveInfinity : rss;
        }

        public double[] Parameters { get; }

        public double Rss { get; }

        public double ColumnNorm(int j)
        {
            double sum = 0;
            foreach (double x in Column(j))
                sum += x * x;
            return Math.Sqrt(sum);
        }

        /// <summary>Sign says whether raising parameter j lowers the sum of squares.</summary>
        public double Downhill(int j)
        {
            ReadOnlySpan<double> column = Column(j);
            double sum = 0;
            for (int i = 0; i < _n; i++)
                sum += column[i] * _residuals[i];
            return sum;
        }

        public double[] Step(int[] moving, double[] scale, double damping, SearchBox box)
        {
            int m = moving.Length, rows = _n + m;
            double[] damped = new double[rows * m], right = new double[rows];
            _residuals.CopyTo(right, 0);
            for (int c = 0; c < m; c++)
            {
                Column(moving[c]).CopyTo(damped.AsSpan(c * rows));
                damped[c * rows + _n + c] = Math.Sqrt(damping) * Math.Max(scale[moving[c]], 1e-300);
            }

            HouseholderSolver.Reduce(damped, rows, m, right);
            HouseholderSolver.Substitute(damped, rows, m, right);
            double[] trial = [.. Parameters];
            for (int c = 0; c < m; c++)
                trial[moving[c]] = Math.Clamp(trial[moving[c]] + right[c], box.Lower[moving[c]], box.Upper[moving[c]]);
            return trial;
        }

        public Answer<LeastSquaresFit> Finish(int[] moving)
        {
            int p = Parameters.Length, m = moving.Length;
            double?[] errors = new double?[p];
            double[,] covariance = new double[p, p];
            bool[] atBound = new bool[p];
            for (int j = 0; j < p; j++)
                atBound[j] = !moving.Contains(j);
            if (m == 0)
                return new LeastSquaresFit(Parameters, errors, covariance, atBound, Rss, _n);

            double[] norms = [.. moving.Select(ColumnNorm)];
            // a parameter that could double without a trace in the residuals is not known (a rate so fast that the first date is past it)
            double trace = 1e-6 * Math.Sqrt(Rss);
            for (int c = 0; c < m; c++)
            {
                if (!(norms[c] > 0) || (Parameters[moving[c]] != 0 && norms[c] * Math.Abs(Parameters[moving[c]]) < trace))
                    return Singular();
            }

            double[] r = new double[_n * m], inverse = new double[m * m];
            for (int c = 0; c < m; c++)
            {
                for (int i = 0; i < _n; i++)
                    r[c * _n + i] = _jacobian[moving[c] * _n + i] / norms[c];
            }

            HouseholderSolver.Reduce(r, _n, m, new double[_n]);
            for (int c = 0; c < m; c++)
            {
                if (Math.Abs(r[c * _n + c]) < 1e-10)
                    return Singular();
                inverse[c * m + c] = 1;
            }

            for (int c = 0; c < m; c++)
                HouseholderSolver.Substitute(r, _n, m, inverse.AsSpan(c * m, m));
            for (int a = 0; a < m; a++)
            {
                for (int b = 0; b < m; b++)
                {
                    double sum = 0;
                    for (int c = 0; c < m; c++)
                        sum += inverse[c * m + a] * inverse[c * m + b];
                    covariance[moving[a], moving[b]] = sum * (Rss / (_n - m)) / (norms[a] * norms[b]);
                }

                errors[moving[a]] = Math.Sqrt(covariance[moving[a], moving[a]]);
            }

            return new LeastSquaresFit(Parameters, errors, covariance, atBound, Rss, _n - m);
        }

        private ReadOnlySpan<double> Column(int j) => _jacobian.AsSpan(j * _n, _n);

        private static Unanswered Singular() =>
            new("The points do not determine all parameters of the curve: different values fit them equally well.");
    }
}
