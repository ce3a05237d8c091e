using System.Globalization;
using System.Text;

namespace DecayAtlas.Decomposition.Variance;

/// <summary>Values of one finest unit that share their fixed effects, summed up: nothing else of them enters the likelihood.</summary>
/// <param name="Units">Names, top to bottom; each is taken within the unit above.</param>
/// <param name="FixedEffects">Row of X.</param>
/// <param name="SumOfSquares">About their mean.</param>
internal sealed record DesignCell(string[] Units, double[] FixedEffects, int Count, double Mean, double SumOfSquares);

/// <summary>
/// Observations in nested units (site / plot / …) with fixed effects, condensed so that the likelihood of any variance ratios
/// costs one pass over the kinds of units and not a matrix of all observations.
/// </summary>
/// <remarks>
/// With V = I + Σ λ_j Z_j Z_jᵀ and nested Z_j, V is built from the finest unit upward, each unit adding λ 1 1ᵀ to the block of its
/// children. For W = [1 X y] only the small matrices A = Wᵀ B⁻¹ W are needed, since (Sherman and Morrison 1950, Annals of Mathematical
/// Statistics 21:124-127)
/// <code>
/// A' = A - λ/D a aᵀ,   D = 1 + λ 1ᵀB⁻¹1,   a = Wᵀ B⁻¹ 1,   log|B'| = log|B| + log D
/// </code>
/// and their derivatives in each λ follow by the chain rule. Sibling units of one build (same numbers of values, same X) have one B, so
/// that R of them need be passed once: with means y_r of their c cells, <c>Σ W_rᵀ B⁻¹ W_r</c> is R times that of the mean ȳ, and
/// <c>Σ (y_r - ȳ)ᵀ B⁻¹ (y_r - ȳ)</c> in the corner of y, which the c columns q of a square root of Σ (y_r - ȳ)(y_r - ȳ)ᵀ give.
/// </remarks>
internal sealed class NestedDesign
{
    private readonly DesignNode[] _top;
    private readonly double _within;

    /// <summary>Condenses observations.</summary>
    public NestedDesign(IReadOnlyList<DesignCell> cells)
    {
        Levels = cells[0].Units.Length;
        FixedEffects = cells[0].FixedEffects.Length;
        Observations = cells.Sum(c => c.Count);
        DesignCell[] sorted = [.. cells];
        Array.Sort(sorted, Order);
        _within = sorted.Sum(c => c.SumOfSquares);
        _top = Levels == 0 ? [DesignNode.Leaf(sorted)] : Siblings(sorted, 0, Levels);
    }

    public int Observations { get; }

    public int Levels { get; }

    public int FixedEffects { get; }

    /// <summary>Sums over all units at given variance ratios, with their derivatives.</summary>
    public NestedSums At(ReadOnlySpan<double> ratios)
    {
        NestedSums total = new(FixedEffects + 2, Levels);
        // sums of the units under way, one a level, used again for each unit
        NestedSums[] scratch = [.. Enumerable.Range(0, Levels).Select(_ => new NestedSums(total.Width, Levels))];
        double[] at = [.. ratios];
        foreach (DesignNode node in _top)
            Accumulate(node, Levels == 0 ? -1 : 0, at, total, scratch);
        total.AddWithin(_within);
        total.Mirror();
        return total;
    }

    private static void Accumulate(DesignNode node, int level, double[] ratios, NestedSums into, NestedSums[] scratch)
    {
        if (node.Children.Length == 0 && node.Weight == 1 && !node.IsDeviation)
        {
            into.AddFinest(node.Moments, level, level >= 0 ? ratios[level] : 0);
            return;
        }

        // a unit without units of its own stands beside those that have, at the finest level
        NestedSums sums = level < 0 ? new NestedSums(into.Width, 0) : scratch[level];
        sums.Clear();
        if (node.Children.Length == 0)
        {
            sums.AddFinest(node.Moments, level, level >= 0 ? ratios[level] : 0);
        }
        else
        {
            foreach (DesignNode child in node.Children)
                Accumulate(child, level + 1, ratios, sums, scratch);
            sums.AddUnit(level, ratios[level]);
        }

        into.Add(sums, node.Weight, node.IsDeviation);
    }

    private static DesignNode[] Siblings(ReadOnlySpan<DesignCell> sorted, int level, int levels)
    {
        // units lie in runs, since the cells are sorted
        Dictionary<string, List<DesignCell[]>> kinds = new(StringComparer.Ordinal);
        List<string> order = new();
        for (int from = 0; from < sorted.Length;)
        {
            int to = from + 1;
            while (to < sorted.Length && sorted[to].Units[level] == sorted[from].Units[level])
                to++;
            DesignCell[] unit = sorted[from..to].ToArray();
            string build = BuildOf(unit, level);
            if (!kinds.TryGetValue(build, out List<DesignCell[]>? alike))
            {
                kinds[build] = alike = [];
                order.Add(build);
            }

            alike.Add(unit);
            from = to;
        }

        List<DesignNode> nodes = new();
        foreach (string build in order)
        {
            List<DesignCell[]> units = kinds[build];
            // a square root has as many columns as a unit has cells: below that nothing is gained
            if (units.Count > units[0].Length + 1)
                nodes.AddRange(Alike(units, level, levels));
            else
                nodes.AddRange(units.Select(u => Unit(u, level, levels)));
        }

        return [.. nodes];
    }

    private static DesignNode Unit(DesignCell[] cells, int level, int levels) =>
        level == levels - 1 ? DesignNode.Leaf(cells) : new DesignNode(Siblings(cells, level + 1, levels), []);

    private static IEnumerable<DesignNode> Alike(List<DesignCell[]> units, int level, int levels)
    {
        int c = units[0].Length;
        double[] mean = new double[c];
        double[,] cross = new double[c, c];
        foreach (DesignCell[] unit in units)
        {
            for (int i = 0; i < c; i++)
                mean[i] += unit[i].Mean / units.Count;
        }

        foreach (DesignCell[] unit in units)
        {
            for (int i = 0; i < c; i++)
            {
                for (int j = 0; j <= i; j++)
                    cross[i, j] += (unit[i].Mean - mean[i]) * (unit[j].Mean - mean[j]);
            }
        }

        yield return Unit(With(mean), level, levels) with { Weight = units.Count };
        foreach (double[] q in SquareRoot(cross))
            yield return Unit(With(q), level, levels) with { IsDeviation = true };

        DesignCell[] With(double[] means) => [.. units[0].Select((cell, i) => cell with { Mean = means[i] })];
    }

    /// <summary>Columns of the Cholesky factor of a matrix that may be singular; a column without a pivot is left out.</summary>
    private static IEnumerable<double[]> SquareRoot(double[,] a)
    {
        int n = a.GetLength(0);
        double largest = Enumerable.Range(0, n).Max(i => a[i, i]);
        double[,] l = new double[n, n];
        for (int j = 0; j < n; j++)
        {
            double pivot = a[j, j];
            for (int m = 0; m < j; m++)
                pivot -= l[j, m] * l[j, m];
            if (!(pivot > 1e-14 * largest))
                continue;
            double root = Math.Sqrt(pivot);
            for (int i = j; i < n; i++)
            {
                double sum = a[i, j];
                for (int m = 0; m < j; m++)
                    sum -= l[i, m] * l[j, m];
                l[i, j] = sum / root;
            }

            yield return [.. Enumerable.Range(0, n).Select(i => l[i, j])];
        }
    }

    // numbers of values, X, and which cells share which units, but not the units' names
    private static string BuildOf(DesignCell[] unit, int level)
    {
        StringBuilder text = new();
        for (int i = 0; i < unit.Length; i++)
        {
            int shared = level + 1;
            while (i > 0 && shared < unit[i].Units.Length && unit[i].Units[shared] == unit[i - 1].Units[shared])
                shared++;
            text.Append(CultureInfo.InvariantCulture, $"{shared}:{unit[i].Count}");
            foreach (double x in unit[i].FixedEffects)
                text.Append(',').Append(BitConverter.DoubleToInt64Bits(x));
            text.Append(';');
        }

        return text.ToString();
    }

    // a fixed order, so that the order in which values arrive can't change the last digit of a sum
    private static int Order(DesignCell x, DesignCell y)
    {
        for (int j = 0; j < x.Units.Length; j++)
        {
            if (string.CompareOrdinal(x.Units[j], y.Units[j]) is not 0 and int byUnit)
                return byUnit;
        }

        for (int j = x.FixedEffects.Length - 1; j >= 0; j--)
        {
            if (x.FixedEffects[j].CompareTo(y.FixedEffects[j]) is not 0 and int byEffect)
                return byEffect;
        }

        return x.Mean.CompareTo(y.Mean);
    }
}

/// <summary>A unit with its units, or with the moments WᵀW of its values.</summary>
internal sealed record DesignNode(DesignNode[] Children, double[] Moments)
{
    /// <summary>How many units of one build the node stands for.</summary>
    public double Weight { get; init; } = 1;

    /// <summary>Whether the node is a deviation of like units from their mean: only the corner of y counts.</summary>
    public bool IsDeviation { get; init; }

    public static DesignNode Leaf(IReadOnlyList<DesignCell> cells)
    {
        int width = cells[0].FixedEffects.Length + 2;
        double[] moments = new double[width * width];
        foreach (DesignCell cell in cells)
        {
            double[] w = [1, .. cell.FixedEffects, cell.Mean];
            for (int a = 0; a < width; a++)
            {
                for (int b = 0; b < width; b++)
                    moments[a * width + b] += cell.Count * w[a] * w[b];
            }
        }

        return new DesignNode([], moments);
    }
}
