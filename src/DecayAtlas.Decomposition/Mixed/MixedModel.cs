using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace DecayAtlas.Decomposition.Mixed;

/// <summary>
/// One or two outcomes (ln k and S) of burials in random units of any arrangement, with errors that are known, by restricted maximum
/// likelihood:
/// <code>
/// y_i = X_i β + Σ_f u_f(i) + Σ_q c_iq e_q + a_i + ε_i
/// u_f ~ N(0, G_f)   ε ~ N(0, R)   estimated, each a covariance of the outcomes     e_q ~ N(0, 1)   a_i ~ N(0, A_i)   known
/// </code>
/// </summary>
/// <remarks>All normal and independent. Variances are never negative: one that stands at zero is marked. Sources: Patterson and Thompson
/// 1971, Biometrika 58:545-554; Laird and Ware 1982, Biometrics 38:963-974; known errors as in meta-analysis, van Houwelingen, Arends and
/// Stijnen 2002, Statistics in Medicine 21:589-624 (from memory).</remarks>
public static class MixedModel
{
    private static readonly string[] OutcomeNames = ["first", "second"];

    /// <param name="outcomes">1 or 2.</param>
    /// <param name="near">A fit of nearly the same records by the same factors: the search starts at its variances, once, and takes a
    /// fraction of the time.</param>
    /// <exception cref="ArgumentException">Records do not fit the factors or each other.</exception>
    public static Answer<MixedFit> Fit(
        IReadOnlyList<MixedRecord> records, IReadOnlyList<MixedFactor> factors, int outcomes, MixedFit? near = null)
    {
        if (ObstacleTo(records, factors, outcomes) is { } obstacle)
            return obstacle;
        MixedDesign design = new(records, factors, outcomes);
        MixedPlateaus plateaus = new(design);
        if (Flat(plateaus.Design) is { } flat)
            return flat;
        MixedParameters parameters = new(design);
        if (MixedSearch.Minimise(plateaus.Design, parameters, near is null ? null : Scaled(near, design)) is not { } fit)
            return new Unanswered("The search for the variances did not settle.");
        if (plateaus.Settled(parameters, fit) is not { } settled)
            return NoReplacements;
        return HasResidual(design, settled) ? new MixedFit(plateaus.Design, settled, plateaus.Deviance)
            : Unanswered.NoScatter("values within each unit, once the fixed effects are taken off,");
    }

    /// <summary>The same with the variances, and their uncertainty, of another fit of nearly the same records by the same factors: for what
    /// small changes of many records do to the fixed effects, in a tenth of the time.</summary>
    /// <exception cref="ArgumentException">Records do not fit the factors or each other, or the other fit has other factors.</exception>
    public static Answer<MixedFit> FitAsIn(
        MixedFit like, IReadOnlyList<MixedRecord> records, IReadOnlyList<MixedFactor> factors, int outcomes)
    {
        if (ObstacleTo(records, factors, outcomes) is { } obstacle)
            return obstacle;
        MixedDesign design = new(records, factors, outcomes);
        OutcomeCovariance[] covariances = Scaled(like, design);
        MixedParameters parameters = new(design);
        if (covariances.Length != parameters.Blocks)
            throw new ArgumentException("The other fit has other factors.", nameof(like));
        MixedPlateaus plateaus = new(design);
        double[] loadings = parameters.LoadingsOf(covariances);
        return plateaus.Standing(new MixedLikelihood(plateaus.Design, loadings)) is { } standing
            ? new MixedFit(plateaus.Design, standing, plateaus.Deviance, like) : NoReplacements;
    }

    private static Unanswered NoReplacements => new("What stands for the values known only to be at least something did not settle.");

    private static Unanswered? ObstacleTo(IReadOnlyList<MixedRecord> records, IReadOnlyList<MixedFactor> factors, int outcomes)
    {
        if (outcomes is not (1 or 2))
            throw new ArgumentOutOfRangeException(nameof(outcomes));
        if (records.Count == 0)
            return Unanswered.TooFew("burials", 0, 3);
        int width = records[0].FixedEffects.Count;
        if (width == 0 || records.Any(r => r.Units.Count != factors.Count || r.FixedEffects.Count != width || r.Count < 1))
        {
            throw new ArgumentException(
                "Each record must name one unit, or none, for each factor, one number for each column of X, and 1 burial or more.",
                nameof(records));
        }

        if (records.Any(r => r.First is null && (outcomes == 1 || r.Second is null)))
            throw new ArgumentException("Each record must have a value.", nameof(records));
        if (records.Any(r => r.FirstIsAtLeast && (r.First is null || r.Count > 1)))
            throw new ArgumentException("What is at least something must say what, and be of one burial.", nameof(records));
        return records.All(IsFinite) ? Obstacle(records, factors, outcomes, width) : Unanswered.NotFinite("values and their errors");
    }

    private static OutcomeCovariance[] Scaled(MixedFit fit, MixedDesign design)
    {
        double s1 = design.Scale[0], s2 = design.Scale[1];
        return [.. fit.Components.Select(c => c.Covariance)
            .Select(g => new OutcomeCovariance(g.First / (s1 * s1), g.Cross / (s1 * s2), g.Second / (s2 * s2)))];
    }

    private static bool IsFinite(MixedRecord r) =>
        double.IsFinite((r.First ?? 0) + (r.Second ?? 0) + r.FixedEffects.Sum() + Sum(r.Error) + Sum(r.MeanError) + Sum(r.SumsOfSquares)
            + r.Shared.Sum(s => s.OnFirst + s.OnSecond));

    private static double Sum(OutcomeCovariance c) => c.First + c.Cross + c.Second;

    private static Unanswered? Obstacle(IReadOnlyList<MixedRecord> records, IReadOnlyList<MixedFactor> factors, int outcomes, int width)
    {
        for (int o = 0; o < outcomes; o++)
        {
            // what is at least something has no end, and tells alone nothing of a mean or a scatter
            MixedRecord[] with =
                [.. records.Where(r => o == 0 ? r.First is not null && !r.FirstIsAtLeast : r.Second is not null)];
            int burials = with.Sum(r => r.Count), needed = width + factors.Count + 1;
            if (burials < needed)
                return Unanswered.TooFew($"burials with the {OutcomeNames[o]} outcome", burials, needed);
            double Value(MixedRecord r) => (o == 0 ? r.First : r.Second)!.Value;
            if (with.All(r => Value(r) == Value(with[0]) && (o == 0 ? r.SumsOfSquares.First : r.SumsOfSquares.Second) == 0))
                return Unanswered.NoScatter($"values of the {OutcomeNames[o]} outcome");
            if (!IsFullRank(with, width))
            {
                if (o == 0 && IsFullRank([.. records.Where(r => r.First is not null)], width))
                    return new Unanswered("All values that tell an effect are known only to be at least something: it has no upper end.");
                return new Unanswered(
                    "A covariate is constant, or repeats the groups or another covariate: their effects can't be told apart.");
            }
        }

        foreach ((MixedFactor factor, int f) in factors.Select((x, f) => (x, f)))
        {
            for (int o = 0; o < outcomes; o++)
            {
                if (IsAlikeWithin(records, f, o))
                    return Unanswered.NoScatter($"values within each {factor.Name}");
            }
        }

        int[][] partitions = [.. factors.Select((_, f) => Partition(records, f))];
        for (int f = 0; f < factors.Count; f++)
        {
            int units = partitions[f].Max() + 1;
            if (units < 2 && partitions[f].Contains(-1))
                return Unanswered.TooFew($"units of {factors[f].Name}", units, 2);
            if (units < 2)
                return new Unanswered($"All burials belong to one {factors[f].Name}: variance between units can't be told.");
            if (units == records.Sum(r => r.Count))
                return new Unanswered($"Each {factors[f].Name} holds one burial only: its variance can't be told from that of burials.");
            for (int g = 0; g < f; g++)
            {
                if (partitions[f].SequenceEqual(partitions[g]))
                {
                    return new Unanswered(
                        $"Each {factors[g].Name} holds one {factors[f].Name} only: their variances can't be told apart.");
                }
            }
        }

        return null;
    }

    // where units hold several burials, and in none two differ
    private static bool IsAlikeWithin(IReadOnlyList<MixedRecord> records, int factor, int outcome)
    {
        Dictionary<string, double> first = new(StringComparer.Ordinal);
        bool isRepeated = false;
        foreach (MixedRecord r in records)
        {
            if ((outcome == 0 ? r.First : r.Second) is not { } value || (outcome == 0 && r.FirstIsAtLeast))
                continue;
            // those in no unit of it differ by no effect of it, as if in one
            string unit = r.Units[factor] ?? "\u001e";
            isRepeated |= r.Count > 1 || first.ContainsKey(unit);
            if (!first.TryAdd(unit, value) && first[unit] != value)
                return false;
            if ((outcome == 0 ? r.SumsOfSquares.First : r.SumsOfSquares.Second) > 0)
                return false;
        }

        return isRepeated;
    }

    // units numbered as they come, -1 where there is none
    private static int[] Partition(IReadOnlyList<MixedRecord> records, int factor)
    {
        Dictionary<string, int> numbers = new(StringComparer.Ordinal);
        return [.. records.Select(r =>
        {
            if (r.Units[factor] is not { } unit)
                return -1;
            if (!numbers.TryGetValue(unit, out int number))
                numbers[unit] = number = numbers.Count;
            return number;
        })];
    }

    private static bool IsFullRank(MixedRecord[] records, int width)
    {
        Matrix<double> squares = Matrix<double>.Build.Dense(width, width);
        foreach (IReadOnlyList<double> x in records.Select(r => r.FixedEffects))
        {
            for (int i = 0; i < width; i++)
            {
                for (int j = 0; j < width; j++)
                    squares[i, j] += x[i] * x[j];
            }
        }

        Vector<double> norms = squares.Diagonal().PointwiseSqrt();
        if (norms.Minimum() < 1e-12)
            return false;
        squares.MapIndexedInplace((i, j, v) => v / (norms[i] * norms[j]));
        return squares.Evd(Symmetricity.Symmetric).EigenValues.Min(e => e.Real) > 1e-11;
    }

    /// <summary>Where all variances are of a size, each must show in the likelihood, and none as a mixture of others.</summary>
    private static Unanswered? Flat(MixedDesign design)
    {
        MixedParameters parameters = new(design);
        MixedLikelihood even = new(design, parameters.Loadings(
            [.. parameters.Places.Select(p => MixedParameters.IsDiagonal(p) ? 1 / Math.Sqrt(parameters.Blocks) : 0)]));
        for (int f = 0; f < design.Factors.Length; f++)
        {
            for (int o = 0; o < design.Outcomes; o++)
            {
                if (design.Factors[f].OnlyOutcome is { } only && only != o)
                    continue;
                // what the values tell of a unit: 1 less the variance that is left of its effect of variance 1
                double told = design.FirstUnknown[f].Max(u => 1 - even.InverseAt(u + o, u + o));
                if (told < 1e-9)
                {
                    return new Unanswered($"The variance between units of {design.Factors[f].Name} can't be told from the fixed effects, "
                        + "since no two units share them.");
                }
            }
        }

        Matrix<double> information = Matrix<double>.Build.DenseOfArray(new MixedInformation(design, even).Average(parameters.Places));
        Vector<double> norms = information.Diagonal().PointwiseSqrt();
        // values or errors of another size altogether leave no digit of it, and the eigenvalues of none break the library
        if (!norms.All(double.IsFinite) || !information.Enumerate().All(double.IsFinite))
            return new Unanswered("Values or their errors differ by so much that their variances can't be told.");
        if (norms.Minimum() > 0)
        {
            information.MapIndexedInplace((i, j, v) => v / (norms[i] * norms[j]));
            Evd<double> eigen = information.Evd(Symmetricity.Symmetric);
            int least = eigen.EigenValues.Select((e, i) => (e.Real, i)).Min().i;
            if (eigen.EigenValues[least].Real > 1e-10)
                return null;
            string[] names = [.. eigen.EigenVectors.Column(least).Select((v, i) => (Size: Math.Abs(v), Block: parameters.Places[i] / 4))
                .OrderByDescending(x => x.Size).Select(x => x.Block).Distinct().Take(2).Order()
                .Select(b => b < design.Factors.Length ? design.Factors[b].Name : "burial")];
            return new Unanswered($"The variances between units of {string.Join(" and ", names)} can't be told apart.");
        }

        return new Unanswered("A covariance can't be told, since no burial has both outcomes.");
    }

    // without known errors nothing else keeps the likelihood finite
    private static bool HasResidual(MixedDesign design, MixedLikelihood fit)
    {
        OutcomeCovariance residual = MixedParameters.CovarianceOf(fit.Loadings, design.Factors.Length);
        bool isKnown = design.Records.All(r => r.Error.First > 0 && (design.Outcomes == 1 || r.Error.Second > 0));
        return isKnown || (residual.First > 1e-10 && (design.Outcomes == 1 || residual.Second > 1e-10));
    }
}
