namespace DecayAtlas.Decomposition.Mixed.Equations;

/// <summary>
/// Restricted likelihood of the mixed model at given loadings, by Henderson's equations in units of variance 1:
/// <code>
/// y = X β + Z Λ v + C e + ε,   v, e ~ N(0, I),   M = Wᵀ R⁻¹ W + (I on v, e),   W = [Z Λ, C, X]
/// -2 l = log|R| + log|M| + yᵀ P y + (N - p) log 2π
/// </code>
/// </summary>
/// <remarks>Sources: Henderson 1975, Biometrics 31:423-447; in this form Bates et al. 2015, J. Statistical Software 67(1); gradient by the
/// entries of M⁻¹ where M has some (Takahashi).</remarks>
internal sealed class MixedLikelihood
{
    private readonly MixedDesign _design;
    private readonly SparseCholesky _cholesky;
    private readonly RecordPart[] _parts;
    private readonly OutcomeCovariance _residual;
    private double[]? _inverse, _gradient;

    public MixedLikelihood(MixedDesign design, double[] loadings)
    {
        _design = design;
        Loadings = loadings;
        _residual = MixedParameters.CovarianceOf(loadings, design.Factors.Length);
        _parts = new RecordPart[design.Records.Length];
        double[] values = new double[design.Structure.NonZeros], right = new double[design.Size];
        for (int j = 0; j < design.FixedStart; j++)
            values[design.Structure.Starts[j]] = 1;
        double logDeterminant = 0, squares = 0;
        RecordRows w = new(), r = new();
        for (int i = 0; i < design.Records.Length; i++)
        {
            MixedDesign.Pattern pattern = design.PatternOf[i];
            RecordPart part = _parts[i] = RecordPart.Of(design, i, _residual);
            logDeterminant += part.LogDeterminant;
            squares += part.WithinSquares;
            w.Fill(_design, Loadings, i);
            int m = pattern.Unknowns.Length, next = 0;
            part.Multiply(w, r, m);
            for (int column = 0; column < m; column++)
            {
                double a = r.First[column], b = r.Second[column];
                for (int row = column; row < m; row++)
                    values[pattern.Places[next++]] += w.First[row] * a + w.Second[row] * b;
                right[pattern.Unknowns[column]] += a * part.First + b * part.Second;
            }
        }

        _cholesky = new SparseCholesky(design.Structure, values);
        Solution = right;
        if (!_cholesky.IsPositiveDefinite || !double.IsFinite(logDeterminant))
        {
            Criterion = double.PositiveInfinity;
            return;
        }

        _cholesky.SolveLower(Solution);
        _cholesky.SolveUpper(Solution);
        for (int j = 0; j < design.FixedStart; j++)
            squares += Solution[j] * Solution[j];
        for (int i = 0; i < design.Records.Length; i++)
        {
            w.Fill(_design, Loadings, i);
            squares += _parts[i].SetResidual(w, design.PatternOf[i].Unknowns, Solution);
        }

        int df = design.Observations - design.Outcomes * design.Width;
        Criterion = logDeterminant + _cholesky.LogDeterminant + squares + df * Math.Log(2 * Math.PI);
    }

    public double[] Loadings { get; }

    /// <summary>v, e and β.</summary>
    public double[] Solution { get; }

    /// <summary>-2 l; infinite where the matrix is not positive definite.</summary>
    public double Criterion { get; }

    /// <summary>M⁻¹ where M has entries: the covariance of errors of v, e and β.</summary>
    public double[] Inverse => _inverse ??= _cholesky.InverseSubset();

    public ReadOnlySpan<RecordPart> Parts => _parts;

    /// <summary>L⁻¹ b in place, M = L Lᵀ.</summary>
    /// <param name="columns">Of B, the numbers of an unknown side by side.</param>
    public void SolveLower(double[] b, int columns) => _cholesky.SolveLower(b, columns);

    /// <summary>L⁻ᵀ b in place.</summary>
    public void SolveUpper(double[] b, int columns) => _cholesky.SolveUpper(b, columns);

    /// <summary>M⁻¹ b.</summary>
    public double[] Solve(double[] b)
    {
        double[] x = [.. b];
        _cholesky.SolveLower(x);
        _cholesky.SolveUpper(x);
        return x;
    }

    public double InverseAt(int i, int j) => Inverse[_design.Structure.PlaceOf(Math.Max(i, j), Math.Min(i, j))];

    /// <summary>Derivatives of -2 l in all entries of all loadings.</summary>
    public double[] Gradient() => _gradient ??= MakeGradient();

    /// <summary>Of a record's first outcome: P_ii and (P y)_i. All other values together foretell it with error variance 1/P_ii, and it
    /// is (P y)_i/P_ii above what they foretell.</summary>
    public (double Precision, double Weighted) First(int record)
    {
        MixedDesign.Pattern pattern = _design.PatternOf[record];
        double[] inverse = Inverse;
        RecordRows w = new();
        w.Fill(_design, Loadings, record);
        double b11 = 0, b12 = 0, b22 = 0;
        int m = pattern.Unknowns.Length, next = 0;
        for (int column = 0; column < m; column++)
        {
            for (int row = column; row < m; row++)
            {
                double z = inverse[pattern.Places[next++]] * (row == column ? 0.5 : 1);
                b11 += 2 * z * w.First[row] * w.First[column];
                b12 += z * (w.First[row] * w.Second[column] + w.Second[row] * w.First[column]);
                b22 += 2 * z * w.Second[row] * w.Second[column];
            }
        }

        RecordPart part = _parts[record];
        return (part.R11 - part.Sandwich(b11, b12, b22).Item1, part.G1);
    }

    /// <summary>V⁻¹ X (Xᵀ V⁻¹ X)⁻¹ c, for each record and outcome: what a combination of the fixed effects takes of each value.</summary>
    /// <param name="solved">M⁻¹ c.</param>
    public (double First, double Second)[] WeightsOf(double[] solved)
    {
        (double, double)[] weights = new (double, double)[_parts.Length];
        RecordRows w = new();
        for (int i = 0; i < _parts.Length; i++)
        {
            w.Fill(_design, Loadings, i);
            weights[i] = Weight(i, w, solved);
        }

        return weights;
    }

    /// <summary>The same of one record.</summary>
    /// <param name="w">Its rows of W.</param>
    public (double First, double Second) Weight(int record, RecordRows w, double[] solved)
    {
        int[] unknowns = _design.PatternOf[record].Unknowns;
        double x1 = 0, x2 = 0;
        for (int a = 0; a < unknowns.Length; a++)
        {
            x1 += w.First[a] * solved[unknowns[a]];
            x2 += w.Second[a] * solved[unknowns[a]];
        }

        ref RecordPart part = ref _parts[record];
        return (part.R11 * x1 + part.R12 * x2, part.R12 * x1 + part.R22 * x2);
    }

    // from derivatives in the residual covariance to those in its loading
    private void SetResidual(double[] slopes, double g11, double g12, double g22)
    {
        int at = 4 * _design.Factors.Length;
        ReadOnlySpan<double> l = Loadings.AsSpan(at, 4);
        slopes[at] = 2 * (g11 * l[0] + g12 * l[2]);
        slopes[at + 1] = 2 * (g11 * l[1] + g12 * l[3]);
        slopes[at + 2] = 2 * (g12 * l[0] + g22 * l[2]);
        slopes[at + 3] = 2 * (g12 * l[1] + g22 * l[3]);
    }

    private double[] MakeGradient()
    {
        int factors = _design.Factors.Length;
        double[] gradient = new double[4 * (factors + 1)], inverse = Inverse;
        double g11 = 0, g12 = 0, g22 = 0;
        RecordRows w = new(), h = new();
        for (int i = 0; i < _parts.Length; i++)
        {
            ref RecordPart part = ref _parts[i];
            MixedDesign.Pattern pattern = _design.PatternOf[i];
            int m = pattern.Unknowns.Length, next = 0;
            w.Fill(_design, Loadings, i);
            Array.Clear(h.First, 0, m);
            Array.Clear(h.Second, 0, m);
            for (int column = 0; column < m; column++)
            {
                double w1 = w.First[column], w2 = w.Second[column], h1 = 0, h2 = 0, z = inverse[pattern.Places[next++]];
                h1 += z * w1;
                h2 += z * w2;
                for (int row = column + 1; row < m; row++)
                {
                    z = inverse[pattern.Places[next++]];
                    h1 += z * w.First[row];
                    h2 += z * w.Second[row];
                    h.First[row] += z * w1;
                    h.Second[row] += z * w2;
                }

                h.First[column] += h1;
                h.Second[column] += h2;
            }

            double b11 = 0, b12 = 0, b22 = 0;
            for (int a = 0; a < m; a++)
            {
                double h1 = h.First[a], h2 = h.Second[a];
                b11 += w.First[a] * h1;
                b12 += w.First[a] * h2;
                b22 += w.Second[a] * h2;
                int f = pattern.Kinds[a];
                if (f < 0)
                    continue;
                double v = Solution[pattern.Unknowns[a]];
                int column = pattern.Parts[a];
                gradient[4 * f + column] += 2 * (h1 * part.R11 + h2 * part.R12 - part.G1 * v);
                gradient[4 * f + 2 + column] += 2 * (h1 * part.R12 + h2 * part.R22 - part.G2 * v);
            }

            // R⁻¹ - R⁻¹ B R⁻¹ - g gᵀ
            (double s11, double s12, double s22) = part.Sandwich(b11, b12, b22);
            int n = _design.Records[i].Count;
            g11 += (part.R11 - s11 - part.G1 * part.G1) / n + part.Within.First;
            g12 += (part.R12 - s12 - part.G1 * part.G2) / n + part.Within.Cross;
            g22 += (part.R22 - s22 - part.G2 * part.G2) / n + part.Within.Second;
        }

        SetResidual(gradient, g11, g12, g22);
        return gradient;
    }
}
