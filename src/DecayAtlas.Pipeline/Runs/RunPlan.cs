using DecayAtlas.Atlas;
using DecayAtlas.Contributions;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.Stages;

namespace DecayAtlas.Pipeline.Runs;

/// <summary>What a run would do, worked out without doing it.</summary>
/// <param name="Inbox">Each thing in the inbox and what would become of it.</param>
/// <param name="ToCompute">Each contributor that would be computed, and why.</param>
/// <param name="Contributors">How many contributors there are.</param>
public sealed record RunPlan(IReadOnlyList<PlannedIntake> Inbox, IReadOnlyList<PlannedComputation> ToCompute, int Contributors)
{
    /// <summary>Reads the inbox and the atlas, and writes nothing but the atlas's own memory.</summary>
    public static RunPlan Make(PipelineConfiguration configuration)
    {
        var atlas = new AtlasFolder(configuration.Atlas);
        PlannedIntake[] inbox =
        [
            .. Directory.EnumerateFileSystemEntries(configuration.Inbox).Order(StringComparer.Ordinal)
                .Select(path => PlannedIntake.Of(path, atlas, configuration.Limits)),
        ];
        using var held = AtlasLock.Take(atlas);
        var compute = ComputeStage.Prepare(configuration);
        List<PlannedComputation> computations = [.. compute.Plan.ToCompute.Select(c => new PlannedComputation(c.Group.ContributorId, c.Because!))];
        computations.AddRange(inbox.Where(i => i.ContributorId is not null && computations.All(c => c.ContributorId != i.ContributorId))
            .Select(i => i.ContributorId!).Distinct(StringComparer.Ordinal).Select(id => new PlannedComputation(id, "a new contribution is in the inbox")).ToArray());
        return new RunPlan(inbox, [.. computations.OrderBy(c => c.ContributorId, StringComparer.Ordinal)], compute.Plan.Contributors.Count);
    }
}

/// <summary>One thing in the inbox: what would become of it, and the contributor it would change.</summary>
public sealed record PlannedIntake(string Name, string Outcome, string? ContributorId, string? FirstFinding)
{
    internal static PlannedIntake Of(string path, AtlasFolder atlas, IntakeLimits limits)
    {
        string name = Path.GetFileName(path);
        ReadResult read = ContributionReader.Read(path, limits);
        if (read.ContentHash.Length > 0 && Directory.Exists(Path.Combine(atlas.Root, "intake", read.ContentHash)))
            return new PlannedIntake(name, "already-known", null, null);
        if (read.ContentHash.Length > 0 && Directory.Exists(Path.Combine(atlas.Root, "quarantine", read.ContentHash)))
            return new PlannedIntake(name, "already-quarantined", null, null);
        return read.Contribution is { } contribution
            ? new PlannedIntake(name, "would be accepted", contribution.Header.ContributorId, null)
            : new PlannedIntake(name, "would be quarantined", null, QuarantinedNow.Describe(read.Findings[0]));
    }
}

/// <summary>A contributor that would be computed, and why.</summary>
public sealed record PlannedComputation(string ContributorId, string Because);
