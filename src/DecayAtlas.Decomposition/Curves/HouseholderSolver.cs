namespace DecayAtlas.Decomposition.Curves;

/// <summary>
/// Linear least squares by Householder reflections, in place on a small column-major matrix (Golub and Van Loan, Matrix Computations,
/// algorithm 5.3.2).
/// Own code: a search makes thousands of tiny ones, for which Math.NET's parallel QR spends most of its time starting.
/// </summary>
internal static class HouseholderSolver
{
    /// <summary>Reduces <paramref name="a"/> (rows x columns, column by column) to its triangle R and applies the same reflections to
    /// <paramref name="right"/>.</summary>
    public static void Reduce(Span<double> a, int rows, int columns, Span<double> right)
    {
        for (int k = 0; k < columns; k++)
        {
            Span<double> v = a.Slice(k * rows + k, rows - k);
            double norm = 0;
            foreach (double x in v)
                norm += x * x;
            norm = Math.Sqrt(norm);
            if (norm == 0)
                continue;
            double alpha = v[0] > 0 ? -norm : norm, head = v[0] - alpha, beta = 1 / (alpha * head);
            v[0] = head;
            for (int c = k + 1; c < columns; c++)
                Reflect(v, a.Slice(c * rows + k, rows - k), beta);
            Reflect(v, right[k..rows], beta);
            v[0] = alpha;
            v[1..].Clear();
        }
    }

    /// <summary>Solves R x = right by back substitution.</summary>
    public static void Substitute(ReadOnlySpan<double> a, int rows, int columns, Span<double> right)
    {
        for (int k = columns - 1; k >= 0; k--)
        {
            double sum = right[k];
            for (int c = k + 1; c < columns; c++)
                sum -= a[c * rows + k] * right[c];
            right[k] = sum / a[k * rows + k];
        }
    }

    private static void Reflect(ReadOnlySpan<double> v, Span<double> column, double beta)
    {
        double dot = 0;
        for (int i = 0; i < v.Length; i++)
            dot += v[i] * column[i];
        dot *= beta;
        for (int i = 0; i < v.Length; i++)
            column[i] += dot * v[i];
    }
}
