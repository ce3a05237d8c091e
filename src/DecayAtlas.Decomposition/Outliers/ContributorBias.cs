namespace DecayAtlas.Decomposition.Outliers;

/// <summary>How far one contributor's readings lie from those of all.</summary>
/// <param name="Score">z, in robust standard deviations of a mean of so many readings.</param>
/// <param name="Bias">Mean less the consensus, in the unit of the readings.</param>
public sealed record ContributorScore(string Contributor, int Values, double Score, double Bias);

/// <summary>Bias of a contributor's balance or handling, from quantities that should be alike everywhere (the initial mass of one lot, a
/// check weight): <c>z = (mean_i - consensus)/√(τ² + s_w²/n_i)</c>.</summary>
/// <remarks>Consensus and the standard deviation s* between means by Algorithm A, and action at |z| ≥ 3, warning at 2: ISO 13528:2015,
/// annex C.3 and 9.4. <c>τ² = max(0, s*² - s_w²/n_h)</c>, n_h the harmonic mean of the n_i, s_w² pooled over contributors: the
/// analysis-of-variance estimate with s* robust (own choice, no source), so that contributors with few readings are not blamed for
/// chance.</remarks>
public static class ContributorBias
{
    public const int FewestContributors = 5;

    /// <summary>By name, from number, mean and standard deviation of the readings of each.</summary>
    public static Answer<ContributorScore[]> Of(IReadOnlyDictionary<string, SampleSummary> readings)
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
        return contributors.Select(c =>
        {
            double bias = c.S.Mean - robust.Mean;
            return new ContributorScore(c.Name, c.S.Count, bias / Math.Sqrt(between + pooled / c.S.Count), bias);
        }).ToArray();
    }
}
