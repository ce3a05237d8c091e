namespace DecayAtlas.Pipeline.Stages;

/// <summary>
/// Active contributions -> the rows of every contributor, by index, snap, flag and summarise. Only contributors whose inputs
/// changed are computed; the rows of the others stand.
/// </summary>
internal sealed class ComputeStage
{
    private const string LastRun = "last";

    /// <summary>Accepted contributions were judged under the limits of their day; reading them again needs none.</summary>
    public static IntakeLimits NoLimits { get; } = new()
    {
        MaxFileBytes = long.MaxValue,
        MaxPackageBytes = long.MaxValue,
        MaxFiles = int.MaxValue,
        MaxRows = int.MaxValue,
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

    /// <summary>Reads what the stage needs, and plans; writes nothing but its memory.</summary>
    /// <param name="justRead">Contributions that were just read; no result depends on it.</param>
    /// <param name="passing">Every contribution goes through it on its way to be computed.</param>
    public ComputeStage(PipelineConfiguration configuration, ReleaseWitness witness, KeptInMemory<Contribution>? justRead,
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
        ContributorWork work = new(configuration, _shared, _decisions, lots, _samples.Of,
            header => passing(justRead?.Take(header.ContentHash) is { } at && at.Header == header ? at : Read(header)));
        Kept = new KeptContributors(atlas, _samples, work);
        Plan = WorkPlan.Make(groups, _outlines, _shared, work.KeyOf, _before);
        HashSet<string> here = [.. all.Select(h => h.ContributionId)];
        Decision[] ofOthers = [.. _decisions.All.Where(d => !here.Contains(d.ContributionId))];
        // what is gone and withdrawn is told by the register, or where that is gone too by the release
        HashSet<string> gone = ofOthers.Length == 0 ? [] : [.. intake.Lost().Select(l => l.ContributionId), .. _witness.ContributionIds()];
        gone.IntersectWith(_decisions.Withdrawn);
        DecisionsOfGone = [.. ofOthers.Where(d => gone.Contains(d.ContributionId))];
        NotThere = [.. ofOthers.Select(d => d.ContributionId).Where(id => !gone.Contains(id)).Distinct(StringComparer.Ordinal)];
        _unknown =
        [
            .. NotThere.Select(SentenceOfNotThere),
            .. DecisionsOfGone.Where(d => !d.IsWithdrawal).Select(ContributorWork.Describe),
        ];

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

    /// <summary>Contributions that decisions name and the atlas does not have.</summary>
    public IReadOnlyList<string> NotThere { get; }

    public static string SentenceOfNotThere(string contributionId) => $"contribution {contributionId}, which the atlas does not have";

    public WorkPlan Plan { get; }

    public KeptContributors Kept { get; }

    /// <summary>Those in force for the contributions that are computed.</summary>
    public DecisionList DecisionsFor(Output computed) => _decisions.InForce([.. computed.Contributors.SelectMany(c => c.Group.Headers)]);

    /// <summary>Decisions about withdrawn contributions of which the intake has nothing left, so that they have no contributor.</summary>
    public IReadOnlyList<Decision> DecisionsOfGone { get; }

    /// <param name="Computed">How many contributors were computed now.</param>
    /// <param name="Unknown">What decisions name that is not there.</param>
    /// <param name="Failed">Contributors that could not be computed, or not anew, in the order of their ids.</param>
    public sealed record Output(
        IReadOnlyList<PlannedContributor> Contributors, WorkDone Done, int Computed, IReadOnlyList<string> Unknown,
        IReadOnlyList<FailedContributor> Failed) : IStageOutput
    {
        /// <summary>What decisions name and is not there, or is not flagged so.</summary>
        public IReadOnlyList<string> IdleDecisions => [.. Unknown, .. Done.Contributors.Values.SelectMany(e => e.IdleDecisions)];

        /// <summary>Entries of the vocabulary file for words that nobody sent.</summary>
        public IReadOnlyList<string> IdleWords { get; init; } = [];

        public WorkCounts Counts => WorkCounts.Sum([.. Done.Contributors.Values.Select(e => e.Counts)]);

        public Output Without(FailedContributor failed)
        {
            SortedDictionary<string, ComputedContributor> others = new(Done.Contributors, StringComparer.Ordinal);
            others.Remove(failed.ContributorId);
            return this with
            {
                Contributors = [.. Contributors.Where(c => c.ContributorId != failed.ContributorId)],
                Done = Done with { Contributors = others },
                Failed = [.. Failed.Where(f => f.ContributorId != failed.ContributorId).Append(failed)
                    .OrderBy(f => f.ContributorId, StringComparer.Ordinal)],
            };
        }

        public string Sentence
        {
            get
            {
                WorkCounts counts = Counts;
                return $"{Computed} of {Contributors.Count} contributors computed{(Failed.Count == 0 ? "" : $", {Failed.Count} failed")}; "
                    + $"{counts.BurialsWithRate} of {counts.Burials} burials have a k, {counts.BurialsThatCount} count";
            }
        }
    }

    public sealed record Sampled(int Places, int Grids) : IStageOutput
    {
        public string Sentence => Places == 0 ? "nothing to sample" : $"{Places} values sampled from {Grids} grids";
    }

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
            progress?.Invoke(todo[i].ContributorId, Interlocked.Increment(ref done), todo.Count);
        });

        SortedDictionary<string, ComputedContributor> contributors = new(StringComparer.Ordinal);
        List<FailedContributor> failed = new(_notPlanned);
        List<PlannedContributor> standing = [];
        int next = 0;   // in the contributors to compute, which stand in the plan in the same order
        foreach (PlannedContributor planned in Plan.Contributors)
        {
            string id = planned.ContributorId;
            (ComputedContributor? entry, WorkFailure? failure) =
                planned.Because is null ? (_before.Contributors[id], null) : (entries[next], failures[next++]);
            if (failure is not null)
            {
                entry = EarlierOf(planned.Group);
                failed.Add(new FailedContributor(id, failure, entry is not null));
            }

            if (entry is null)
                continue;
            contributors[id] = entry;
            standing.Add(failure is null ? planned : planned with { Key = entry.Key, IsEarlier = true });
        }

        return new Output(
            standing, _before with { Contributors = contributors, Inputs = LastInputs.Of(_shared) }, entries.Count(e => e is not null),
            _unknown, [.. failed.OrderBy(f => f.ContributorId, StringComparer.Ordinal)])
        {
            IdleWords = [.. _shared.Words.Entries.Except(contributors.Values.SelectMany(c => c.LocalWords), StringComparer.Ordinal)],
        };
    }

    /// <summary>
    /// The rows of an earlier run, where they may stand for a contributor that could not be computed: they are all there, and tell nothing
    /// that was withdrawn or hidden since.
    /// </summary>
    private ComputedContributor? EarlierOf(ContributorGroup group)
    {
        if (_before.Contributors.GetValueOrDefault(group.ContributorId) is not { } entry)
            return null;
        HashSet<string> hiddenSince = [.. group.SensitiveSites.Except(entry.SensitiveSites, StringComparer.Ordinal)];
        return entry.Contents.All(hash => _accepted.TryGetValue(hash, out ContributionHeader? header)
                && !_decisions.Withdrawn.Contains(header.ContributionId)
                && !_outlines[hash].Places.Any(place => hiddenSince.Contains(place.SiteId)))
            && Kept.Has(entry) ? entry with { IsEarlier = true } : null;
    }

    /// <exception cref="LostContributionsException">Something that the current release holds would be missing.</exception>
    public void RequireNothingLost(Output computed)
    {
        IReadOnlyList<LostContribution> lost =
            _witness.MissingFrom(computed.Done.Contributors.Values.SelectMany(e => e.Contents).Select(hash => _accepted[hash]));
        if (lost.Count > 0)
            throw LostContributionsException.OfRelease(lost, Why);

        string? Why(LostContribution contribution)
        {
            string of = _witness.Contributions.First(c => c.ContributionId == contribution.ContributionId).ContributorId;
            return computed.Failed.FirstOrDefault(f => f.ContributorId == of) is { } failed
                ? $"its contributor {of} could not be computed: {failed.Failure.Why}" : null;
        }
    }

    /// <summary>Keeps what this run used and forgets the rest.</summary>
    public void Remember(WorkDone done)
    {
        _done.Save(LastRun, done);
        Kept.KeepOnly([.. done.Contributors.Values.Select(e => e.Key)]);
        _samples.KeepOnly(done.Contributors.Keys);
        _outlineCache.KeepOnly(_accepted.Values);
    }

    private static ComputedContributor EntryOf(PlannedContributor planned, ContributorResult result) => new(
        planned.Key,
        [.. planned.Group.Headers.Select(h => h.ContentHash)],
        [.. result.Rows.Select(run => run.Key)],
        [.. planned.Group.Headers.Select(h => h.Licence).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)],
        result.Counts,
        result.IdleDecisions)
    {
        SensitiveSites = planned.Group.SensitiveSites,
        LocalWords = result.LocalWords,
    };
}
