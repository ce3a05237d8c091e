namespace DecayAtlas.Pipeline.CrossCheck;

/// <summary>Contributions whose readings lie off those of all: a balance that reads high, litter that was not dried.</summary>
internal sealed record BiasCheck() : FlagDefinition(
    FlagFamily.Outlier, "contributor-bias", Severity.Note, RecordKind.Contribution,
    "The contribution as a whole lies off what the others say: its bags weigh more or less before burial than other groups' bags of "
    + "the same lots, as on a balance that reads high, or with a wrong tare; or k or S of its sites is higher or lower than their "
    + "covariates let expect, as when litter was not dried.",
    "|z| > contributor_bias_limit (by default the action limit of ISO 13528:2015). z = (mean - robust mean of the contributions)/√(τ² "
    + "+ s²/n), with τ the robust standard deviation between contributions and s that within them. Initial litter masses: less the "
    + "consensus on the lot, for lots that 5 contributions use. ln k and S: residuals of the regression behind surprise, contributions "
    + "with 3 sites or more, sensitive sites left out. measured: how far off; limit: how far off it might be.",
    "Check the balance with a known mass, the tare of the lots, and the drying. A bias of both weighings hardly moves k.")
{
    public override bool CastsDoubt => true;

    [Setting("contributor_bias_limit", "standard deviations, 2 or more",
        "Distance from the consensus beyond which a contribution is noted: 3 is the action limit of ISO 13528:2015, 9.4", Least = 2)]
    public double ContributorBiasLimit { get; init; } = 3;

    /// <summary>Fewest sites with a residual for a contribution to be judged by its decay.</summary>
    private const int FewestSites = 3;

    /// <param name="residuals">By quantity: what each contribution's sites differ from what their covariates let expect.</param>
    public IEnumerable<Flag> Raise(
        IReadOnlyList<Evidence> evidence,
        IReadOnlyList<(string Quantity, IReadOnlyDictionary<string, SampleSummary> Residuals)> residuals) =>
        Of("The initial litter mass of its bags", "g", "0.000", Fillings(evidence.SelectMany(e => e.Fillings)))
            .Concat(residuals.SelectMany(r => Of(
                $"{r.Quantity} of its sites, as far as their covariates do not explain it,", "1", "0.00",
                r.Residuals.Where(x => x.Value.Count >= FewestSites).ToDictionary(StringComparer.Ordinal))));

    private IEnumerable<Flag> Of(string quantity, string unit, string format, IReadOnlyDictionary<string, SampleSummary> readings)
    {
        if (ContributorBias.Of(readings).Value is not { } scores)
            yield break;
        foreach (ContributorScore score in scores.Where(s => Math.Abs(s.Score) > ContributorBiasLimit))
        {
            yield return FlagOn(score.Contributor, score.Contributor, new(string.Create(InvariantCulture,
                $"{quantity} is on average "
                + $"{Math.Abs(score.Bias).ToString(format, InvariantCulture)}{(unit == "g" ? " g" : "")} "
                + $"{(score.Bias > 0 ? "above" : "below")} what {scores.Length} contributions agree on ({score.Values} "
                + $"readings): {score.Score:0.0} standard deviations, limit {ContributorBiasLimit:0.0}."),
                score.Bias, ContributorBiasLimit * Math.Abs(score.Bias / score.Score), unit));
        }
    }

    /// <summary>For each contribution the differences of its bags from the consensus on their lot (g); lots that too few use are left
    /// out.</summary>
    internal static IReadOnlyDictionary<string, SampleSummary> Fillings(IEnumerable<FillingEvidence> fillings)
    {
        List<(string ContributionId, int Bags, double Mean, double SumOfSquares)> differences = new();
        foreach (FillingEvidence[] lot in fillings.GroupBy(f => f.LotId, StringComparer.Ordinal).Select(g => g.ToArray()))
        {
            if (lot.Length >= ContributorBias.FewestContributors
                && RobustLocation.Of([.. lot.Select(f => f.MeanGrams)]).Value is { } consensus)
            {
                differences.AddRange(lot.Select(f => (f.ContributionId, f.Bags, f.MeanGrams - consensus.Mean, f.SumOfSquares)));
            }
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
