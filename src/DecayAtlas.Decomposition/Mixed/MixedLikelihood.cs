namespace DecayAtlas.Decomposition.Mixed;

/// <summary>
/// Restricted likelihood of the mixed model at given loadings, by Henderson's equations in units of variance 1:
/// <code>
/// y = X β + Z Λ v + C e + ε,   v, e ~ N(0, I),   M = Wᵀ R⁻¹ W + (I on v, e),   W = [Z Λ, C, X]
/// -2 l = log|R| + log|M| + yᵀ P y + (N - p) log 2π
/// </code>
/// </summary>
/// <remarks>Sources: Henderson 1975, Biometrics 31:423-447; in this form Bates et al. 2015, J. Statistical Software 67(1); gradient by the
/// entries of M⁻¹ where M has some (Takahashi), average information: Gilmour, Thompson and Cullis 1995, Biometrics 51:1440-1450, and
/// Johnson and Thompson 1995, J. Dairy Science 78:449-456 (from memory).</remarks>
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
        Rows w = new(), r = new();
        for (int i = 0; i < design.Records.Length; i++)
        {
            MixedDesign.Pattern pattern = design.PatternOf[i];
            RecordPart part = _parts[i] = RecordPart.Of(design, i, _residual);
            logDeterminant += part.LogDeterminant;
            squares += part.WithinSquares;
            Fill(i, w);
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
            Fill(i, w);
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
        Rows w = new();
        Fill(record, w);
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
        Rows w = new();
        for (int i = 0; i < _parts.Length; i++)
        {
            Fill(i, w);
            weights[i] = Weight(i, w, solved);
        }

        return weights;
    }

    // w the record's rows of W
    private (double First, double Second) Weight(int record, Rows w, double[] solved)
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

    /// <summary>Derivatives of cᵀ M⁻¹ c in all entries of all loadings.</summary>
    /// <param name="solved">M⁻¹ c.</param>
    public double[] SlopesOfVariance(double[] solved)
    {
        int factors = _design.Factors.Length;
        double[] slopes = new double[4 * (factors + 1)];
        double g11 = 0, g12 = 0, g22 = 0;
        Rows w = new();
        for (int i = 0; i < _parts.Length; i++)
        {
            MixedDesign.Pattern pattern = _design.PatternOf[i];
            Fill(i, w);
            (double h1, double h2) = Weight(i, w, solved);
            for (int a = 0; a < pattern.Unknowns.Length; a++)
            {
                if (pattern.Kinds[a] is >= 0 and int f)
                {
                    slopes[4 * f + pattern.Parts[a]] -= 2 * h1 * solved[pattern.Unknowns[a]];
                    slopes[4 * f + 2 + pattern.Parts[a]] -= 2 * h2 * solved[pattern.Unknowns[a]];
                }
            }

            int n = _design.Records[i].Count;
            (g11, g12, g22) = (g11 + h1 * h1 / n, g12 + h1 * h2 / n, g22 + h2 * h2 / n);
        }

        SetResidual(slopes, g11, g12, g22);
        return slopes;
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
        Rows w = new(), h = new();
        for (int i = 0; i < _parts.Length; i++)
        {
            ref RecordPart part = ref _parts[i];
            MixedDesign.Pattern pattern = _design.PatternOf[i];
            int m = pattern.Unknowns.Length, next = 0;
            Fill(i, w);
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

    /// <summary>yᵀ P V_j P V_k P y, the average information of -2 l, over entries of loadings.</summary>
    public double[,] Information(int[] places)
    {
        int m = places.Length, factors = _design.Factors.Length;
        double[,] information = new double[m, m];
        double[][] right = [.. places.Select(_ => new double[_design.Size])];
        // Zᵀ P y of each unit
        double[][] sums = [.. _design.UnitNames.Select(u => new double[2 * u.Length])];
        for (int i = 0; i < _parts.Length; i++)
        {
            for (int f = 0; f < factors; f++)
            {
                if (_design.UnitOf[f][i] is >= 0 and int unit)
                {
                    sums[f][2 * unit] += _parts[i].G1;
                    sums[f][2 * unit + 1] += _parts[i].G2;
                }
            }
        }

        // V_j's own part of a block: dG = dΛ Λᵀ + Λ dΛᵀ
        OutcomeCovariance[] change = [.. places.Select(p => ChangeOf(p))];
        Rows w = new();
        double[] q1 = new double[m], q2 = new double[m], a1 = new double[m], a2 = new double[m];
        for (int i = 0; i < _parts.Length; i++)
        {
            RecordPart part = _parts[i];
            MixedDesign.Pattern pattern = _design.PatternOf[i];
            Fill(i, w);
            for (int j = 0; j < m; j++)
            {
                int block = places[j] / 4;
                double s1 = part.G1 / _design.Records[i].Count, s2 = part.G2 / _design.Records[i].Count;
                if (block < factors)
                {
                    int unit = 2 * _design.UnitOf[block][i];
                    (s1, s2) = unit >= 0 ? (sums[block][unit], sums[block][unit + 1]) : (0, 0);
                }

                OutcomeCovariance d = change[j];
                q1[j] = d.First * s1 + d.Cross * s2;
                q2[j] = d.Cross * s1 + d.Second * s2;
                a1[j] = part.R11 * q1[j] + part.R12 * q2[j];
                a2[j] = part.R12 * q1[j] + part.R22 * q2[j];
                double[] target = right[j];
                for (int a = 0; a < pattern.Unknowns.Length; a++)
                    target[pattern.Unknowns[a]] += w.First[a] * a1[j] + w.Second[a] * a2[j];
                for (int k = 0; k <= j; k++)
                    information[j, k] += q1[k] * a1[j] + q2[k] * a2[j];
                if (block == factors && _design.Records[i].Count > 1)
                {
                    for (int k = 0; k <= j; k++)
                        information[j, k] += places[k] / 4 == factors ? part.WithinInformation(change[j], change[k]) : 0;
                }
            }
        }

        foreach (double[] b in right)
            _cholesky.SolveLower(b);
        for (int j = 0; j < m; j++)
        {
            for (int k = 0; k <= j; k++)
                information[k, j] = information[j, k] -= Dot(right[j], right[k]);
        }

        return information;

        OutcomeCovariance ChangeOf(int place)
        {
            int block = place / 4, row = place % 4 / 2, column = place % 2;
            double first = Loadings[MixedParameters.Place(block, 0, column)], second = Loadings[MixedParameters.Place(block, 1, column)];
            return row == 0 ? new OutcomeCovariance(2 * first, second, 0) : new OutcomeCovariance(0, first, 2 * second);
        }
    }

    private static double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }

    // the record's rows of W
    private void Fill(int record, Rows rows)
    {
        MixedDesign.Pattern pattern = _design.PatternOf[record];
        MixedRecord r = _design.Records[record];
        int m = pattern.Unknowns.Length, width = _design.Width;
        rows.Reserve(m);
        bool hasFirst = r.First is not null, hasSecond = _design.Outcomes > 1 && r.Second is not null;
        for (int a = 0; a < m; a++)
        {
            int kind = pattern.Kinds[a], part = pattern.Parts[a];
            double first, second;
            if (kind >= 0)
            {
                first = Loadings[4 * kind + part];
                second = Loadings[4 * kind + 2 + part];
            }
            else if (kind == -1)
            {
                SharedLoading s = r.Shared[part];
                first = s.OnFirst / _design.Scale[0];
                second = s.OnSecond / _design.Scale[1];
            }
            else
            {
                first = part < width ? r.FixedEffects[part] : 0;
                second = part >= width ? r.FixedEffects[part - width] : 0;
            }

            rows.First[a] = hasFirst ? first : 0;
            rows.Second[a] = hasSecond ? second : 0;
        }
    }

    /// <summary>Rows of one record over the unknowns it touches, one an outcome.</summary>
    private sealed class Rows
    {
        public double[] First { get; private set; } = new double[64];

        public double[] Second { get; private set; } = new double[64];

        public void Reserve(int width)
        {
            if (First.Length < width)
                (First, Second) = (new double[2 * width], new double[2 * width]);
        }
    }

    /// <summary>What a record adds at given residual covariance: R⁻¹ (0 where an outcome is missing), and after the solution
    /// g = R⁻¹ (y - W x).</summary>
    private struct RecordPart
    {
        public double First, Second, R11, R12, R22, G1, G2, LogDeterminant, WithinSquares;
        private double _w11, _w12, _w22;
        private OutcomeCovariance _squares;

        /// <summary>Derivative in the residual covariance of what burials add about their mean.</summary>
        public OutcomeCovariance Within;

        public static RecordPart Of(MixedDesign design, int record, OutcomeCovariance residual)
        {
            MixedRecord r = design.Records[record];
            double s1 = design.Scale[0], s2 = design.Scale[1];
            int n = r.Count;
            double c11 = residual.First + r.Error.First / (s1 * s1), c12 = residual.Cross + r.Error.Cross / (s1 * s2);
            double c22 = residual.Second + r.Error.Second / (s2 * s2);
            RecordPart part = new() { First = (r.First ?? 0) / s1, Second = design.Outcomes > 1 ? (r.Second ?? 0) / s2 : 0 };
            bool hasFirst = r.First is not null, hasSecond = design.Outcomes > 1 && r.Second is not null;
            // of n burials: n - 1 differences have this covariance each, and √n times the mean has n times the error of the mean besides
            OutcomeCovariance e = r.MeanError;
            (double m11, double m12, double m22, part.LogDeterminant) = Inverse(c11 + n * e.First / (s1 * s1),
                c12 + n * e.Cross / (s1 * s2), c22 + n * e.Second / (s2 * s2), hasFirst, hasSecond);
            (part.R11, part.R12, part.R22) = (n * m11, n * m12, n * m22);
            if (n > 1)
            {
                (double i11, double i12, double i22, double log) = Inverse(c11, c12, c22, hasFirst, hasSecond);
                part.LogDeterminant += (n - 1) * log;
                OutcomeCovariance q = r.SumsOfSquares;
                (double q11, double q12, double q22) = (q.First / (s1 * s1), q.Cross / (s1 * s2), q.Second / (s2 * s2));
                part.WithinSquares = i11 * q11 + 2 * i12 * q12 + i22 * q22;
                (part._w11, part._w12, part._w22) = (i11, i12, i22);
                part._squares = new OutcomeCovariance(q11, q12, q22);
                (double t11, double t12, double t22) = Sandwich(i11, i12, i22, q11, q12, q22);
                part.Within = new OutcomeCovariance((n - 1) * i11 - t11, (n - 1) * i12 - t12, (n - 1) * i22 - t22);
            }

            return part;
        }

        // 0 where an outcome is missing
        private static (double, double, double, double Log) Inverse(double c11, double c12, double c22, bool hasFirst, bool hasSecond)
        {
            if (hasFirst && hasSecond)
            {
                double determinant = c11 * c22 - c12 * c12;
                // nothing left to either outcome, or to their difference
                double log = determinant > 1e-14 * c11 * c22 ? Math.Log(determinant) : double.PositiveInfinity;
                return (c22 / determinant, -c12 / determinant, c11 / determinant, log);
            }

            double c = hasFirst ? c11 : c22, single = c > 0 ? Math.Log(c) : double.PositiveInfinity;
            return hasFirst ? (1 / c, 0, 0, single) : (0, 0, 1 / c, single);
        }

        public readonly void Multiply(Rows w, Rows into, int m)
        {
            into.Reserve(m);
            for (int a = 0; a < m; a++)
            {
                into.First[a] = R11 * w.First[a] + R12 * w.Second[a];
                into.Second[a] = R12 * w.First[a] + R22 * w.Second[a];
            }
        }

        /// <summary>Returns eᵀ R⁻¹ e.</summary>
        public double SetResidual(Rows w, int[] unknowns, double[] solution)
        {
            double e1 = First, e2 = Second;
            for (int a = 0; a < unknowns.Length; a++)
            {
                e1 -= w.First[a] * solution[unknowns[a]];
                e2 -= w.Second[a] * solution[unknowns[a]];
            }

            G1 = R11 * e1 + R12 * e2;
            G2 = R12 * e1 + R22 * e2;
            return e1 * G1 + e2 * G2;
        }

        public readonly (double, double, double) Sandwich(double b11, double b12, double b22) => Sandwich(R11, R12, R22, b11, b12, b22);

        /// <summary>tr(W D_j W D_k W Q), W the inverse of one burial's covariance and Q the sums of squares.</summary>
        public readonly double WithinInformation(OutcomeCovariance j, OutcomeCovariance k)
        {
            (double a11, double a12, double a21, double a22) = Product(_w11, _w12, _w22, j);
            (double b11, double b12, double b21, double b22) = Product(_w11, _w12, _w22, k);
            (double c11, double c12, double c21, double c22) = Product(_w11, _w12, _w22, _squares);
            double p11 = a11 * b11 + a12 * b21, p12 = a11 * b12 + a12 * b22, p21 = a21 * b11 + a22 * b21, p22 = a21 * b12 + a22 * b22;
            return p11 * c11 + p12 * c21 + p21 * c12 + p22 * c22;
        }

        private static (double, double, double, double) Product(double w11, double w12, double w22, OutcomeCovariance d) =>
            (w11 * d.First + w12 * d.Cross, w11 * d.Cross + w12 * d.Second, w12 * d.First + w22 * d.Cross, w12 * d.Cross + w22 * d.Second);

        private static (double, double, double) Sandwich(
            double r11, double r12, double r22, double b11, double b12, double b22)
        {
            double x11 = r11 * b11 + r12 * b12, x12 = r11 * b12 + r12 * b22, x21 = r12 * b11 + r22 * b12, x22 = r12 * b12 + r22 * b22;
            return (x11 * r11 + x12 * r12, x11 * r12 + x12 * r22, x21 * r12 + x22 * r22);
        }
    }
}
