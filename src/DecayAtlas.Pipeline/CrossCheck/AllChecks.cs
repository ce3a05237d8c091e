namespace DecayAtlas.Pipeline.CrossCheck;

/// <summary>The evidence of all contributors -> notes on what stands apart among all of them.</summary>
internal static class AllChecks
{
    /// <summary>The flags in key order, and what could not be judged, and why.</summary>
    public static (IReadOnlyList<Flag> Flags, IReadOnlyList<string> NotJudged) Raise(IReadOnlyList<Evidence> evidence,
        IReadOnlyList<FlagDefinition> flagsToRaise)
    {
        IReadOnlyList<SurpriseCheck.Result> surprise = The<SurpriseCheck>().Raise(evidence);
        (IReadOnlyList<Flag> apart, int judged) = The<MultivariateCheck>().Raise(evidence);
        IEnumerable<Flag> flags = surprise.SelectMany(s => s.Flags).Concat(apart).Concat(The<PastedCheck>().Raise(evidence))
            .Concat(The<BiasCheck>().Raise(evidence, [.. surprise.Where(s => s.NotJudged is null).Select(s => (s.Quantity, s.Residuals))]));
        return (
            [.. flags.OrderBy(f => f.Record).ThenBy(f => f.Code, StringComparer.Ordinal).ThenBy(f => f.Explanation, StringComparer.Ordinal)
                .Distinct()],
            [
                .. surprise.Where(s => s.NotJudged is not null).Select(s => $"surprise in {s.Quantity} not judged: {s.NotJudged}"),
                .. judged == 0 ? ["multivariate outliers not judged: too few replicates"] : Array.Empty<string>(),
            ]);

        TFlag The<TFlag>() => flagsToRaise.OfType<TFlag>().Single();
    }
}
