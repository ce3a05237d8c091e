namespace DecayAtlas.Pipeline.Runs;

/// <summary>What a run would do, worked out without doing it.</summary>
/// <param name="Contributors">How many contributors there are, those that are in the inbox for the first time among them.</param>
public sealed record RunPlan(IReadOnlyList<PlannedIntake> Inbox, IReadOnlyList<PlannedComputation> ToCompute, int Contributors)
{
    /// <summary>Decisions that would find nothing, as far as that is known before anything is computed.</summary>
    public IReadOnlyList<string> IdleDecisions { get; init; } = [];

    /// <summary>Reads the inbox and the atlas, and writes nothing but the atlas's own memory.</summary>
    /// <exception cref="FailedRunException">It could not be worked out.</exception>
    public static RunPlan Make(PipelineConfiguration configuration)
    {
        try
        {
            return WorkOut(configuration);
        }
        catch (Exception e)
        {
            throw new FailedRunException(null, e);
        }
    }

    private static RunPlan WorkOut(PipelineConfiguration configuration)
    {
        using AtlasLock held = AtlasLock.Take(new AtlasFolder(configuration.Atlas));
        if (configuration is { Map: { } map, Train: { } train })
            MapStage.Foresee(map, train, SharedInputs.CatalogueOf(configuration));
        Dictionary<string, string> contributors = new(StringComparer.Ordinal);
        List<ContributionHeader> coming = [];
        Intake intake = new(configuration.Atlas, configuration.Limits, code: SharedInputs.CodeIdentity);
        IReadOnlyList<IntakeResult> foreseen = intake.Foresee(configuration.Inbox, c =>
        {
            contributors[c.Header.ContentHash] = c.Header.ContributorId;
            coming.Add(c.Header);
        });
        ReleaseWitness witness = ReleaseWitness.Of(configuration);
        witness.RequireAllIn(intake, coming);
        PlannedIntake[] inbox =
            [.. foreseen.Select(result => PlannedIntake.Of(PublicIntake.Of(result), contributors.GetValueOrDefault(result.ContentHash)))];
        ComputeStage compute = new(configuration, witness, null, contribution => contribution);
        List<PlannedComputation> computations = [
            .. compute.Plan.ToCompute.Select(c => new PlannedComputation(c.ContributorId, c.Because!))];
        computations.AddRange(inbox.Where(i => i.ContributorId is not null && computations.All(c => c.ContributorId != i.ContributorId))
            .Select(i => i.ContributorId!).Distinct(StringComparer.Ordinal)
            .Select(id => new PlannedComputation(id, "a new contribution is in the inbox")).ToArray());
        return new RunPlan(inbox, [.. computations.OrderBy(c => c.ContributorId, StringComparer.Ordinal)], compute.Plan.Contributors
            .Select(c => c.ContributorId).Union(computations.Select(c => c.ContributorId), StringComparer.Ordinal).Count())
        {
            IdleDecisions = ForeseenDecisions.Idle(configuration, compute, coming),
        };
    }
}

/// <summary>One thing in the inbox: what would become of it, and the contributor it would change.</summary>
/// <param name="Name">Not what it is called in the inbox, but its contribution id and the first digits of its content hash.</param>
public sealed record PlannedIntake(string Name, string Outcome, string? ContributorId, string? FirstFinding)
{
    internal static PlannedIntake Of(PublicIntake foreseen, string? contributorId) => foreseen.Outcome switch
    {
        IntakeOutcome.Accepted => new PlannedIntake(foreseen.Name, "would be accepted", contributorId, null),
        IntakeOutcome.AcceptedLate =>
            new PlannedIntake(foreseen.Name, "would be accepted as history, since a higher revision counts", null, null),
        IntakeOutcome.Quarantined => new PlannedIntake(foreseen.Name, "would be quarantined", null, QuarantinedNow.Describe(foreseen)),
        _ => new PlannedIntake(foreseen.Name, AtlasCode.Of(foreseen.Outcome), null, null),
    };
}

public sealed record PlannedComputation(string ContributorId, string Because);
