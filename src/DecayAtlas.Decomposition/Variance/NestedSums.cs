namespace DecayAtlas.Decomposition.Variance;

/// <summary>Wᵀ V⁻¹ W, log|V| and the derivatives of both in each variance ratio. Of the matrices, which are symmetric, the upper half is
/// summed, row by row.</summary>
internal sealed class NestedSums(int width, int levels)
{
    public int Width { get; } = width;

    public double[] Matrix { get; } = new double[width * width];

    public double[][] Slopes { get; } = [.. Enumerable.Range(0, levels).Select(_ => new double[width * width])];

    public double LogDeterminant { get; private set; }

    public double[] LogDeterminantSlopes { get; } = new double[levels];

    public void Clear()
    {
        Array.Clear(Matrix);
        foreach (double[] slope in Slopes)
            Array.Clear(slope);
        Array.Clear(LogDeterminantSlopes);
        LogDeterminant = 0;
    }

    /// <param name="weight">How many of them.</param>
    /// <param name="onlyResponse">Whether they are deviations, of which the corner of y alone counts.</param>
    public void Add(NestedSums other, double weight, bool onlyResponse)
    {
        if (onlyResponse)
        {
            Matrix[^1] += other.Matrix[^1];
            for (int m = 0; m < Slopes.Length; m++)
                Slopes[m][^1] += other.Slopes[m][^1];
            return;
        }

        Accumulate(Matrix, other.Matrix, weight);
        for (int m = 0; m < Slopes.Length; m++)
        {
            Accumulate(Slopes[m], other.Slopes[m], weight);
            LogDeterminantSlopes[m] += weight * other.LogDeterminantSlopes[m];
        }

        LogDeterminant += weight * other.LogDeterminant;
    }

    /// <summary>Adds squares about the means of finest units, on which no variance of a unit bears.</summary>
    public void AddWithin(double sumOfSquares) => Matrix[^1] += sumOfSquares;

    /// <summary>Adds a finest unit, whose own block is the identity: no derivatives but its own, and no copies, since these are the
    /// many.</summary>
    public void AddFinest(double[] moments, int level, double ratio)
    {
        double d = 1 + ratio * moments[0], shrink = ratio / d;
        for (int i = 0; i < Width; i++)
        {
            for (int j = i; j < Width; j++)
                Matrix[i * Width + j] += moments[i * Width + j] - shrink * moments[i] * moments[j];
        }

        if (level < 0)
            return;
        Subtract(Slopes[level], 1 / (d * d), moments);
        LogDeterminantSlopes[level] += moments[0] / d;
        LogDeterminant += Math.Log(d);
    }

    /// <summary>Turns the sums of the children into those of their unit, with its variance.</summary>
    public void AddUnit(int level, double ratio)
    {
        double[] a = [.. Matrix.AsSpan(0, Width)];
        double d = 1 + ratio * a[0], shrink = ratio / d;
        for (int m = level; m < Slopes.Length; m++)
        {
            double[] slope = Slopes[m];
            double[] da = [.. slope.AsSpan(0, Width)];
            double shrinkSlope = ((m == level ? 1 : 0) - ratio * ratio * da[0]) / (d * d);
            for (int i = 0; i < Width; i++)
            {
                for (int j = i; j < Width; j++)
                    slope[i * Width + j] -= shrink * (da[i] * a[j] + a[i] * da[j]) + shrinkSlope * a[i] * a[j];
            }

            LogDeterminantSlopes[m] += ((m == level ? a[0] : 0) + ratio * da[0]) / d;
        }

        Subtract(Matrix, shrink, a);
        LogDeterminant += Math.Log(d);
    }

    private void Subtract(double[] from, double factor, double[] a)
    {
        for (int i = 0; i < Width; i++)
        {
            for (int j = i; j < Width; j++)
                from[i * Width + j] -= factor * a[i] * a[j];
        }
    }

    /// <summary>Fills the lower half in.</summary>
    public void Mirror()
    {
        foreach (double[] matrix in Slopes.Append(Matrix))
        {
            for (int i = 0; i < Width; i++)
            {
                for (int j = 0; j < i; j++)
                    matrix[i * Width + j] = matrix[j * Width + i];
            }
        }
    }

    private static void Accumulate(double[] to, double[] from, double weight)
    {
        for (int i = 0; i < to.Length; i++)
            to[i] += weight * from[i];
    }
}
