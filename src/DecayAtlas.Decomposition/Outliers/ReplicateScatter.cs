using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Outliers;

/// <summary>One replicate in two quantities, for example S and ln k, with the covariance of its own measuring errors.</summary>
public readonly record struct Replicate(double X, double Y, double VarianceX, double VarianceY, double Covariance);

/// <summary>A replicate that stands apart, by its place in its group, and its differences from the mean of the others.</summary>
/// <param name="Distance">From the mean of the group's others, in standard deviations of such a difference.</param>
public readonly record struct ApartReplicate(int Group, int Index, double Distance, double DeviationX, double DeviationY);

/// <summary>How replicates scatter about their groups, and which stand apart.</summary>
/// <param name="Covariance">Robust covariance of single replicates about their group: xx, xy, yy.</param>
public sealed record ReplicateScatters(int Rows, (double Xx, double Xy, double Yy) Covariance, double Limit,
    IReadOnlyList<ApartReplicate> Apart);

/// <summary>
/// Outliers among few replicates, in two quantities at once: the scatter is not that of the group, which is too small to tell, but
/// of all groups pooled, by the minimum covariance determinant (<see cref="RobustDistance"/>) of the deviations from group means.
/// </summary>
/// <remarks>
/// <code>
/// r_i = (x_i - mean of the group) √(n/(n - 1))              for the scatter C
/// d_i = x_i - mean of the others,   D² = d' (C + V_i + (C + mean V of the others)/(n - 1))⁻¹ d     V_i: own measuring errors
/// </code>
/// A replicate with D² beyond the 1 - level quantile of χ²(2) stands apart. The worst goes first and is no measure for the rest of its
/// group; at least two stay, and no more than a third go. C holds an ordinary measuring error already, so that a coarse balance counts more
/// than once: on the safe side.
/// The distance is as Rousseeuw and Van Zomeren 1990, Journal of the American Statistical Association 85:633-639; pooling over groups, the
/// own errors and the peeling are own choices, no source. Groups are taken to scatter alike; where some scatter more, more of theirs are
/// told.
/// </remarks>
public static class ReplicateScatter
{
    /// <summary>Fewest replicates for a scatter: with fewer, fast MCD marks too many (see <see cref="RobustDistance"/>).</summary>
    public const int FewestRows = 50;

    /// <summary>Fewest replicates in a group: of two that differ, nobody can say which is wrong.</summary>
    public const int FewestInGroup = 3;

    /// <summary>The scatter is made from at most so many rows, evenly chosen: it needs no more, and the time stays bounded.</summary>
    private const int MostRows = 1500;

    private static readonly RobustDistanceOptions Search = new(Starts: 200);

    /// <param name="groups">Those below <see cref="FewestInGroup"/> are passed over.</param>
    /// <param name="level">Share of sound replicates that chance would mark.</param>
    public static Answer<ReplicateScatters> Of(IReadOnlyList<IReadOnlyList<Replicate>> groups, double level)
    {
        if (groups.Any(g => g.Any(r => !double.IsFinite(r.X) || !double.IsFinite(r.Y))))
            return Unanswered.NotFinite("replicates");
        double[][] rows = [.. groups.Where(g => g.Count >= FewestInGroup).SelectMany(Deviations)];
        if (rows.Length < FewestRows)
            return Unanswered.TooFew("replicates in groups of three or more", rows.Length, FewestRows);
        Answer<RobustDistances> distances = RobustDistance.Of(Some(rows), Search);
        if (distances.Value is not { } robust)
            return distances.Statement!;

        (double Xx, double Xy, double Yy) c = (robust.Covariance[0], robust.Covariance[1], robust.Covariance[3]);
        double limit = Math.Sqrt(ChiSquared.InvCDF(2, 1 - level));
        return new ReplicateScatters(rows.Length, c, limit, [.. groups.SelectMany((g, i) => Peel(g, i, c, limit))]);
    }

    private static IEnumerable<double[]> Deviations(IReadOnlyList<Replicate> group)
    {
        double n = group.Count, x = group.Average(r => r.X), y = group.Average(r => r.Y), scale = Math.Sqrt(n / (n - 1));
        return group.Select(r => new[] { (r.X - x) * scale, (r.Y - y) * scale });
    }

    private static double[][] Some(double[][] rows) => rows.Length <= MostRows
        ? rows
        : [.. Enumerable.Range(0, MostRows).Select(i => rows[(int)((long)i * rows.Length / MostRows)])];

    private static List<ApartReplicate> Peel(IReadOnlyList<Replicate> group, int at, (double Xx, double Xy, double Yy) c, double limit)
    {
        List<ApartReplicate> apart = new();
        List<int> left = [.. Enumerable.Range(0, group.Count)];
        while (left.Count >= FewestInGroup && apart.Count < group.Count / 3)
        {
            ApartReplicate worst = left.Select(i => Measure(group, left, i, at, c)).MaxBy(a => a.Distance);
            if (!(worst.Distance > limit))
                break;
            apart.Add(worst);
            left.Remove(worst.Index);
        }

        apart.Sort((a, b) => a.Index.CompareTo(b.Index));
        return apart;
    }

    private static ApartReplicate Measure(IReadOnlyList<Replicate> group, List<int> left, int i,
        int at, (double Xx, double Xy, double Yy) c)
    {
        double m = left.Count - 1, x = 0, y = 0, xx = 0, xy = 0, yy = 0;
        foreach (int j in left)
        {
            if (j == i)
                continue;
            Replicate other = group[j];
            (x, y) = (x + other.X / m, y + other.Y / m);
            (xx, xy, yy) = (xx + other.VarianceX / m, xy + other.Covariance / m, yy + other.VarianceY / m);
        }

        Replicate own = group[i];
        double dx = own.X - x, dy = own.Y - y;
        double a = c.Xx + own.VarianceX + (c.Xx + xx) / m, b = c.Xy + own.Covariance + (c.Xy + xy) / m,
            d = c.Yy + own.VarianceY + (c.Yy + yy) / m;
        double square = (d * dx * dx - 2 * b * dx * dy + a * dy * dy) / (a * d - b * b);
        return new ApartReplicate(at, i, Math.Sqrt(square), dx, dy);
    }
}
