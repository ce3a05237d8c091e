using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DecayAtlas.Decomposition.Variance;

/// <summary>One value of a group, with the units it is nested in, or the mean of several that share all of it, with their sum of squares
/// about it: what is estimated is the same.</summary>
/// <param name="Value">For example ln k; the mean of several.</param>
/// <param name="Units">Names, top to bottom: the site, then plots within it where there are any.</param>
/// <param name="Covariates">In the order of their names.</param>
public readonly record struct GroupValue(
    double Value, string Group, IReadOnlyList<string> Units, IReadOnlyList<double>? Covariates = null, int Count = 1,
    double SumOfSquares = 0);

/// <summary>One group's mean, at the overall mean of the covariates.</summary>
public sealed record GroupMean(string Group, int Values, int Sites, FixedEffect Mean);

/// <summary>The difference of two groups, second less first; the probability of Holm is adjusted for all pairs.</summary>
/// <param name="EffectSize">Difference over the standard deviation of a single value, √(Σ variances) (Westfall, Kenny and Judd 2014, J.
/// Experimental Psychology: General 143:2020-2045).</param>
/// <param name="EffectLower95">The difference's interval over the same standard deviation, that one taken as known.</param>
public sealed record GroupDifference(
    string First, string Second, FixedEffect Difference, double? HolmPValue,
    double EffectSize, double? EffectLower95, double? EffectUpper95);

/// <summary>Groups compared.</summary>
/// <param name="Covariates">Slope of each covariate.</param>
/// <param name="RandomLevels">Whose variance was fitted; a level without replicates inside is part of the residual.</param>
public sealed record ComparedGroups(
    IReadOnlyList<GroupMean> Groups, IReadOnlyList<GroupDifference> Differences, IReadOnlyList<(string Name, FixedEffect Slope)> Covariates,
    IReadOnlyList<string> RandomLevels, double RestrictedDeviance);

/// <summary>
/// Comparison of groups by a mixed model: group (and covariates) fixed, site (and plots) random, REML, Satterthwaite degrees of freedom.
/// </summary>
/// <remarks>Burials of one site are not independent samples of its land use: the site is the unit of replication, and the random site
/// effect says so. Where every site holds one value only, the model is the linear model. Groups that lie within sites (warmed beside
/// control) are compared within the site; that the difference varies from site to site is modelled where the part of a site under one group
/// is named as a unit. Sources: Laird and Ware 1982, Biometrics 38:963-974; see <see cref="FixedEffect"/> and <see
/// cref="MultipleComparisons"/>.</remarks>
public static class GroupComparison
{
    /// <param name="levels">Names of the units, top to bottom; at least the site.</param>
    public static Answer<ComparedGroups> Of(IReadOnlyList<GroupValue> values, IReadOnlyList<string> levels,
        IReadOnlyList<string>? covariates = null)
    {
        covariates ??= [];
        if (levels.Count == 0 || values.Any(v => v.Units.Count != levels.Count || (v.Covariates?.Count ?? 0) != covariates.Count))
            throw new ArgumentException("Each value must name one unit for each level and one number for each covariate.", nameof(values));
        if (values.Any(
            v => !double.IsFinite(v.Value) || !double.IsFinite(v.SumOfSquares) || (v.Covariates ?? []).Any(c => !double.IsFinite(c))))
        {
            return Unanswered.NotFinite("values and covariates");
        }

        string[] groups = [.. values.Select(v => v.Group).Distinct().Order(StringComparer.Ordinal)];
        if (Obstacle(values, levels, groups, covariates.Count) is { } obstacle)
            return obstacle;

        int count = values.Sum(v => v.Count);
        double centre = values.Sum(v => v.Count * v.Value) / count;
        double[] covariateMeans = [.. covariates.Select((_, c) => values.Sum(v => v.Count * v.Covariates![c]) / count)];
        Dictionary<string, int> places = groups.Select((g, i) => (g, i)).ToDictionary(x => x.g, x => x.i, StringComparer.Ordinal);
        DesignCell[] all =
            NestedCells.Of([.. values.Select(v => new DesignCell([.. v.Units], Row(v), v.Count, v.Value - centre, v.SumOfSquares))]);
        if (!IsFullRank(all))
        {
            return new Unanswered(
                "A covariate is constant, or repeats the groups or another covariate: their effects can't be told apart.");
        }

        int[] kept = ReplicatedLevels(all, levels.Count, count);
        DesignCell[] cells =
            NestedCells.Of([.. all.Select(c => c with { Units = [.. kept.Select(j => string.Join('\u001f', c.Units.Take(j + 1)))] })]);
        double scale = cells.Sum(c => c.SumOfSquares + c.Count * c.Mean * c.Mean) / count;
        if (kept.Length > 0 && !HasScatter(cells))
            return Unanswered.NoScatter($"values within each {levels[kept[^1]]}");
        NestedDesign design = new(cells);
        Answer<RestrictedLikelihood> found = RestrictedLikelihood.Maximise(design);
        if (found.Value is not { } fit)
            return found.Statement!;
        if (!(fit.ResidualVariance > 1e-20 * scale))
            return Unanswered.NoScatter("values within each unit");
        return Describe(values, levels, covariates, groups, centre, kept, fit, new FixedEffectTest(design, fit));

        double[] Row(GroupValue v)
        {
            double[] row = new double[groups.Length + covariates.Count];
            row[places[v.Group]] = 1;
            for (int c = 0; c < covariates.Count; c++)
                row[groups.Length + c] = v.Covariates![c] - covariateMeans[c];
            return row;
        }
    }

    private static ComparedGroups Describe(
        IReadOnlyList<GroupValue> values, IReadOnlyList<string> levels, IReadOnlyList<string> covariates, string[] groups,
        double centre, int[] kept, RestrictedLikelihood fit, FixedEffectTest test)
    {
        int p = groups.Length + covariates.Count;
        double sd = Math.Sqrt(fit.Ratios.Select(r => r * fit.ResidualVariance).Append(fit.ResidualVariance).Sum());
        ILookup<string, GroupValue> byGroup = values.ToLookup(v => v.Group, StringComparer.Ordinal);
        GroupMean[] means = [.. groups.Select((g, i) => new GroupMean(
            g, byGroup[g].Sum(v => v.Count), byGroup[g].Select(v => v.Units[0]).Distinct(StringComparer.Ordinal).Count(),
            test.Of(Contrast(p, i)).AsMean(centre)))];
        (int First, int Second, FixedEffect Effect)[] pairs = [.. Enumerable.Range(0, groups.Length)
            .SelectMany(a => Enumerable.Range(a + 1, groups.Length - a - 1).Select(b => (a, b, test.Of(Contrast(p, b, a)))))];
        // a pair without a probability still counts as a comparison made
        double[] holm = MultipleComparisons.Holm([.. pairs.Select(x => x.Effect.PValue ?? 1)]);
        GroupDifference[] differences = [.. pairs.Select((x, i) => new GroupDifference(
            groups[x.First], groups[x.Second], x.Effect, x.Effect.PValue is null ? null : holm[i],
            x.Effect.Value / sd, x.Effect.Lower95 / sd, x.Effect.Upper95 / sd))];
        return new ComparedGroups(
            means, differences, [.. covariates.Select((c, j) => (c, test.Of(Contrast(p, groups.Length + j))))],
            [.. kept.Select(j => levels[j])], fit.Criterion);
    }

    private static Unanswered? Obstacle(IReadOnlyList<GroupValue> values, IReadOnlyList<string> levels, string[] groups, int covariates)
    {
        if (groups.Length < 2)
            return new Unanswered("All values belong to one group: there is nothing to compare.");
        if (values.All(v => v.Value == values[0].Value && v.SumOfSquares == 0))
            return Unanswered.NoScatter("values");
        int count = values.Sum(v => v.Count);
        if (count < groups.Length + covariates + 2)
            return Unanswered.TooFew("values", count, groups.Length + covariates + 2);
        ILookup<string, string> sitesOf = values.Select(v => (v.Group, Site: v.Units[0])).Distinct().ToLookup(x => x.Group, x => x.Site);
        bool isWithinSites = values.GroupBy(v => v.Units[0]).Any(g => g.Select(v => v.Group).Distinct().Count() > 1);
        foreach (string g in groups)
        {
            if (!isWithinSites && sitesOf[g].Count() < 2)
            {
                return new Unanswered($"Group {g} has one {levels[0]} only: what is due to the group can't be told from what is due to "
                    + $"that {levels[0]}; at least 2 are needed in each group.");
            }
        }

        int sites = values.Select(v => v.Units[0]).Distinct().Count();
        return sites < 2 ? Unanswered.TooFew(levels[0] + "s", sites, 2) : null;
    }

    // a level counts where it splits the one above and is itself split further
    private static int[] ReplicatedLevels(DesignCell[] cells, int levels, int count)
    {
        List<int> kept = new();
        int above = 1;
        for (int j = 0; j < levels; j++)
        {
            int units = NestedCells.UnitsAt(cells, j);
            if (units > above && units < count)
            {
                kept.Add(j);
                above = units;
            }
        }

        return [.. kept];
    }

    // within a unit, whatever the fixed effects of its cells
    private static bool HasScatter(DesignCell[] cells) =>
        cells.Any(c => c.SumOfSquares > 0)
        || cells.GroupBy(c => c.Units[^1], StringComparer.Ordinal).Any(g => g.Any(c => c.Mean != g.First().Mean));

    private static double[] Contrast(int count, int plus, int minus = -1)
    {
        double[] c = new double[count];
        c[plus] = 1;
        if (minus >= 0)
            c[minus] = -1;
        return c;
    }

    private static bool IsFullRank(DesignCell[] cells)
    {
        // each row once, whatever its number of values: the rank is the same
        double[][] rows = [.. cells.Select(c => c.FixedEffects)
            .DistinctBy(x => string.Join(',', x.Select(BitConverter.DoubleToInt64Bits)))];
        int p = rows[0].Length;
        if (rows.Length < p)
            return false;
        Matrix<double> matrix = Matrix<double>.Build.Dense(rows.Length, p, (i, j) => rows[i][j]);
        double[] norms = [.. matrix.EnumerateColumns().Select(c => c.L2Norm())];
        if (norms.Any(n => n < 1e-12))
            return false;
        return matrix.NormalizeColumns(2).QR(QRMethod.Thin).R.Diagonal().AbsoluteMinimum() > 1e-9;
    }
}
