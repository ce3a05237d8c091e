namespace DecayAtlas.Decomposition.Outliers;

/// <summary>How far one contributor's readings lie from those of all.</summary>
/// <param name="Contributor">Name.</param>
/// <param name="Values">Number of readings.</param>
/// <param name="Mean">Their mean.</param>
/// <param name="Score">z, in robust standard deviations of a mean of so many readings.</param>
/// <param name="Bias">Mean less the consensus, in the unit of the readings.</param>
public sealed record ContributorScore(string Contributor, int Values, double Mean, double Score, double Bias);

/// <summary>Contributors against their consensus.</summary>
/// <param name="Consensus">Robust mean of the contributors' means.</param>
/// <param name="BetweenSd">Robust standard deviation between contributors beyond what their readings' scatter explains, τ.</param>
/// <param name="WithinSd">Pooled standard deviation within contributors.</param>
/// <param name="Scores">One for each contributor, by name.</param>
public sealed record ContributorScores(double Consensus, double BetweenSd, double WithinSd, IReadOnlyList<ContributorScore> Scores);

/// <summary>
/// Bias of a contributor's balance or handling, from quantities that should be alike everywhere (the initial mass of one lot, a check
/// weight):
/// <c>z = (mean_i - consensus)/√(τ² + s_w²/n_i)</c>.
/// </summary>
/// <remarks>
/// Consensus and the standard deviation s* between means by Algorithm A, and action at |z| ≥ 3, warning at 2: ISO 13528:2015, annex C.3 and
/// 9.4.
/// <c>τ² = max(0, s*² - s_w²/n_h)</c>, n_h the harmonic mean of the n_i, s_w² pooled over contributors: the analysis-of-variance estimate
/// with s* robust (own choice, no source).
/// Contributors with few readings are thereby not blamed for chance.
/// </remarks>
public static class ContributorBias
{
    /// <summary>Fewest contributors for a consensus.</summary>
    public const int FewestContributors = 5;

    /// <summary>Scores each contributor from its readings.</summary>
    public static Answer<ContributorScores> Of(IReadOnlyDictionary<string, IReadOnlyList<double>> readings) =>
        readings.Values.Any(v => v.Any(x => !double.IsFinite(x)))
            ? Unanswered.NotFinite("readings")
            : Of(readings.Where(r => r.Value.Count > 0)
                .ToDictionary(r => r.Key, r => SampleSummary.Of([.. r.Value.Order()])!, StringComparer.Ordinal));

    /// <summary>Scores each contributor from number, mean and standard deviation of its readings.</summary>
    public static Answer<ContributorScores> Of(IReadOnlyDictionary<string, SampleSummary> readings)
    {
        (string Name, SampleSummary S)[] contributors = [.. readings.OrderBy(r => r.Key, StringComparer.Ordinal)
            .Select(r => (r.Key, r.Value))];
        if (contributors.Length < FewestContributors)
            return Unanswered.TooFew("contributors", contributors.Length, FewestContributors);
        int within = contributors.Sum(c => c.S.Count - 1);
        if (within < 1)
            return Unanswered.TooFew("contributors with two readings", 0, 1);
        Answer<RobustMean> consensus = RobustLocation.Of([.. contributors.Select(c => c.S.Mean)]);
        if (consensus.Value is not { } robust)
            return consensus.Statement!;

        double pooled = contributors.Sum(c => (c.S.Count - 1) * Math.Pow(c.S.Sd ?? 0, 2)) / within;
        double harmonic = contributors.Length / contributors.Sum(c => 1.0 / c.S.Count);
        double between = Math.Max(0, robust.Sd * robust.Sd - pooled / harmonic);
        if (!(between + pooled > 0))
            return Unanswered.NoScatter("readings within and between contributors");
        return new ContributorScores(robust.Mean, Math.Sqrt(between), Math.Sqrt(pooled), [.. contributors.Select(c =>
        {
            double bias = c.S.Mean - robust.Mean;
            return new ContributorScore(c.Name, c.S.Count, c.S.Mean, bias / Math.Sqrt(between + pooled / c.S.Count), bias);
        })]);
    }
}
