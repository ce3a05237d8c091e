using MathNet.Numerics.RootFinding;

namespace DecayAtlas.Decomposition.Variance;

/// <summary>One value in nested units, or the mean of several of one finest unit, with their sum of squares about it: what is estimated is
/// the same.</summary>
/// <param name="Value">For example ln k; the mean of several.</param>
/// <param name="Units">Names, top to bottom (ecosystem, site, plot); a name is taken within the unit above.</param>
public readonly record struct NestedValue(double Value, IReadOnlyList<string> Units, int Count = 1, double SumOfSquares = 0);

/// <summary>The variance between the units of a level ("residual" for what is left) within the level above, and its share of all.</summary>
/// <param name="ShareLower95">Profile-likelihood interval of the share; missing for the residual.</param>
/// <param name="AtZero">Whether the estimate stands at zero: the level's means scatter no more than the levels below explain.</param>
public sealed record VarianceComponent(
    string Level, int Groups, double Variance, double Share, double? ShareLower95, double? ShareUpper95, bool AtZero);

/// <summary>How variance splits over nested levels.</summary>
/// <param name="Components">Levels top to bottom, the residual last.</param>
/// <param name="RestrictedDeviance">-2 l.</param>
public sealed record VarianceSplit(IReadOnlyList<VarianceComponent> Components, FixedEffect Mean, int Observations,
    double RestrictedDeviance)
{
    /// <summary>
    /// Repeatability of the mean of one unit of a level under a planned number of replicates below it:
    /// <c>R = B/(B + σ²_{next}/n₁ + σ²_{after}/(n₁ n₂) + …)</c>, B the variance of this level and above.
    /// </summary>
    /// <remarks>Source: Spearman-Brown step-up for one level; nested sampling, Snedecor and Cochran 1980, Statistical Methods, 13.10 (from
    /// memory).</remarks>
    /// <param name="level">The level whose unit means are meant, for example site.</param>
    /// <param name="replicatesBelow">At each level below, the residual included: plots a site, burials a plot.</param>
    public double Repeatability(string level, params IReadOnlyList<int> replicatesBelow)
    {
        int index = Components.Take(Components.Count - 1).Select(c => c.Level).ToList().IndexOf(level);
        if (index < 0)
            throw new ArgumentException($"There is no level named {level}.", nameof(level));
        if (replicatesBelow.Count != Components.Count - 1 - index || replicatesBelow.Any(n => n < 1))
            throw new ArgumentException("Give one number of 1 or more for each level below.", nameof(replicatesBelow));
        double error = 0, product = 1;
        for (int j = 0; j < replicatesBelow.Count; j++)
        {
            product *= replicatesBelow[j];
            error += Components[index + 1 + j].Variance / product;
        }

        double between = Components.Take(index + 1).Sum(c => c.Variance);
        return between / (between + error);
    }
}

/// <summary>
/// Variance components of nested, unbalanced values by restricted maximum likelihood.
/// </summary>
/// <remarks>
/// Model: y = μ + u₁ + u₂ + … + e, all normal and independent. Variances are never negative: where the levels below explain a level's
/// scatter, its variance is 0 and is marked. Share intervals: the shares whose profile of -2 l lies within χ²(0.95, 1) = 3.841 of the
/// minimum (profile likelihood, Pawitan 2001, In All Likelihood, 3.4 and 17.3, from memory); with few units at a level they are rough and
/// wide.
/// </remarks>
public static class VarianceComponents
{
    private const double ChiSquare95 = 3.841458820694124;

    public static Answer<VarianceSplit> Of(IReadOnlyList<NestedValue> values, IReadOnlyList<string> levels)
    {
        if (values.Any(v => v.Units.Count != levels.Count))
            throw new ArgumentException("Each value must name one unit for each level.", nameof(values));
        if (values.Any(v => !double.IsFinite(v.Value) || !double.IsFinite(v.SumOfSquares)))
            return Unanswered.NotFinite("values");
        int count = values.Sum(v => v.Count);
        if (count < 3)
            return Unanswered.TooFew("values", count, 3);
        if (values.All(v => v.Value == values[0].Value && v.SumOfSquares == 0))
            return Unanswered.NoScatter("values");
        double[] one = [1];
        DesignCell[] cells = NestedCells.Of([.. values.Select(v => new DesignCell([.. v.Units], one, v.Count, v.Value, v.SumOfSquares))]);
        int[] groups = [.. levels.Select((_, j) => NestedCells.UnitsAt(cells, j))];
        if (Obstacle(levels, groups, count) is { } obstacle)
            return obstacle;
        if (cells.All(c => c.SumOfSquares == 0))
            return Unanswered.NoScatter($"values within each {levels[^1]}");

        double centre = cells.Sum(c => c.Count * c.Mean) / count;
        NestedDesign design = new([.. cells.Select(c => c with { Mean = c.Mean - centre })]);
        Answer<RestrictedLikelihood> found = RestrictedLikelihood.Maximise(design);
        if (found.Value is not { } fit)
            return found.Statement!;

        FixedEffect mean = new FixedEffectTest(design, fit).Of([1]);
        double total = 1 + fit.Ratios.Sum();
        List<VarianceComponent> components = [.. levels.Select((level, j) => new VarianceComponent(
            level, groups[j], fit.Ratios[j] * fit.ResidualVariance, fit.Ratios[j] / total,
            ShareEnd(design, fit, j, -1), ShareEnd(design, fit, j, +1), fit.Ratios[j] == 0))];
        components.Add(new VarianceComponent("residual", count, fit.ResidualVariance, 1 / total, null, null, false));
        return new VarianceSplit(components, mean.AsMean(centre), count, fit.Criterion);
    }

    private static Unanswered? Obstacle(IReadOnlyList<string> levels, int[] groups, int count)
    {
        if (levels.Count == 0)
            return Unanswered.TooFew("levels", 0, 1);
        if (groups[0] < 2)
            return new Unanswered($"All values belong to one {levels[0]}: variance between units can't be told.");
        for (int j = 1; j < groups.Length; j++)
        {
            if (groups[j] == groups[j - 1])
            {
                return new Unanswered($"Each {levels[j - 1]} holds one {levels[j]} only: their variances can't be told "
                    + "apart.");
            }
        }

        return groups[^1] == count
            ? new Unanswered($"Each {levels[^1]} holds one value only: its variance can't be told from the residual.")
            : null;
    }

    // where the profile of share ρ of level j, at which λ_j = ρ/(1-ρ) (1 + Σ other λ), the others fitted anew, passes the limit
    private static double ShareEnd(NestedDesign design, RestrictedLikelihood fit, int level, int direction)
    {
        double share = fit.Ratios[level] / (1 + fit.Ratios.Sum()), end = direction < 0 ? 0 : 1 - 1e-6;
        double[] others = [.. fit.Ratios.Where((_, j) => j != level).Select(o => Math.Max(o, 0.01))];
        if (Excess(end) <= 0)
            return direction < 0 ? 0 : 1;
        return Brent.TryFindRoot(Excess, Math.Min(share, end), Math.Max(share, end), 1e-9, 100, out double root) ? root : end;

        double Excess(double rho)
        {
            double odds = rho / (1 - rho);
            double criterion = others.Length == 0
                ? new RestrictedLikelihood(design, [odds]).Criterion
                : NonNegativeNewton.Minimise(Reduced, others) is { } best ? Reduced(best).Value : double.PositiveInfinity;
            // far out the profile has no end; a root finder needs a number there
            return Math.Min(criterion - fit.Criterion - ChiSquare95, 1e6);

            (double Value, double[] Gradient) Reduced(double[] rest)
            {
                double[] ratios = new double[rest.Length + 1];
                for (int j = 0, i = 0; j < ratios.Length; j++)
                    ratios[j] = j == level ? odds * (1 + rest.Sum()) : rest[i++];
                RestrictedLikelihood l = new(design, ratios);
                return (l.Criterion, [.. l.Gradient.Where((_, j) => j != level).Select(g => g + odds * l.Gradient[level])]);
            }
        }
    }
}
