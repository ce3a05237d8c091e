using System.Globalization;

namespace DecayAtlas.Pipeline.CrossCheck;

/// <summary>Contributions whose readings lie off those of all: a balance that reads high, litter that was not dried.</summary>
internal static class BiasCheck
{
    /// <summary>Fewest sites with a residual for a contribution to be judged by its decay.</summary>
    private const int FewestSites = 3;

    /// <param name="evidence">Of all contributors.</param>
    /// <param name="residuals">By quantity: what each contribution's sites differ from what their covariates let expect.</param>
    public static IEnumerable<Flag> Raise(
        IReadOnlyList<Evidence> evidence, IReadOnlyList<(string Quantity, IReadOnlyDictionary<string, SampleSummary> Residuals)> residuals, FlagOptions options) =>
        Of("The initial litter mass of its bags", "g", "0.000", Fillings(evidence.SelectMany(e => e.Fillings)), options)
            .Concat(residuals.SelectMany(r => Of(
                $"{r.Quantity} of its sites, as far as their covariates do not explain it,", "1", "0.00",
                r.Residuals.Where(x => x.Value.Count >= FewestSites).ToDictionary(StringComparer.Ordinal), options)));

    private static IEnumerable<Flag> Of(string quantity, string unit, string format, IReadOnlyDictionary<string, SampleSummary> readings, FlagOptions options)
    {
        if (ContributorBias.Of(readings).Value is not { } scores)
            yield break;
        foreach (ContributorScore score in scores.Scores.Where(s => Math.Abs(s.Score) > options.ContributorBiasLimit))
        {
            yield return FlagCatalogue.ContributorBias.Raise(score.Contributor, score.Contributor, string.Create(
                CultureInfo.InvariantCulture,
                $"{quantity} is on average {Math.Abs(score.Bias).ToString(format, CultureInfo.InvariantCulture)}{(unit == "g" ? " g" : "")} {(score.Bias > 0 ? "above" : "below")} what {scores.Scores.Count} contributions agree on ({score.Values} readings): {score.Score:0.0} standard deviations, limit {options.ContributorBiasLimit:0.0}."),
                score.Bias, options.ContributorBiasLimit * Math.Abs(score.Bias / score.Score), unit);
        }
    }

    /// <summary>For each contribution the differences of its bags from the consensus on their lot (g); lots that too few use are left out.</summary>
    internal static IReadOnlyDictionary<string, SampleSummary> Fillings(IEnumerable<FillingEvidence> fillings)
    {
        var differences = new List<(string ContributionId, int Bags, double Mean, double SumOfSquares)>();
        foreach (FillingEvidence[] lot in fillings.GroupBy(f => f.LotId, StringComparer.Ordinal).Select(g => g.ToArray()))
        {
            if (lot.Length >= ContributorBias.FewestContributors && RobustLocation.Of([.. lot.Select(f => f.MeanGrams)]).Value is { } consensus)
                differences.AddRange(lot.Select(f => (f.ContributionId, f.Bags, f.MeanGrams - consensus.Mean, f.SumOfSquares)));
        }

        return differences.GroupBy(d => d.ContributionId, StringComparer.Ordinal).ToDictionary(g => g.Key, g =>
        {
            int bags = g.Sum(d => d.Bags);
            double mean = g.Sum(d => d.Bags * d.Mean) / bags;
            double squares = g.Sum(d => d.SumOfSquares + d.Bags * (d.Mean - mean) * (d.Mean - mean));
            return new SampleSummary(bags, mean, bags > 1 ? Math.Sqrt(squares / (bags - 1)) : null, null, null);
        }, StringComparer.Ordinal);
    }
}
