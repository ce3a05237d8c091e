namespace DecayAtlas.Contributions;

/// <summary>
/// What lies in the quarantine, by all that something else may come in its place by: read once, so that a thousand broken contributions
/// do not have a thousand others read a thousand times.
/// </summary>
internal sealed class QuarantineIndex
{
    private readonly Dictionary<string, HashSet<string>> _hashesBy = new(StringComparer.Ordinal);

    public QuarantineIndex(IEnumerable<QuarantineReport> reports)
    {
        foreach (QuarantineReport report in reports)
            Add(report);
    }

    public void Add(QuarantineReport report)
    {
        foreach (string key in KeysOf(report).Where(key => key.Length > 0))
        {
            if (!_hashesBy.TryGetValue(key, out HashSet<string>? hashes))
                _hashesBy[key] = hashes = new HashSet<string>(StringComparer.Ordinal);
            hashes.Add(report.ContentHash);
        }
    }

    /// <summary>Content hashes, in order, of what a contribution may come in place of.</summary>
    public IReadOnlyList<string> Like(PackageReading reading) =>
    [
        .. new[] { ByTable(reading.TableSha256), ByHash(reading.MappingSha256), ByContribution(reading.ContributionId), BySource(reading.Name) }
            .SelectMany(key => _hashesBy.GetValueOrDefault(key, [])).Where(hash => hash != reading.ContentHash)
            .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal),
    ];

    private static string[] KeysOf(QuarantineReport report) =>
        [ByTable(report.TableSha256), ByHash(report.ContentHash), ByContribution(report.ContributionId), BySource(report.Source)];

    // what is missing is like nothing: no key of a report looks so
    private static string ByTable(string? sha256) => sha256 is null ? "" : "table " + sha256;

    private static string ByHash(string? hash) => hash is null ? "" : "hash " + hash;

    private static string ByContribution(string? id) => id is null ? "" : "id " + id;

    private static string BySource(string source) => "source " + source;
}
