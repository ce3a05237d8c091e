namespace DecayAtlas.Pipeline.Flags;

/// <summary>The hydrolysable fraction that most contributions state for each lot (of several stated equally often, the lowest).</summary>
public sealed class LotConsensus
{
    private readonly Dictionary<string, double> _usual;
    private readonly Dictionary<string, IReadOnlyList<string>> _lotsOf;

    private LotConsensus(Dictionary<string, double> usual, Dictionary<string, IReadOnlyList<string>> lotsOf) =>
        (_usual, _lotsOf) = (usual, lotsOf);

    public double UsualFraction(string lotId) => _usual[lotId];

    /// <summary>The consensus on the lots that contributions use: what their flags depend on.</summary>
    internal IEnumerable<string> Described(IEnumerable<string> contentHashes) => contentHashes
        .SelectMany(hash => _lotsOf[hash]).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)
        .Select(lot => Invariant($"{lot} {_usual[lot]:R}"));

    internal static LotConsensus Of(IEnumerable<(string ContentHash, IEnumerable<(string LotId, double Fraction)> Lots)> contributions)
    {
        (string ContentHash, (string LotId, double Fraction)[] Lots)[] all =
            contributions.Select(c => (c.ContentHash, Lots: c.Lots.ToArray())).ToArray();
        Dictionary<string, double> usual = all.SelectMany(c => c.Lots).GroupBy(l => l.LotId, StringComparer.Ordinal).ToDictionary(
            lot => lot.Key,
            lot => lot.GroupBy(l => l.Fraction).OrderByDescending(g => g.Count()).ThenBy(g => g.Key).First().Key,
            StringComparer.Ordinal);
        Dictionary<string, IReadOnlyList<string>> lotsOf = new(StringComparer.Ordinal);
        foreach ((string hash, (string LotId, double Fraction)[] lots) in all)
            lotsOf[hash] = [.. lots.Select(l => l.LotId)];
        return new LotConsensus(usual, lotsOf);
    }
}
