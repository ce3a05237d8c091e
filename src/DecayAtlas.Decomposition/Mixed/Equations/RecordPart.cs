namespace DecayAtlas.Decomposition.Mixed.Equations;

/// <summary>What a record adds at given residual covariance: R⁻¹ (0 where an outcome is missing), and after the solution
/// g = R⁻¹ (y - W x).</summary>
internal struct RecordPart
{
    public double First, Second, R11, R12, R22, G1, G2, LogDeterminant, WithinSquares;
    private double _w11, _w12, _w22;
    private OutcomeCovariance _squares;
    private int _count;

    /// <summary>Derivative in the residual covariance of what burials add about their mean.</summary>
    public OutcomeCovariance Within;

    public static RecordPart Of(MixedDesign design, int record, OutcomeCovariance residual)
    {
        MixedRecord r = design.Records[record];
        double s1 = design.Scale[0], s2 = design.Scale[1];
        int n = r.Count;
        double c11 = residual.First + r.Error.First / (s1 * s1), c12 = residual.Cross + r.Error.Cross / (s1 * s2);
        double c22 = residual.Second + r.Error.Second / (s2 * s2);
        RecordPart part = new() { _count = n, First = (r.First ?? 0) / s1, Second = design.Outcomes > 1 ? (r.Second ?? 0) / s2 : 0 };
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

    /// <summary>Errors of the outcomes with this covariance from two standardised ones; 0 where an outcome is missing.</summary>
    public readonly (double First, double Second) ErrorOf(double one, double two)
    {
        double determinant = R11 * R22 - R12 * R12;
        if (R11 == 0 || R22 == 0)
            return (R11 > 0 ? one / Math.Sqrt(R11) : 0, R22 > 0 ? two / Math.Sqrt(R22) : 0);
        double root = Math.Sqrt(R22 / determinant);
        return (root * one, -R12 / R22 * root * one + two / Math.Sqrt(R22));
    }

    public readonly void Multiply(RecordRows w, RecordRows into, int m)
    {
        into.Reserve(m);
        for (int a = 0; a < m; a++)
        {
            into.First[a] = R11 * w.First[a] + R12 * w.Second[a];
            into.Second[a] = R12 * w.First[a] + R22 * w.Second[a];
        }
    }

    /// <summary>Returns eᵀ R⁻¹ e.</summary>
    public double SetResidual(RecordRows w, int[] unknowns, double[] solution)
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

    /// <summary>The same with what the squares are expected to be: (n - 1) tr(W D_j W D_k).</summary>
    public readonly double ExpectedWithin(OutcomeCovariance j, OutcomeCovariance k)
    {
        (double a11, double a12, double a21, double a22) = Product(_w11, _w12, _w22, j);
        (double b11, double b12, double b21, double b22) = Product(_w11, _w12, _w22, k);
        return (_count - 1) * (a11 * b11 + a12 * b21 + a21 * b12 + a22 * b22);
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
