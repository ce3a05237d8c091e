using System.Text.Json.Nodes;

namespace DecayAtlas.Pipeline.Tests;

/// <summary>An atlas of a few small contributions, and nights over it in this process.</summary>
internal sealed class SmallAtlas : IDisposable, IRunObserver
{
    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-nights-").FullName;

    public SmallAtlas(string more = "")
    {
        File.WriteAllText(PathOf("p.yaml"), "version: 1\natlas: atlas\ninbox: inbox\ndecisions: d.yaml\n" + more);
        Withdraw();
        Directory.CreateDirectory(PathOf("inbox"));
    }

    public PipelineConfiguration Read() => ConfigurationReader.Read(PathOf("p.yaml"));

    public AtlasFolder Atlas => new(PathOf("atlas"));

    public string PathOf(string path) => Path.Combine(_folder, path);

    /// <summary>The schema's own example under another name and contributor.</summary>
    public SmallAtlas Receives(string name, string contributor, int revision = 1, Func<string, string, string>? edit = null)
    {
        string to = Directory.CreateDirectory(PathOf($"inbox/{name}-{revision}")).FullName;
        foreach (string file in Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "example")))
        {
            string text = File.ReadAllText(file);
            if (Path.GetFileName(file) == "datapackage.json")
            {
                JsonNode descriptor = JsonNode.Parse(text)!;
                (descriptor["name"], descriptor["contributor"], descriptor["revision"]) = (name, contributor, revision);
                text = descriptor.ToJsonString();
            }

            File.WriteAllText(Path.Combine(to, Path.GetFileName(file)), edit?.Invoke(Path.GetFileName(file), text) ?? text);
        }

        return this;
    }

    public void Withdraw(params string[] contributions) => File.WriteAllText(PathOf("d.yaml"), contributions.Length == 0
        ? "version: 1\ndecisions: []\n"
        : "version: 1\ndecisions:\n"
            + string.Concat(contributions.Select(c => $"  - {{ withdraw: {c}, by: curator, on: \"2025-03-01\", because: it is gone }}\n")));

    public void EmptyInbox()
    {
        Directory.Delete(PathOf("inbox"), recursive: true);
        Directory.CreateDirectory(PathOf("inbox"));
    }

    /// <summary>One night, and its record whether it failed or not.</summary>
    /// <param name="passing">Every contribution goes through it on its way to be computed.</param>
    public RunRecord Night(Func<Contribution, Contribution>? passing = null)
    {
        try
        {
            return Flow.Execute(Read(), this, "all",
                null, passing ?? (contribution => contribution)).Record;
        }
        catch (FailedRunException failed)
        {
            return failed.Record!;
        }
    }

    /// <summary>The contributions of the current release with their revisions.</summary>
    public string[] Released() =>
        [.. new ReleaseReader(Atlas).Rows(AtlasTables.Contributions).Select(c => $"{c.ContributionId} {c.Revision}")
            .Order(StringComparer.Ordinal)];

    /// <summary>The contributions that the decisions of the current release are about.</summary>
    public string[] Decided() => [.. new ReleaseReader(Atlas).Rows(AtlasTables.Decisions).Select(d => d.ContributionId)];

    public IReadOnlyList<Rot> Verify(params string[] withdrawn) =>
        Verification.Of(Atlas, null, withdrawn.ToHashSet(StringComparer.Ordinal)).Rotten;

    public string IntakeOf(string contribution) =>
        new Intake(Atlas.Root, IntakeLimits.Default, mayWrite: false).AllHeaders().Last(h => h.ContributionId == contribution).ContentHash;

    /// <summary>All that the runs wrote about themselves.</summary>
    public string Told => string.Concat(Directory.GetFiles(PathOf("atlas/runs")).Select(File.ReadAllText));

    public string Summary => File.ReadAllText(PathOf("atlas/runs/" + NightSummary.FileName));

    public void StageStarted(string stage) { }

    public void StageProgressed(string stage, string what, int done, int of) { }

    public void StageFinished(string stage, string sentence) { }

    public void Dispose() => Directory.Delete(_folder, recursive: true);
}
