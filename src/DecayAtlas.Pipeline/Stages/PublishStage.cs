using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Tables;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.Runs;
using DecayAtlas.Pipeline.Work;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>
/// Computed rows -> a release, unless nothing changed. A file whose rows come from the same contributors under the same keys as
/// before is the same file, and its part is used again. Each core holds the rows of one file at a time.
/// </summary>
public static class PublishStage
{
    /// <summary>The release that is current now.</summary>
    public sealed record Output(ReleaseOutcome Release, int PartsWritten, int PartsUsedAgain) : IStageOutput
    {
        public string Sentence => Release.IsNew
            ? $"release {Release.Release}: {PartsWritten} parts written, {PartsUsedAgain} used again"
            : $"nothing changed: release {Release.Release} stands, no release was written";
    }

    public static Output Run(
        PipelineConfiguration configuration, ComputeStage compute, ComputeStage.Output computed, CrossCheckStage.Output crossChecked, Action<string, int, int>? progress)
    {
        var atlas = new AtlasFolder(configuration.Atlas);
        var writer = new PartWriter(atlas);
        IReadOnlyList<PartPlan> plans = PlansOf(computed);
        var known = plans.ToDictionary(p => p.Key, p => computed.Ledger.Parts.GetValueOrDefault(p.Key), StringComparer.Ordinal);
        PartPlan[] toWrite = [.. plans.Where(p => known[p.Key] is not { } part || !writer.Has(part))];

        int done = 0;
        var written = new ReleaseFile[toWrite.Length];
        Parallel.For(0, toWrite.Length, i =>
        {
            written[i] = writer.Write(toWrite[i].File, [.. toWrite[i].Contributors.Select(c => compute.RunOf(c, toWrite[i].File))]);
            progress?.Invoke(toWrite[i].File, Interlocked.Increment(ref done), toWrite.Length);
        });
        for (int i = 0; i < toWrite.Length; i++)
            known[toWrite[i].Key] = written[i];

        List<ReleaseFile> files = [.. plans.Select(p => known[p.Key]!)];
        ReleaseFile? across = crossChecked.Flags is { } flags ? (flags.Count == 0 ? null : writer.WriteFlags(CrossCheckStage.FileName, flags)) : crossChecked.Result.File;
        if (across is not null)
            files.Add(across);
        files.AddRange(AtlasTables.All.Where(t => files.All(f => f.Table != t.Name)).Select(writer.WriteEmpty).ToArray());
        string exportKey = WorkKey.Of(["sites.geojson", .. files.Where(IsSites).Select(f => f.Sha256)]);
        ReleaseFile export = computed.Ledger.Parts.GetValueOrDefault(exportKey) is { } before && writer.Has(before)
            ? before
            : writer.WriteGeoJson(files.Where(IsSites));
        files.Add(export);

        var parts = new SortedDictionary<string, ReleaseFile>(StringComparer.Ordinal) { [exportKey] = export };
        foreach (PartPlan plan in plans)
            parts[plan.Key] = known[plan.Key]!;
        writer.Flush();
        compute.Remember(computed.Ledger with { Parts = parts, CrossCheck = crossChecked.Result with { File = across } });

        ReleaseOutcome outcome = new ReleaseWriter(atlas).Publish(files, StatementOf(configuration, computed));
        return new Output(outcome, toWrite.Length, plans.Count - toWrite.Length);
    }

    /// <summary>One file of a release and the contributors whose rows it holds, in order.</summary>
    private sealed record PartPlan(string File, string Key, IReadOnlyList<PlannedContributor> Contributors, int Rows);

    private static IReadOnlyList<PartPlan> PlansOf(ComputeStage.Output computed) =>
    [
        .. computed.Contributors
            .SelectMany(c => computed.Ledger.Contributors[c.Group.ContributorId].RowsByFile.Select(f => (File: f.Key, Rows: f.Value, Contributor: c)))
            .GroupBy(x => x.File, StringComparer.Ordinal)
            .Select(g => new PartPlan(g.Key, WorkKey.Of([g.Key, .. g.Select(x => x.Contributor.Key)]), [.. g.Select(x => x.Contributor)], g.Sum(x => x.Rows)))
            .OrderBy(p => p.File, StringComparer.Ordinal),
    ];

    private static bool IsSites(ReleaseFile file) => file.Table == AtlasTables.Sites.Name;

    private static ReleaseStatement StatementOf(PipelineConfiguration configuration, ComputeStage.Output computed) => new(
        configuration.Title,
        configuration.Publisher,
        SharedInputs.SettingsOf(configuration),
        SharedInputs.CodeVersion,
        [.. computed.Ledger.Contributors.Values.SelectMany(e => e.Licences).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)]);
}
