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
    private readonly IReadOnlyList<FailedContributor> _notPlanned;
    private readonly Dictionary<string, ContributionHeader> _accepted;
    private readonly IReadOnlyDictionary<string, Survey> _surveys;
    private readonly DecisionList _decisions;
    private readonly ReleaseWitness _witness;
    private readonly Lock _recomputing = new();

    private ComputeStage(PipelineConfiguration configuration, HandOver? handOver, Func<Contribution, Contribution>? passing)
    {
        _atlas = new AtlasFolder(configuration.Atlas);
        AtlasFolder.MakePrivate(_atlas.Cache);
        var intake = new Intake(configuration.Atlas, NoLimits);
        _shared = SharedInputs.Of(configuration);
        _decisions = DecisionList.Of(configuration);
        _witness = ReleaseWitness.Of(configuration, _decisions);
        _snapped = new SnapMemory(_atlas);
        _rows = new RowMemory(_atlas);
        _evidence = new EvidenceMemory(_atlas);
        _ledger = Ledger.Load(_atlas);

        IReadOnlyList<ContributionHeader> all = intake.AllHeaders();
        _accepted = all.ToDictionary(h => h.ContentHash, StringComparer.Ordinal);
        Func<Contribution, Contribution> pass = passing ?? (contribution => contribution);
        Contribution Read(ContributionHeader header)
        {
            try
            {
                return intake.Read(header);
            }
            catch (ContributionException e)
            {
                throw new NoLongerReadException(header, e);
            }
        }
        (_surveys, IReadOnlyDictionary<ContributionHeader, Wall.Hit> notSurveyed) = new SurveyMemory(_atlas, header => pass(Read(header))).Of(all);
        // which of its sites are to be hidden is not known of a contributor whose contributions can't all be read, older revisions among
        // them; what a decision withdrew may be gone, and the current release tells what of it was hidden
        _notPlanned = [.. notSurveyed.Where(x => !_decisions.Withdrawn.Contains(x.Key.ContributionId))
            .GroupBy(x => x.Key.ContributorId, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => new FailedContributor(g.Key, g.OrderBy(x => x.Key.ContentHash, StringComparer.Ordinal).First().Value, false))];
        HashSet<string> leftOut = [.. _notPlanned.Select(f => f.ContributorId)];
        ILookup<string, string> sensitiveSites = all.Where(h => !leftOut.Contains(h.ContributorId) && _surveys.ContainsKey(h.ContentHash))
            .SelectMany(h => _surveys[h.ContentHash].SensitiveSites.Select(site => (h.ContributorId, SiteId: site))).Concat(_witness.SensitiveSites())
            .ToLookup(x => x.ContributorId, x => x.SiteId, StringComparer.Ordinal);
        IReadOnlyList<ContributorGroup> groups = ContributorGroup.Of(
            intake.ActiveHeaders().Where(h => !leftOut.Contains(h.ContributorId)), _decisions.Withdrawn, sensitiveSites);
        var lots = LotConsensus.Of(groups.SelectMany(g => g.Headers), _surveys);
        _work = new ContributorWork(configuration, _shared, _decisions, lots, _snapped, header => pass(handOver?.Take(header) ?? Read(header)));
        Plan = WorkPlan.Make(groups, _surveys, _shared, _work.KeyOf, _ledger);
        HashSet<string> here = [.. all.Select(h => h.ContributionId)];
        Decision[] ofOthers = [.. _decisions.All.Where(d => !here.Contains(d.ContributionId))];
        // what is gone and withdrawn is told by the register, or where that is gone too by the release
        HashSet<string> gone = ofOthers.Length == 0 ? [] : [.. intake.Lost().Select(l => l.ContributionId), .. _witness.ContributionIds()];
        gone.IntersectWith(_decisions.Withdrawn);
        DecisionsOfGone = [.. ofOthers.Where(d => gone.Contains(d.ContributionId))];
        _unknown =
        [
            .. ofOthers.Select(d => d.ContributionId).Where(id => !gone.Contains(id)).Distinct(StringComparer.Ordinal)
                .Select(id => $"contribution {id}, which the atlas does not have"),
            .. DecisionsOfGone.Where(d => !d.IsWithdrawal).Select(ContributorWork.Describe),
        ];
    }

    internal WorkPlan Plan { get; }

    /// <summary>Decisions about withdrawn contributions of which the intake has nothing left, so that they have no contributor.</summary>
    internal IReadOnlyList<Decision> DecisionsOfGone { get; }

    /// <summary>What the stage made.</summary>
    public sealed record Output : IStageOutput
    {
        internal Output(
            IReadOnlyList<PlannedContributor> contributors, Ledger ledger, int computed, IReadOnlyList<string> unknown, IReadOnlyList<FailedContributor> failed)
        {
            (Contributors, Ledger, Computed, Unknown, Failed) = (contributors, ledger, computed, unknown, failed);
            Counts = WorkCounts.Sum([.. ledger.Contributors.Values.Select(e => e.Counts)]);
            IdleDecisions = [.. unknown, .. ledger.Contributors.Values.SelectMany(e => e.IdleDecisions)];
        }

        /// <summary>What decisions name and is not there.</summary>
        public IReadOnlyList<string> IdleDecisions { get; }

        internal IReadOnlyList<PlannedContributor> Contributors { get; }

        internal Ledger Ledger { get; }

        internal IReadOnlyList<string> Unknown { get; }

        /// <summary>Contributors that could not be computed, or not anew, in the order of their ids.</summary>
        internal IReadOnlyList<FailedContributor> Failed { get; }

        /// <summary>How many contributors were computed now.</summary>
        public int Computed { get; }

        /// <summary>Over all contributors.</summary>
        public WorkCounts Counts { get; }

        public string Sentence =>
            $"{Computed} of {Contributors.Count} contributors computed{(Failed.Count == 0 ? "" : $", {Failed.Count} failed")}; {Counts.BurialsWithRate} of {Counts.Burials} burials have a k, {Counts.BurialsByUse.GetValueOrDefault("accepted")} are accepted";
    }

    /// <summary>How many places were sampled.</summary>
    public sealed record Sampled(int Places, int Grids) : IStageOutput
    {
        public string Sentence => Places == 0 ? "nothing to sample" : $"{Places} values sampled from {Grids} grids";
    }

    /// <summary>Reads what the stage needs, and plans; writes nothing but its memory.</summary>
    /// <param name="handOver">Contributions that were just read; no result depends on it.</param>
    public static ComputeStage Prepare(PipelineConfiguration configuration, HandOver? handOver = null) => Prepare(configuration, handOver, null);

    /// <param name="passing">Every contribution goes through it on its way to be surveyed or computed.</param>
    internal static ComputeStage Prepare(PipelineConfiguration configuration, HandOver? handOver, Func<Contribution, Contribution>? passing) =>
        new(configuration, handOver, passing);

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
        var entries = new LedgerEntry?[todo.Count];
        var hits = new Wall.Hit?[todo.Count];
        int done = 0;
        Parallel.For(0, todo.Count, i =>
        {
            if (Wall.Round(() => _work.Compute(todo[i].Group), out hits[i]) is { } result)
            {
                _rows.Save(todo[i].Key, result.Rows);
                _evidence.Save(todo[i].Key, result.Evidence);
                entries[i] = EntryOf(todo[i], result);
            }

            progress?.Invoke(todo[i].Group.ContributorId, Interlocked.Increment(ref done), todo.Count);
        });

        var contributors = new SortedDictionary<string, LedgerEntry>(StringComparer.Ordinal);
        var failed = new List<FailedContributor>(_notPlanned);
        var planned = Plan.Contributors.ToDictionary(c => c.Group.ContributorId, StringComparer.Ordinal);
        foreach (PlannedContributor stands in Plan.Contributors.Where(c => c.Because is null))
            contributors[stands.Group.ContributorId] = _ledger.Contributors[stands.Group.ContributorId];
        for (int i = 0; i < todo.Count; i++)
        {
            string id = todo[i].Group.ContributorId;
            LedgerEntry? entry = entries[i] ?? EarlierOf(todo[i].Group);
            if (entry is null)
                planned.Remove(id);
            else
                contributors[id] = entry;
            if (hits[i] is not { } hit)
                continue;
            failed.Add(new FailedContributor(id, hit, entry is not null));
            if (entry is not null)
                planned[id] = todo[i] with { Key = entry.Key, IsEarlier = true };
        }

        return new Output(
            [.. Plan.Contributors.Select(c => planned.GetValueOrDefault(c.Group.ContributorId)).OfType<PlannedContributor>()],
            _ledger with { Contributors = contributors, Inputs = LastInputs.Of(_shared) }, entries.Count(e => e is not null), _unknown,
            [.. failed.OrderBy(f => f.ContributorId, StringComparer.Ordinal)]);
    }

    /// <summary>
    /// The rows of an earlier run, where they may stand for a contributor that could not be computed: they are all there, and tell nothing
    /// that was withdrawn or hidden since.
    /// </summary>
    private LedgerEntry? EarlierOf(ContributorGroup group)
    {
        if (_ledger.Contributors.GetValueOrDefault(group.ContributorId) is not { } entry || entry.Layout != RowLayout.Identity)
            return null;
        if (entry.Contents.Any(hash => !_accepted.TryGetValue(hash, out ContributionHeader? header) || _decisions.Withdrawn.Contains(header.ContributionId)))
            return null;
        HashSet<string> hiddenSince = [.. group.SensitiveSites.Except(entry.SensitiveSites, StringComparer.Ordinal)];
        if (entry.Contents.Any(hash => _surveys[hash].Places.Any(place => hiddenSince.Contains(place.SiteId))))
            return null;
        bool isWhole = entry.RowsByFile.Keys.All(file => _rows.Load(entry.Key, file) is not null) && _evidence.Load(entry.Key) is not null;
        return isWhole ? entry with { IsEarlier = true } : null;
    }

    /// <summary>The same without a contributor whose rows were lost and could not be computed again.</summary>
    internal static Output Without(Output computed, FailedContributor failed)
    {
        var contributors = new SortedDictionary<string, LedgerEntry>(computed.Ledger.Contributors, StringComparer.Ordinal);
        contributors.Remove(failed.ContributorId);
        return new Output(
            [.. computed.Contributors.Where(c => c.Group.ContributorId != failed.ContributorId)], computed.Ledger with { Contributors = contributors },
            computed.Computed, computed.Unknown,
            [.. computed.Failed.Where(f => f.ContributorId != failed.ContributorId).Append(failed).OrderBy(f => f.ContributorId, StringComparer.Ordinal)]);
    }

    /// <summary>Holds what would go out against the current release.</summary>
    /// <exception cref="LostContributionsException">Something that the current release holds would be missing.</exception>
    internal void RequireNothingLost(Output computed)
    {
        IReadOnlyList<LostContribution> lost = _witness.MissingFrom(computed.Ledger.Contributors.Values.SelectMany(e => e.Contents).Select(hash => _accepted[hash]));
        if (lost.Count == 0)
            return;
        Dictionary<string, string> contributorOf = _witness.Contributions.ToDictionary(c => c.ContributionId, c => c.ContributorId, StringComparer.Ordinal);
        throw LostContributionsException.OfRelease(lost, l => computed.Failed.FirstOrDefault(f => f.ContributorId == contributorOf[l.ContributionId]) is { } f
            ? $"its contributor {f.ContributorId} could not be computed: {f.Hit.Why}" : null);
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
        if (planned.IsEarlier)
            throw new ContributorFailedException(new FailedContributor(
                planned.Group.ContributorId, new Wall.Hit("its rows of an earlier run are gone", IsMistake: false), false));
        foreach (GridInput grid in _shared.Grids)
            _snapped.Cover(grid, planned.Stays);
        ContributorResult result = Wall.Round(() => _work.Compute(planned.Group), out Wall.Hit? hit)
            ?? throw new ContributorFailedException(new FailedContributor(planned.Group.ContributorId, hit!, false));
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
        result.IdleDecisions)
    {
        SensitiveSites = planned.Group.SensitiveSites,
        Layout = RowLayout.Identity,
    };
}
