using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Outliers;

/// <summary>Centre, covariance (p x p, row by row) and distances, reweighted; raw are those of the half found.</summary>
/// <param name="RawLogDeterminant">Of the covariance of the half found: the objective.</param>
/// <param name="RawCovariance">Of that half, times its consistency factor.</param>
/// <param name="CutOff">√χ²(0.975, p).</param>
public sealed record RobustDistances(
    IReadOnlyList<double> Centre, IReadOnlyList<double> Covariance, double RawLogDeterminant,
    IReadOnlyList<double> RawCentre, IReadOnlyList<double> RawCovariance, IReadOnlyList<double> Distances, double CutOff);

/// <summary>Starts and seed of the search.</summary>
public sealed record RobustDistanceOptions(int Starts = 500, ulong Seed = 1);

/// <summary>
/// Robust multivariate distances by the minimum covariance determinant: the half of the rows whose covariance has the least determinant,
/// then all rows within √χ²(0.975) of it.
/// </summary>
/// <remarks>Source: Rousseeuw and Van Driessen 1999, Technometrics 41:212-223 (random starts of p + 1 rows, two concentration steps each,
/// the fifty best run to the end, the paper's ten being too few for some small sets; above 600 rows first on up to five parts of 300, then
/// on their union, and ten run to the end). h = ⌊(n + p + 1)/2⌋. Consistency factors for h/n and for the share kept: Croux and Haesbroeck
/// 1999, J. Multivariate Analysis 71:161-190. No small-sample correction: beyond the cut-off lie, of normal rows of two or three columns, 7
/// and 12 % at 30 rows, 4 and 6 % at 50, 3 and 4 % at 100, and the 2.5 % meant from 300 on (simulated); in small data read the distances as
/// an order. At least 10 rows a column. Rows are sorted first, so that their order changes nothing.</remarks>
public static class RobustDistance
{
    private const int Whole = 600, Part = 300, Parts = 5, Best = 50, BestOfMany = 10;

    public const int RowsPerColumn = 10;

    /// <param name="rows">For example loss fast, loss slow, ln k, each on a scale on which it is near normal.</param>
    public static Answer<RobustDistances> Of(IReadOnlyList<double[]> rows, RobustDistanceOptions options)
    {
        if (rows.Any(r => r.Length != rows[0].Length))
            throw new ArgumentException("All rows must have the same number of columns.", nameof(rows));
        if (rows.Any(r => r.Any(x => !double.IsFinite(x))))
            return Unanswered.NotFinite("rows");
        int n = rows.Count, p = n == 0 ? 0 : rows[0].Length;
        if (n < Math.Max(1, p) * RowsPerColumn)
            return Unanswered.TooFew("rows", n, Math.Max(1, p) * RowsPerColumn);

        double[] scales = [.. Enumerable.Range(0, p).Select(c => rows.Max(r => Math.Abs(r[c] - rows[0][c])))];
        if (scales.Any(s => s == 0))
            return Unanswered.NoScatter("values of a column");
        double[][] sorted = [.. rows.Order(Comparer<double[]>.Create(Lexical))];
        int h = (n + p + 1) / 2;
        if (Search(sorted, h, options) is not { } half)
            return new Unanswered("More than half of the rows lie on one line or plane: there is no robust scatter.");
        double rawFactor = Consistency(p, (double)h / n), cut = ChiSquared.InvCDF(p, 0.975);
        double[][] kept = [.. sorted.Where(r => half.SquaredDistance(r) / rawFactor <= cut)];
        if (Scatter.Of(kept) is not { } final)
            return new Unanswered("The rows kept lie on one line or plane: there is no robust scatter.");
        double factor = kept.Length < n ? Consistency(p, (double)kept.Length / n) : 1;
        return new RobustDistances(
            final.Mean, [.. final.Covariance.Select(c => c * factor)], half.LogDeterminant,
            half.Mean, [.. half.Covariance.Select(c => c * rawFactor)],
            [.. rows.Select(r => Math.Sqrt(final.SquaredDistance(r) / factor))], Math.Sqrt(cut));
    }

    // α / P(χ²(p + 2) ≤ χ²⁻¹(α; p)): makes the covariance of the inner share α right for normal rows
    private static double Consistency(int p, double share) => share / ChiSquared.CDF(p + 2, ChiSquared.InvCDF(p, share));

    private static Scatter? Search(double[][] rows, int h, RobustDistanceOptions options)
    {
        RandomStream random = new(options.Seed, "minimum-covariance-determinant");
        if (rows.Length <= Whole)
            return Concentrated(rows, h, Starts(rows, h, options.Starts, random));

        double[][] shuffled = [.. rows];
        for (int i = shuffled.Length - 1; i > 0; i--)
        {
            int j = random.NextIndex(i + 1);
            (shuffled[i], shuffled[j]) = (shuffled[j], shuffled[i]);
        }

        int parts = Math.Min(Parts, shuffled.Length / Part);
        double share = (double)h / rows.Length;
        double[][] union = shuffled[..(parts * Part)];
        List<Scatter> candidates = new();
        for (int part = 0; part < parts; part++)
        {
            double[][] some = union[(part * Part)..((part + 1) * Part)];
            candidates.AddRange(Starts(some, (int)(share * Part), options.Starts / parts, random));
        }

        int unionHalf = (int)(share * union.Length);
        Scatter[] good = [.. candidates.Select(c => Step(union, unionHalf, c)).OfType<Scatter>()
            .Select(c => Step(union, unionHalf, c)).OfType<Scatter>().OrderBy(c => c.LogDeterminant).Take(BestOfMany)];
        return Concentrated(rows, h, good);
    }

    private static Scatter[] Starts(double[][] rows, int h, int starts, RandomStream random)
    {
        int p = rows[0].Length;
        List<Scatter> found = new();
        for (int s = 0; s < starts; s++)
        {
            // p + 1 rows, and more where they lie on a plane
            List<int> chosen = new();
            Scatter? scatter = null;
            while (scatter is null && chosen.Count < rows.Length)
            {
                int next = random.NextIndex(rows.Length);
                if (chosen.Contains(next))
                    continue;
                chosen.Add(next);
                if (chosen.Count > p)
                    scatter = Scatter.Of([.. chosen.Select(i => rows[i])]);
            }

            if (scatter is not null && Step(rows, h, scatter) is { } one && Step(rows, h, one) is { } two)
                found.Add(two);
        }

        return [.. found.OrderBy(f => f.LogDeterminant).Take(Best)];
    }

    private static Scatter? Concentrated(double[][] rows, int h, Scatter[] starts)
    {
        Scatter? best = null;
        foreach (Scatter start in starts)
        {
            Scatter? current = start;
            for (int i = 0; i < 200 && current is not null; i++)
            {
                Scatter? next = Step(rows, h, current);
                bool settled = next is not null && i > 0 && next.LogDeterminant >= current.LogDeterminant - 1e-12;
                current = next;
                if (settled)
                    break;
            }

            if (current is not null && (best is null || current.LogDeterminant < best.LogDeterminant - 1e-12))
                best = current;
        }

        return best;
    }

    // concentration: the h rows nearest to a centre never have a larger determinant (Rousseeuw and Van Driessen 1999, theorem 1)
    private static Scatter? Step(double[][] rows, int h, Scatter scatter)
    {
        double[] distances = new double[rows.Length];
        int[] order = new int[rows.Length];
        for (int i = 0; i < rows.Length; i++)
        {
            distances[i] = scatter.SquaredDistance(rows[i]);
            order[i] = i;
        }

        Array.Sort(distances, order);
        int[] nearest = order[..h];
        Array.Sort(nearest);
        return Scatter.Of([.. nearest.Select(i => rows[i])]);
    }

    private static int Lexical(double[]? x, double[]? y)
    {
        for (int i = 0; i < x!.Length; i++)
        {
            if (x[i].CompareTo(y![i]) is not 0 and int order)
                return order;
        }

        return 0;
    }
}
