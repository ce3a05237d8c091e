using DecayAtlas.Atlas;
using DecayAtlas.Atlas.Releases;
using DecayAtlas.Contributions;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.CrossCheck;
using DecayAtlas.Pipeline.Runs;
using DecayAtlas.Pipeline.Work;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>
/// Active contributions -> the rows of every contributor, by index, snap, flag and summarise. Only contributors whose inputs
/// changed are computed; the rows of the others stand.
/// </summary>
public sealed class ComputeStage
{
    /// <summary>Accepted contributions were judged under the limits of their day; reading them again needs none.</summary>
    internal static IntakeLimits NoLimits { get; } = new(long.MaxValue, long.MaxValue, int.MaxValue, int.MaxValue) { MaxCompressionRatio = int.MaxValue, MaxColumns = int.MaxValue, MaxSpreadsheetBytes = long.MaxValue, MaxSeconds = int.MaxValue };

    private readonly AtlasFolder _atlas;
    private readonly SharedInputs _shared;
    private readonly SnapMemory _snapped;
    private readonly RowMemory _rows;
    private readonly EvidenceMemory _evidence;
    private readonly ContributorWork _work;
    private readonly Ledger _ledger;
    private readonly IReadOnlyList<string> _unknown;
    private readonly Lock _recomputing = new();

    private ComputeStage(PipelineConfiguration configuration, HandOver? handOver)
    {
        _atlas = new AtlasFolder(configuration.Atlas);
        AtlasFolder.MakePrivate(_atlas.Cache);
        var intake = new Intake(configuration.Atlas, NoLimits);
        _shared = SharedInputs.Of(configuration);
        DecisionList decisions = configuration.Decisions is { } file ? DecisionList.Read(file) : DecisionList.None;
        _snapped = new SnapMemory(_atlas);
        _rows = new RowMemory(_atlas);
        _evidence = new EvidenceMemory(_atlas);
        _ledger = Ledger.Load(_atlas);

        IReadOnlyList<ContributionHeader> all = intake.AllHeaders();
        Dictionary<string, Survey> surveys = new SurveyMemory(_atlas, intake).Of(all);
        ILookup<string, string> sensitiveSites = all.SelectMany(h => surveys[h.ContentHash].SensitiveSites.Select(site => (h.ContributorId, site)))
            .ToLookup(x => x.ContributorId, x => x.site, StringComparer.Ordinal);
        IReadOnlyList<ContributorGroup> groups = ContributorGroup.Of(intake.ActiveHeaders(), decisions.Withdrawn, sensitiveSites);
        var lots = LotConsensus.Of(groups.SelectMany(g => g.Headers), surveys);
        _work = new ContributorWork(configuration, _shared, decisions, lots, _snapped, header => handOver?.Take(header) ?? intake.Read(header));
        Plan = WorkPlan.Make(groups, surveys, _shared, _work.KeyOf, _ledger);
        HashSet<string> known = [.. all.Select(h => h.ContributionId)];
        _unknown = [.. decisions.All.Select(d => d.ContributionId).Where(id => !known.Contains(id)).Distinct(StringComparer.Ordinal)
            .Select(id => $"contribution {id}, which the atlas does not have")];
    }

    internal WorkPlan Plan { get; }

    /// <summary>What the stage made.</summary>
    public sealed record Output : IStageOutput
    {
        internal Output(IReadOnlyList<PlannedContributor> contributors, Ledger ledger, int computed, IReadOnlyList<string> unknown)
        {
            (Contributors, Ledger, Computed) = (contributors, ledger, computed);
            Counts = WorkCounts.Sum([.. ledger.Contributors.Values.Select(e => e.Counts)]);
            IdleDecisions = [.. unknown, .. ledger.Contributors.Values.SelectMany(e => e.IdleDecisions)];
        }

        /// <summary>What decisions name and is not there.</summary>
        public IReadOnlyList<string> IdleDecisions { get; }

        internal IReadOnlyList<PlannedContributor> Contributors { get; }

        internal Ledger Ledger { get; }

        /// <summary>How many contributors were computed now.</summary>
        public int Computed { get; }

        /// <summary>Over all contributors.</summary>
        public WorkCounts Counts { get; }

        public string Sentence =>
            $"{Computed} of {Contributors.Count} contributors computed; {Counts.BurialsWithRate} of {Counts.Burials} burials have a k, {Counts.BurialsByUse.GetValueOrDefault("accepted")} are accepted";
    }

    /// <summary>How many places were sampled.</summary>
    public sealed record Sampled(int Places, int Grids) : IStageOutput
    {
        public string Sentence => Places == 0 ? "nothing to sample" : $"{Places} values sampled from {Grids} grids";
    }

    /// <summary>Reads what the stage needs, and plans; writes nothing but its memory.</summary>
    /// <param name="handOver">Contributions that were just read; no result depends on it.</param>
    public static ComputeStage Prepare(PipelineConfiguration configuration, HandOver? handOver = null) => new(configuration, handOver);

    /// <summary>Samples the grids at the places of the contributors to compute.</summary>
    public Sampled Snap(Action<string, int, int>? progress)
    {
        var stays = Stays.Of(Plan.ToCompute.Select(c => c.Stays));
        int sampled = 0, done = 0;
        foreach (GridInput grid in _shared.Grids)
        {
            progress?.Invoke(grid.Entry.Name, done++, _shared.Grids.Count);
            if (stays.Places.Count > 0)
                sampled += _snapped.Cover(grid, stays);
        }

        return new Sampled(sampled, _shared.Grids.Count);
    }

    /// <summary>Computes the contributors that the plan names, on all cores; the order of the results is that of the contributors.</summary>
    public Output Run(Action<string, int, int>? progress)
    {
        IReadOnlyList<PlannedContributor> todo = Plan.ToCompute;
        var entries = new LedgerEntry[todo.Count];
        int done = 0;
        Parallel.For(0, todo.Count, i =>
        {
            ContributorResult result = _work.Compute(todo[i].Group);
            _rows.Save(todo[i].Key, result.Rows);
            _evidence.Save(todo[i].Key, result.Evidence);
            entries[i] = EntryOf(todo[i], result);
            progress?.Invoke(todo[i].Group.ContributorId, Interlocked.Increment(ref done), todo.Count);
        });

        var contributors = new SortedDictionary<string, LedgerEntry>(StringComparer.Ordinal);
        foreach (PlannedContributor planned in Plan.Contributors.Where(c => c.Because is null))
            contributors[planned.Group.ContributorId] = _ledger.Contributors[planned.Group.ContributorId];
        for (int i = 0; i < todo.Count; i++)
            contributors[todo[i].Group.ContributorId] = entries[i];
        return new Output(Plan.Contributors, _ledger with { Contributors = contributors, Inputs = LastInputs.Of(_shared) }, todo.Count, _unknown);
    }

    /// <summary>The rows of a contributor for one file: remembered, or computed again where the memory is gone. Safe on several threads.</summary>
    internal RowRun RunOf(PlannedContributor planned, string file)
    {
        if (_rows.Load(planned.Key, file) is { } run)
            return run;

        // rare, so one at a time: the first computes the contributor, the others find it remembered
        lock (_recomputing)
            return _rows.Load(planned.Key, file) ?? Recompute(planned).Rows.RunOf(file);
    }

    /// <summary>What of a contributor is held against others: remembered, or computed again where the memory is gone. Safe on several threads.</summary>
    internal Evidence EvidenceOf(PlannedContributor planned)
    {
        if (_evidence.Load(planned.Key) is { } evidence)
            return evidence;
        lock (_recomputing)
            return _evidence.Load(planned.Key) ?? Recompute(planned).Evidence;
    }

    private ContributorResult Recompute(PlannedContributor planned)
    {
        foreach (GridInput grid in _shared.Grids)
            _snapped.Cover(grid, planned.Stays);
        ContributorResult result = _work.Compute(planned.Group);
        _rows.Save(planned.Key, result.Rows);
        _evidence.Save(planned.Key, result.Evidence);
        return result;
    }

    /// <summary>Keeps what this run used and forgets the rest.</summary>
    internal void Remember(Ledger ledger)
    {
        ledger.Save(_atlas);
        _rows.KeepOnly(ledger.Contributors.Values.Select(e => e.Key));
        _evidence.KeepOnly(ledger.Contributors.Values.Select(e => e.Key));
        _snapped.KeepOnly(_shared.Grids);
    }

    private static LedgerEntry EntryOf(PlannedContributor planned, ContributorResult result) => new(
        planned.Key,
        [.. planned.Group.Headers.Select(h => h.ContentHash)],
        new SortedDictionary<string, int>(result.Rows.RowsByFile.ToDictionary(StringComparer.Ordinal), StringComparer.Ordinal),
        [.. planned.Group.Headers.Select(h => h.Licence).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)],
        result.Counts,
        result.IdleDecisions);
}
