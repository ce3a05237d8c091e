namespace DecayAtlas.Pipeline.CrossCheck;

/// <summary>The evidence of all contributors -> notes on what stands apart among all of them.</summary>
internal static class AllChecks
{
    /// <summary>The flags in key order, and what could not be judged, and why.</summary>
    public static (IReadOnlyList<Flag> Flags, IReadOnlyList<string> NotJudged) Raise(IReadOnlyList<Evidence> evidence, FlagOptions options)
    {
        IReadOnlyList<SurpriseCheck.Result> surprise = SurpriseCheck.Raise(evidence, options);
        (IReadOnlyList<Flag> apart, int judged) = MultivariateCheck.Raise(evidence, options);
        IEnumerable<Flag> flags = surprise.SelectMany(s => s.Flags).Concat(apart).Concat(PastedCheck.Raise(evidence, options))
            .Concat(BiasCheck.Raise(evidence, [.. surprise.Where(s => s.NotJudged is null).Select(s => (s.Quantity, s.Residuals))], options));
        return (
            [.. flags.OrderBy(f => f.Record).ThenBy(f => f.Code, StringComparer.Ordinal).ThenBy(f => f.Explanation, StringComparer.Ordinal).Distinct()],
            [
                .. surprise.Where(s => s.NotJudged is not null).Select(s => $"surprise in {s.Quantity} not judged: {s.NotJudged}"),
                .. judged == 0 ? ["multivariate outliers not judged: too few replicates"] : Array.Empty<string>(),
            ]);
    }
}
