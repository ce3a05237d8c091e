[assembly: AssemblyFixture(typeof(DecayAtlas.Demo.Tests.ScenarioFixture))]

namespace DecayAtlas.Demo.Tests;

/// <summary>One scenario, made once, read with the real reader, looked at by every test.</summary>
public sealed class ScenarioFixture : IDisposable
{
    public const int Seed = 2026;

    private readonly string _root = Directory.CreateTempSubdirectory("decayatlas-demo-").FullName;

    public ScenarioFixture()
    {
        Folder = Path.Combine(_root, "scenario");
        Summary = Scenario.Make(new DemoOptions(Folder, Seed), null);
        Planted = PlantedFaults.Load(Folder);
        Results = Directory.EnumerateFileSystemEntries(Path.Combine(Folder, "inbox"))
            .OrderBy(path => path, StringComparer.Ordinal)
            .ToDictionary(path => Path.GetFileName(path).Replace(".zip", "", StringComparison.Ordinal),
                path => ContributionReader.Read(path, IntakeLimits.Default));
        Contributions = [.. Results.Values.Select(result => result.Contribution).OfType<Contribution>()];
    }

    public string Folder { get; }

    public ScenarioSummary Summary { get; }

    public IReadOnlyList<PlantedFault> Planted { get; }

    public IReadOnlyDictionary<string, ReadResult> Results { get; }

    public IReadOnlyList<Contribution> Contributions { get; }

    /// <summary>Whether a contribution digs up at several dates, so that its bags are listed for their exposure.</summary>
    public bool IsSeries(string contributionId) =>
        Planted.Any(fault => fault.ContributionId == contributionId && fault.FollowsFrom == "retrieval-series");

    public string NewFolder(string name) => Path.Combine(_root, name);

    /// <param name="but">A code that does not count.</param>
    public bool IsListed(string contributionId, string recordType, string recordId, string? but = null) => Planted.Any(fault =>
        fault.ContributionId == contributionId && fault.RecordType == recordType && fault.RecordId == recordId && fault.Code != but);

    public void Dispose() => Directory.Delete(_root, recursive: true);
}
