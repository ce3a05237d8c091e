namespace DecayAtlas.Contributions.Receiving;

/// <summary>
/// What lies in the quarantine and may still be answered, by all that something else may come in its place by: in memory and without the
/// findings, so that a thousand broken contributions do not have a thousand others read a thousand times.
/// </summary>
internal sealed class QuarantineIndex
{
    private readonly Dictionary<string, QuarantineReport> _reports = [];
    private readonly Dictionary<string, HashSet<string>> _hashesBy = [];

    public QuarantineIndex(IEnumerable<QuarantineReport> reports)
    {
        foreach (QuarantineReport report in reports)
            Add(report);
    }

    public void Add(QuarantineReport report)
    {
        Remove(report.ContentHash);
        _reports[report.ContentHash] = report with { Findings = [] };
        foreach (string key in KeysOf(report))
        {
            if (!_hashesBy.TryAdd(key, [report.ContentHash]))
                _hashesBy[key].Add(report.ContentHash);
        }
    }

    public void Remove(string hash)
    {
        if (!_reports.Remove(hash, out QuarantineReport? report))
            return;
        foreach (string key in KeysOf(report))
            _hashesBy[key].Remove(hash);
    }

    /// <summary>What a contribution may come in place of, without findings, in order of the content hashes.</summary>
    public IReadOnlyList<QuarantineReport> Like(PackageReading reading) =>
    [
        .. KeysOf(reading.TableSha256, reading.MappingSha256, reading.ContributionId, reading.Name)
            .SelectMany(key => _hashesBy.GetValueOrDefault(key, [])).Where(hash => hash != reading.ContentHash)
            .Distinct().Order(StringComparer.Ordinal).Select(hash => _reports[hash]),
    ];

    private static IEnumerable<string> KeysOf(QuarantineReport report) =>
        KeysOf(report.TableSha256, report.ContentHash, report.ContributionId, report.Source);

    /// <param name="file">A mapping that comes with its table answers the one that came alone, whose content it is.</param>
    private static IEnumerable<string> KeysOf(string? table, string? file, string? contributionId, string source) =>
        new[] { ("table", table), ("file", file), ("id", contributionId), ("source", source) }
            .Where(key => key.Item2 is not null).Select(key => $"{key.Item1} {key.Item2}");
}
