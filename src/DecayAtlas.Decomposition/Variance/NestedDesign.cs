namespace DecayAtlas.Decomposition.Variance;

/// <summary>
/// Observations in nested units (site / plot / …) with fixed effects, condensed so that the likelihood of any variance ratios
/// costs one pass over the units and not a matrix of all observations.
/// </summary>
/// <remarks>
/// With V = I + Σ λ_j Z_j Z_jᵀ and nested Z_j, V is built from the finest unit upward, each unit adding λ 1 1ᵀ to the block of its
/// children. For W = [1 X y] only the small matrices A = Wᵀ B⁻¹ W are needed, since (Sherman and Morrison 1950, Annals of Mathematical Statistics 21:124-127)
/// <code>
/// A' = A - λ/D a aᵀ,   D = 1 + λ 1ᵀB⁻¹1,   a = Wᵀ B⁻¹ 1,   log|B'| = log|B| + log D
/// </code>
/// and their derivatives in each λ follow by the chain rule.
/// </remarks>
internal sealed class NestedDesign
{
    private readonly Node[] _top;
    private readonly int _width;

    private NestedDesign(Node[] top, int width, int observations, int levels)
    {
        _top = top;
        _width = width;
        Observations = observations;
        Levels = levels;
    }

    public int Observations { get; }

    public int Levels { get; }

    public int FixedEffects => _width - 2;

    /// <summary>Condenses observations; unit names are taken within the unit above.</summary>
    /// <param name="values">y.</param>
    /// <param name="fixedEffects">Row of X for each observation.</param>
    /// <param name="units">Names of the units of each observation, top to bottom.</param>
    public static NestedDesign Of(IReadOnlyList<double> values, IReadOnlyList<double[]> fixedEffects, IReadOnlyList<string[]> units)
    {
        int levels = units[0].Length, width = fixedEffects[0].Length + 2;
        var rows = new List<(string[] Units, double[] W)>();
        for (int i = 0; i < values.Count; i++)
            rows.Add((units[i], [1, .. fixedEffects[i], values[i]]));
        rows.Sort((x, y) => Order(x, y));

        Node[] top = levels == 0 ? [Leaf(rows, width)] : Build(rows, 0, levels, width);
        return new NestedDesign(top, width, values.Count, levels);
    }

    /// <summary>Sums over all units at given variance ratios, with their derivatives.</summary>
    public NestedSums At(ReadOnlySpan<double> ratios)
    {
        var total = new NestedSums(_width, Levels);
        double[] scratch = [.. ratios];
        foreach (Node node in _top)
            Accumulate(node, Levels == 0 ? -1 : 0, scratch, total);
        return total;
    }

    private void Accumulate(Node node, int level, double[] ratios, NestedSums into)
    {
        if (node.Children.Length == 0)
        {
            into.AddFinest(node.Moments, level, level >= 0 ? ratios[level] : 0);
            return;
        }

        var sums = new NestedSums(_width, Levels);
        foreach (Node child in node.Children)
            Accumulate(child, level + 1, ratios, sums);
        sums.AddUnit(level, ratios[level]);
        into.Add(sums);
    }

    private static Node[] Build(List<(string[] Units, double[] W)> rows, int level, int levels, int width) =>
        [.. rows.GroupBy(r => r.Units[level], StringComparer.Ordinal).Select(g => level == levels - 1
            ? Leaf([.. g], width)
            : new Node(Build([.. g], level + 1, levels, width), []))];

    private static Node Leaf(List<(string[] Units, double[] W)> rows, int width)
    {
        double[] moments = new double[width * width];
        foreach ((_, double[] w) in rows)
            for (int a = 0; a < width; a++)
                for (int b = 0; b < width; b++)
                    moments[a * width + b] += w[a] * w[b];
        return new Node([], moments);
    }

    // a fixed order of rows, so that the order in which they arrive can't change the last digit of a sum
    private static int Order((string[] Units, double[] W) x, (string[] Units, double[] W) y)
    {
        for (int j = 0; j < x.Units.Length; j++)
            if (string.CompareOrdinal(x.Units[j], y.Units[j]) is not 0 and int byUnit)
                return byUnit;
        for (int j = x.W.Length - 1; j >= 0; j--)
            if (x.W[j].CompareTo(y.W[j]) is not 0 and int byValue)
                return byValue;
        return 0;
    }

    private sealed record Node(Node[] Children, double[] Moments);
}

/// <summary>Wᵀ V⁻¹ W, log|V| and the derivatives of both in each variance ratio.</summary>
internal sealed class NestedSums(int width, int levels)
{
    public double[] Matrix { get; } = new double[width * width];

    public double[][] Slopes { get; } = [.. Enumerable.Range(0, levels).Select(_ => new double[width * width])];

    public double LogDeterminant { get; private set; }

    public double[] LogDeterminantSlopes { get; } = new double[levels];

    public void Add(NestedSums other)
    {
        Accumulate(Matrix, other.Matrix);
        for (int m = 0; m < levels; m++)
        {
            Accumulate(Slopes[m], other.Slopes[m]);
            LogDeterminantSlopes[m] += other.LogDeterminantSlopes[m];
        }

        LogDeterminant += other.LogDeterminant;
    }

    /// <summary>Adds a finest unit, whose own block is the identity: no derivatives but its own, and no copies, since these are the many.</summary>
    public void AddFinest(double[] moments, int level, double ratio)
    {
        double d = 1 + ratio * moments[0], shrink = ratio / d;
        for (int i = 0; i < width; i++)
            for (int j = 0; j < width; j++)
                Matrix[i * width + j] += moments[i * width + j] - shrink * moments[i] * moments[j];
        if (level < 0)
            return;
        double[] slope = Slopes[level];
        double shrinkSlope = 1 / (d * d);
        for (int i = 0; i < width; i++)
            for (int j = 0; j < width; j++)
                slope[i * width + j] -= shrinkSlope * moments[i] * moments[j];
        LogDeterminantSlopes[level] += moments[0] / d;
        LogDeterminant += Math.Log(d);
    }

    /// <summary>Turns the sums of the children into those of their unit, with its variance.</summary>
    public void AddUnit(int level, double ratio)
    {
        double[] a = [.. Matrix.Take(width)];
        double d = 1 + ratio * a[0], shrink = ratio / d;
        for (int m = level; m < levels; m++)
        {
            double[] slope = Slopes[m];
            double[] da = [.. slope.Take(width)];
            double shrinkSlope = ((m == level ? 1 : 0) - ratio * ratio * da[0]) / (d * d);
            for (int i = 0; i < width; i++)
                for (int j = 0; j < width; j++)
                    slope[i * width + j] -= shrink * (da[i] * a[j] + a[i] * da[j]) + shrinkSlope * a[i] * a[j];
            LogDeterminantSlopes[m] += ((m == level ? a[0] : 0) + ratio * da[0]) / d;
        }

        for (int i = 0; i < width; i++)
            for (int j = 0; j < width; j++)
                Matrix[i * width + j] -= shrink * a[i] * a[j];
        LogDeterminant += Math.Log(d);
    }

    private static void Accumulate(double[] to, double[] from)
    {
        for (int i = 0; i < to.Length; i++)
            to[i] += from[i];
    }
}
