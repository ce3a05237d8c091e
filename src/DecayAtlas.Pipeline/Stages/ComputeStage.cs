namespace DecayAtlas.Pipeline.Stages;

/// <summary>
/// Active contributions -> the rows of every contributor, by index, snap, flag and summarise. Only contributors whose inputs
/// changed are computed; the rows of the others stand.
/// </summary>
public sealed class ComputeStage
{
    private const string LastRun = "last";

    /// <summary>Accepted contributions were judged under the limits of their day; reading them again needs none.</summary>
    internal static IntakeLimits NoLimits { get; } = new(long.MaxValue, long.MaxValue, int.MaxValue, int.MaxValue)
    {
        MaxCompressionRatio = int.MaxValue,
        MaxColumns = int.MaxValue,
        MaxSpreadsheetBytes = long.MaxValue,
        MaxSeconds = int.MaxValue,
    };

    private readonly SharedInputs _shared;
    private readonly OutlineCache _outlineCache;
    private readonly GridSamples _samples;
    private readonly Cache<WorkDone> _done;
    private readonly WorkDone _before;
    private readonly IReadOnlyList<string> _unknown;
    private readonly IReadOnlyList<FailedContributor> _notPlanned;
    private readonly Dictionary<string, ContributionHeader> _accepted;
    private readonly IReadOnlyDictionary<string, ContributionOutline> _outlines;
    private readonly DecisionList _decisions;
    private readonly ReleaseWitness _witness;

    private ComputeStage(PipelineConfiguration configuration, ReleaseWitness witness, KeptInMemory<Contribution>? justRead,
        Func<Contribution, Contribution> passing)
    {
        AtlasFolder atlas = new(configuration.Atlas);
        AtlasFolder.MakePrivate(atlas.Cache);
        Intake intake = new(configuration.Atlas, NoLimits);
        _shared = SharedInputs.Of(configuration);
        _decisions = DecisionsFile.Of(configuration);
        _witness = witness;
        _outlineCache = new OutlineCache(atlas);
        _samples = new GridSamples(atlas, _shared.Grids);
        _done = new Cache<WorkDone>(atlas, "done");
        _before = _done.Load(LastRun) ?? new WorkDone();

        IReadOnlyList<ContributionHeader> all = intake.AllHeaders();
        _accepted = all.ToDictionary(h => h.ContentHash, StringComparer.Ordinal);
        (_outlines, IReadOnlyDictionary<ContributionHeader, WorkFailure> notRead) = _outlineCache.Of(all, header => passing(Read(header)));
        // which of its sites are to be hidden is not known of a contributor whose contributions can't all be read, older revisions among
        // them; what a decision withdrew may be gone, and the current release tells what of it was hidden
        _notPlanned = [.. notRead.Where(x => !_decisions.Withdrawn.Contains(x.Key.ContributionId))
            .GroupBy(x => x.Key.ContributorId, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => new FailedContributor(g.Key, g.OrderBy(x => x.Key.ContentHash, StringComparer.Ordinal).First().Value, false))];
        HashSet<string> leftOut = [.. _notPlanned.Select(f => f.ContributorId)];
        ILookup<string, string> sensitiveSites = all.Where(h => !leftOut.Contains(h.ContributorId) && _outlines.ContainsKey(h.ContentHash))
            .SelectMany(h => _outlines[h.ContentHash].SensitiveSites.Select(site => (h.ContributorId, SiteId: site)))
            .Concat(_witness.SensitiveSites())
            .ToLookup(x => x.ContributorId, x => x.SiteId, StringComparer.Ordinal);
        IReadOnlyList<ContributorGroup> groups = ContributorGroup.Of(
            intake.ActiveHeaders().Where(h => !leftOut.Contains(h.ContributorId)), _decisions.Withdrawn, sensitiveSites);
        LotConsensus lots = LotConsensus.Of(groups.SelectMany(g => g.Headers)
            .Select(h => (h.ContentHash, _outlines[h.ContentHash].Lots.Select(l => (l.LotId, l.HydrolysableFraction)))));
        ContributorWork work = new(configuration, _shared, _decisions, lots,
            _samples.Of, header => passing(JustRead(header) ?? Read(header)));
        Kept = new KeptContributors(atlas, _samples, work);
        Plan = WorkPlan.Make(groups, _outlines, _shared, work.KeyOf, _before);
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

        Contribution? JustRead(ContributionHeader header) => justRead?.Take(header.ContentHash) is { } at && at.Header == header ? at
            : null;

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
    }

    internal WorkPlan Plan { get; }

    internal KeptContributors Kept { get; }

    /// <summary>Decisions about withdrawn contributions of which the intake has nothing left, so that they have no contributor.</summary>
    internal IReadOnlyList<Decision> DecisionsOfGone { get; }

    /// <summary>What the stage made.</summary>
    public sealed record Output : IStageOutput
    {
        private readonly IReadOnlyList<string> _unknown;

        internal Output(
            IReadOnlyList<PlannedContributor> contributors, WorkDone done, int computed, IReadOnlyList<string> unknown,
            IReadOnlyList<FailedContributor> failed)
        {
            (Contributors, Done, Computed, _unknown, Failed) = (contributors, done, computed, unknown, failed);
            Counts = WorkCounts.Sum([.. done.Contributors.Values.Select(e => e.Counts)]);
            IdleDecisions = [.. unknown, .. done.Contributors.Values.SelectMany(e => e.IdleDecisions)];
        }

        /// <summary>What decisions name and is not there.</summary>
        public IReadOnlyList<string> IdleDecisions { get; }

        internal IReadOnlyList<PlannedContributor> Contributors { get; }

        internal WorkDone Done { get; }

        /// <summary>Contributors that could not be computed, or not anew, in the order of their ids.</summary>
        internal IReadOnlyList<FailedContributor> Failed { get; }

        /// <summary>How many contributors were computed now.</summary>
        public int Computed { get; }

        /// <summary>The same without a contributor whose rows were lost and could not be computed again.</summary>
        internal Output Without(FailedContributor failed)
        {
            SortedDictionary<string, ComputedContributor> others = new(Done.Contributors, StringComparer.Ordinal);
            others.Remove(failed.ContributorId);
            return new Output(
                [.. Contributors.Where(c => c.Group.ContributorId != failed.ContributorId)], Done with { Contributors = others }, Computed,
                _unknown,
                [.. Failed.Where(f => f.ContributorId != failed.ContributorId).Append(failed)
                    .OrderBy(f => f.ContributorId, StringComparer.Ordinal)]);
        }

        /// <summary>Over all contributors.</summary>
        public WorkCounts Counts { get; }

        public string Sentence =>
            $"{Computed} of {Contributors.Count} contributors computed{(Failed.Count == 0 ? "" : $", {Failed.Count} "
            + "failed")}; {Counts.BurialsWithRate} of {Counts.Burials} burials have a k, {Counts.BurialsByUse
                .GetValueOrDefault("accepted")} are accepted";
    }

    /// <summary>How many places were sampled.</summary>
    public sealed record Sampled(int Places, int Grids) : IStageOutput
    {
        public string Sentence => Places == 0 ? "nothing to sample" : $"{Places} values sampled from {Grids} grids";
    }

    /// <summary>Reads what the stage needs, and plans; writes nothing but its memory.</summary>
    /// <param name="witness">What the current release holds.</param>
    /// <param name="justRead">Contributions that were just read; no result depends on it.</param>
    /// <param name="passing">Every contribution goes through it on its way to be computed.</param>
    internal static ComputeStage Prepare(
        PipelineConfiguration configuration, ReleaseWitness witness, KeptInMemory<Contribution>? justRead,
        Func<Contribution, Contribution> passing) => new(configuration, witness, justRead, passing);

    /// <summary>Samples the grids at the places of the contributors to compute.</summary>
    public Sampled Snap(Action<string, int, int>? progress) => new(_samples.Cover(Plan.ToCompute, progress), _shared.Grids.Count);

    /// <summary>Computes the contributors that the plan names, on all cores; the order of the results is that of the
    /// contributors.</summary>
    public Output Run(Action<string, int, int>? progress)
    {
        IReadOnlyList<PlannedContributor> todo = Plan.ToCompute;
        ComputedContributor?[] entries = new ComputedContributor?[todo.Count];
        WorkFailure?[] failures = new WorkFailure?[todo.Count];
        int done = 0;
        Parallel.For(0, todo.Count, i =>
        {
            if (Kept.Compute(todo[i], out failures[i]) is { } result)
                entries[i] = EntryOf(todo[i], result);
            progress?.Invoke(todo[i].Group.ContributorId, Interlocked.Increment(ref done), todo.Count);
        });

        SortedDictionary<string, ComputedContributor> contributors = new(StringComparer.Ordinal);
        List<FailedContributor> failed = new(_notPlanned);
        Dictionary<string, PlannedContributor> planned = Plan.Contributors.ToDictionary(c => c.Group.ContributorId, StringComparer.Ordinal);
        foreach (PlannedContributor stands in Plan.Contributors.Where(c => c.Because is null))
            contributors[stands.Group.ContributorId] = _before.Contributors[stands.Group.ContributorId];
        for (int i = 0; i < todo.Count; i++)
        {
            string id = todo[i].Group.ContributorId;
            ComputedContributor? entry = entries[i] ?? EarlierOf(todo[i].Group);
            if (entry is null)
                planned.Remove(id);
            else
                contributors[id] = entry;
            if (failures[i] is not { } failure)
                continue;
            failed.Add(new FailedContributor(id, failure, entry is not null));
            if (entry is not null)
                planned[id] = todo[i] with { Key = entry.Key, IsEarlier = true };
        }

        return new Output(
            [.. Plan.Contributors.Select(c => planned.GetValueOrDefault(c.Group.ContributorId)).OfType<PlannedContributor>()],
            _before with { Contributors = contributors, Inputs = LastInputs.Of(_shared) }, entries.Count(e => e is not null), _unknown,
            [.. failed.OrderBy(f => f.ContributorId, StringComparer.Ordinal)]);
    }

    /// <summary>
    /// The rows of an earlier run, where they may stand for a contributor that could not be computed: they are all there, and tell nothing
    /// that was withdrawn or hidden since.
    /// </summary>
    private ComputedContributor? EarlierOf(ContributorGroup group)
    {
        if (_before.Contributors.GetValueOrDefault(group.ContributorId) is not { } entry)
            return null;
        if (entry.Contents
            .Any(hash => !_accepted.TryGetValue(hash, out ContributionHeader? header)
                || _decisions.Withdrawn.Contains(header.ContributionId)))
        {
            return null;
        }

        HashSet<string> hiddenSince = [.. group.SensitiveSites.Except(entry.SensitiveSites, StringComparer.Ordinal)];
        if (entry.Contents.Any(hash => _outlines[hash].Places.Any(place => hiddenSince.Contains(place.SiteId))))
            return null;
        return Kept.Has(entry) ? entry with { IsEarlier = true } : null;
    }

    /// <summary>Holds what would go out against the current release.</summary>
    /// <exception cref="LostContributionsException">Something that the current release holds would be missing.</exception>
    internal void RequireNothingLost(Output computed)
    {
        IReadOnlyList<LostContribution> lost =
            _witness.MissingFrom(computed.Done.Contributors.Values.SelectMany(e => e.Contents).Select(hash => _accepted[hash]));
        if (lost.Count == 0)
            return;
        Dictionary<string, string> contributorOf =
            _witness.Contributions.ToDictionary(c => c.ContributionId, c => c.ContributorId, StringComparer.Ordinal);
        throw LostContributionsException.OfRelease(lost,
            l => computed.Failed.FirstOrDefault(f => f.ContributorId == contributorOf[l.ContributionId]) is { } f
            ? $"its contributor {f.ContributorId} could not be computed: {f.Failure.Why}" : null);
    }

    /// <summary>Keeps what this run used and forgets the rest.</summary>
    internal void Remember(WorkDone done)
    {
        _done.Save(LastRun, done);
        Kept.KeepOnly([.. done.Contributors.Values.Select(e => e.Key)]);
        _samples.KeepOnly(done.Contributors.Keys);
        _outlineCache.KeepOnly(_accepted.Values);
    }

    private static ComputedContributor EntryOf(PlannedContributor planned, ContributorResult result) => new(
        planned.Key,
        [.. planned.Group.Headers.Select(h => h.ContentHash)],
        new SortedDictionary<string, int>(result.Rows.RowsByFile.ToDictionary(StringComparer.Ordinal), StringComparer.Ordinal),
        [.. planned.Group.Headers.Select(h => h.Licence).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)],
        result.Counts,
        result.IdleDecisions)
    {
        SensitiveSites = planned.Group.SensitiveSites,
    };
}
