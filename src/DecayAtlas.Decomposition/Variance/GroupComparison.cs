using System.Globalization;

namespace DecayAtlas.Decomposition.Variance;

/// <summary>One value of a group, with the units it is nested in.</summary>
/// <param name="Value">The value, for example ln k.</param>
/// <param name="Group">Land use, management or treatment.</param>
/// <param name="Units">Names of its units, top to bottom: the site, then plots within it where there are any.</param>
/// <param name="Covariates">Values of the covariates adjusted for, in the order of their names.</param>
public readonly record struct GroupValue(double Value, string Group, IReadOnlyList<string> Units, IReadOnlyList<double>? Covariates = null);

/// <summary>One group's mean, at the overall mean of the covariates.</summary>
/// <param name="Group">Name.</param>
/// <param name="Values">Number of values.</param>
/// <param name="Sites">Number of sites that hold the group.</param>
/// <param name="Mean">Adjusted mean.</param>
public sealed record GroupMean(string Group, int Values, int Sites, FixedEffect Mean);

/// <summary>The difference of two groups, second less first.</summary>
/// <param name="First">The group taken off.</param>
/// <param name="Second">The group it is taken off from.</param>
/// <param name="Difference">Second less first.</param>
/// <param name="HolmPValue">Probability adjusted for all pairs compared.</param>
/// <param name="EffectSize">Difference over the standard deviation of a single value, √(Σ variances) (Westfall, Kenny and Judd 2014, J. Experimental Psychology: General 143:2020-2045).</param>
/// <param name="EffectLower95">The difference's lower end over the same standard deviation, that one taken as known.</param>
/// <param name="EffectUpper95">Upper end.</param>
/// <param name="Sentence">What may and may not be concluded.</param>
public sealed record GroupDifference(
    string First, string Second, FixedEffect Difference, double? HolmPValue,
    double EffectSize, double? EffectLower95, double? EffectUpper95, string Sentence);

/// <summary>Groups compared.</summary>
/// <param name="Groups">Groups in order of name.</param>
/// <param name="Differences">All pairs.</param>
/// <param name="Covariates">Slope of each covariate.</param>
/// <param name="RandomLevels">Levels whose variance was fitted; a level without replicates inside is part of the residual.</param>
/// <param name="Variances">Their variances, the residual last.</param>
/// <param name="RestrictedDeviance">-2 log restricted likelihood.</param>
public sealed record ComparedGroups(
    IReadOnlyList<GroupMean> Groups, IReadOnlyList<GroupDifference> Differences, IReadOnlyList<(string Name, FixedEffect Slope)> Covariates,
    IReadOnlyList<string> RandomLevels, IReadOnlyList<double> Variances, double RestrictedDeviance);

/// <summary>
/// Comparison of groups by a mixed model: group (and covariates) fixed, site (and plots) random, REML, Satterthwaite degrees of freedom.
/// </summary>
/// <remarks>
/// Burials of one site are not independent samples of its land use: the site is the unit of replication, and the random site effect says so.
/// Where every site holds one value only, the model is the linear model. Groups that lie within sites (warmed beside control) are
/// compared within the site; that the difference itself varies from site to site is not modelled.
/// Sources: Laird and Ware 1982, Biometrics 38:963-974; see <see cref="FixedEffect"/> and <see cref="MultipleComparisons"/>.
/// </remarks>
public static class GroupComparison
{
    /// <summary>Compares all pairs of groups.</summary>
    /// <param name="values">Values in any order.</param>
    /// <param name="levels">Names of the units, top to bottom; at least the site.</param>
    /// <param name="covariates">Names of the covariates; none by default.</param>
    public static Answer<ComparedGroups> Of(IReadOnlyList<GroupValue> values, IReadOnlyList<string> levels, IReadOnlyList<string>? covariates = null)
    {
        covariates ??= [];
        if (levels.Count == 0 || values.Any(v => v.Units.Count != levels.Count || (v.Covariates?.Count ?? 0) != covariates.Count))
            throw new ArgumentException("Each value must name one unit for each level and one number for each covariate.", nameof(values));
        if (values.Any(v => !double.IsFinite(v.Value) || (v.Covariates ?? []).Any(c => !double.IsFinite(c))))
            return Unanswered.NotFinite("values and covariates");
        string[] groups = [.. values.Select(v => v.Group).Distinct().Order(StringComparer.Ordinal)];
        if (Obstacle(values, levels, groups, covariates.Count) is { } obstacle)
            return obstacle;

        double centre = values.Average(v => v.Value);
        double[] covariateMeans = [.. covariates.Select((_, c) => values.Average(v => v.Covariates![c]))];
        double[][] rows = [.. values.Select(v => (double[])
        [
            .. groups.Select(g => g == v.Group ? 1.0 : 0.0),
            .. covariates.Select((_, c) => v.Covariates![c] - covariateMeans[c]),
        ])];
        if (!IsFullRank(rows))
            return new Unanswered(UnansweredReason.SingularDesign, "A covariate is constant, or repeats the groups or another covariate: their effects can't be told apart.");

        int[] kept = ReplicatedLevels(values, levels.Count);
        if (kept.Length > 0 && values.GroupBy(v => Path(v.Units, kept[^1])).All(g => g.All(v => v.Value == g.First().Value)))
            return Unanswered.NoScatter($"values within each {levels[kept[^1]]}");
        NestedDesign design = NestedDesign.Of(
            [.. values.Select(v => v.Value - centre)], rows, [.. values.Select(v => kept.Select(j => Path(v.Units, j)).ToArray())]);
        Answer<RestrictedLikelihood> found = RestrictedLikelihood.Maximise(design);
        if (found.Value is not { } fit)
            return found.Statement!;
        double scale = values.Average(v => (v.Value - centre) * (v.Value - centre));
        if (!(fit.ResidualVariance > 1e-20 * scale))
            return Unanswered.NoScatter("values within each unit");
        return Describe(values, levels, covariates, groups, centre, kept, fit, new FixedEffectTest(design, fit));
    }

    private static ComparedGroups Describe(
        IReadOnlyList<GroupValue> values, IReadOnlyList<string> levels, IReadOnlyList<string> covariates, string[] groups,
        double centre, int[] kept, RestrictedLikelihood fit, FixedEffectTest test)
    {
        int p = groups.Length + covariates.Count;
        double[] variances = [.. fit.Ratios.Select(r => r * fit.ResidualVariance), fit.ResidualVariance];
        double sd = Math.Sqrt(variances.Sum());
        GroupMean[] means = [.. groups.Select((g, i) => new GroupMean(
            g, values.Count(v => v.Group == g), values.Where(v => v.Group == g).Select(v => v.Units[0]).Distinct().Count(),
            test.Of(Contrast(p, i)).AsMean(centre)))];
        (int First, int Second, FixedEffect Effect)[] pairs = [.. Enumerable.Range(0, groups.Length)
            .SelectMany(a => Enumerable.Range(a + 1, groups.Length - a - 1).Select(b => (a, b, test.Of(Contrast(p, b, a)))))];
        // a pair without a probability still counts as a comparison made
        double[] holm = MultipleComparisons.Holm([.. pairs.Select(x => x.Effect.PValue ?? 1)]);
        GroupDifference[] differences = [.. pairs.Select((x, i) => new GroupDifference(
            groups[x.First], groups[x.Second], x.Effect, x.Effect.PValue is null ? null : holm[i],
            x.Effect.Value / sd, x.Effect.Lower95 / sd, x.Effect.Upper95 / sd,
            Sentence(groups[x.First], groups[x.Second], x.Effect, holm[i], pairs.Length)))];
        return new ComparedGroups(
            means, differences, [.. covariates.Select((c, j) => (c, test.Of(Contrast(p, groups.Length + j))))],
            [.. kept.Select(j => levels[j])], variances, fit.Criterion);
    }

    private static string Sentence(string first, string second, FixedEffect d, double p, int comparisons)
    {
        if (d.PValue is null)
            return $"There are too few sites to compare {second} with {first}: less than one degree of freedom is left.";
        string numbers = string.Create(
            CultureInfo.InvariantCulture,
            $"95 % interval {d.Lower95:G3} to {d.Upper95:G3}, P = {p:G2}{(comparisons > 1 ? $" after Holm's correction for {comparisons} comparisons" : "")}");
        string difference = string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(d.Value):G3}");
        return p < 0.05
            ? $"{second} lies {difference} {(d.Value > 0 ? "above" : "below")} {first} ({numbers}). Sites not allotted to groups by lot show that the groups differ, not why."
            : $"The data do not tell {second} from {first}: the difference is estimated as {d.Value.ToString("G3", CultureInfo.InvariantCulture)} ({numbers}). That is no proof that they are alike; the interval says how large a difference remains possible.";
    }

    private static Unanswered? Obstacle(IReadOnlyList<GroupValue> values, IReadOnlyList<string> levels, string[] groups, int covariates)
    {
        if (groups.Length < 2)
            return new Unanswered(UnansweredReason.OneGroupOnly, "All values belong to one group: there is nothing to compare.");
        if (values.All(v => v.Value == values[0].Value))
            return Unanswered.NoScatter("values");
        if (values.Count < groups.Length + covariates + 2)
            return Unanswered.TooFew("values", values.Count, groups.Length + covariates + 2);
        var sitesOf = values.Select(v => (v.Group, Site: v.Units[0])).Distinct().ToLookup(x => x.Group, x => x.Site);
        bool isWithinSites = values.GroupBy(v => v.Units[0]).Any(g => g.Select(v => v.Group).Distinct().Count() > 1);
        foreach (string g in groups)
            if (!isWithinSites && sitesOf[g].Count() < 2)
                return new Unanswered(
                    UnansweredReason.SingularDesign,
                    $"Group {g} has one {levels[0]} only: what is due to the group can't be told from what is due to that {levels[0]}; at least 2 are needed in each group.");
        int sites = values.Select(v => v.Units[0]).Distinct().Count();
        return sites < 2 ? Unanswered.TooFew(levels[0] + "s", sites, 2) : null;
    }

    // a level counts where it splits the one above and is itself split further
    private static int[] ReplicatedLevels(IReadOnlyList<GroupValue> values, int levels)
    {
        var kept = new List<int>();
        int above = 1;
        for (int j = 0; j < levels; j++)
        {
            int units = values.Select(v => Path(v.Units, j)).Distinct().Count();
            if (units > above && units < values.Count)
            {
                kept.Add(j);
                above = units;
            }
        }

        return [.. kept];
    }

    private static string Path(IReadOnlyList<string> units, int level) => string.Join('\u001f', units.Take(level + 1));

    private static double[] Contrast(int count, int plus, int minus = -1)
    {
        double[] c = new double[count];
        c[plus] = 1;
        if (minus >= 0)
            c[minus] = -1;
        return c;
    }

    private static bool IsFullRank(double[][] rows)
    {
        int p = rows[0].Length;
        var matrix = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.Dense(rows.Length, p, (i, j) => rows[i][j]);
        double[] norms = [.. matrix.EnumerateColumns().Select(c => c.L2Norm())];
        if (norms.Any(n => n < 1e-12))
            return false;
        var r = matrix.NormalizeColumns(2).QR(MathNet.Numerics.LinearAlgebra.Factorization.QRMethod.Thin).R;
        return r.Diagonal().AbsoluteMinimum() > 1e-9;
    }
}
