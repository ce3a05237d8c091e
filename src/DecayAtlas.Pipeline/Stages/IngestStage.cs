namespace DecayAtlas.Pipeline.Stages;

/// <summary>The inbox -> what was accepted, what was quarantined, and what was known.</summary>
public static class IngestStage
{
    /// <summary>A bag with its texts, as measured with a million of them.</summary>
    private const long BytesPerBag = 400;

    /// <param name="Restored">What was missing from the intake and came from the inbox, in the same or a higher revision.</param>
    public sealed record Output(
        IReadOnlyList<IntakeResult> Taken, IReadOnlyList<IntakeResult> StillOpen, IReadOnlyList<LostContribution> Restored) : IStageOutput
    {
        /// <summary>Revisions that lack burials of the one before.</summary>
        public IReadOnlyList<ReplacedBurials> Replaced { get; init; } = [];

        public string Sentence =>
            $"{Count(IntakeOutcome.Accepted) + Count(IntakeOutcome.AcceptedLate)} accepted, {Count(IntakeOutcome.Quarantined)} "
            + $"quarantined, {Count(IntakeOutcome.AlreadyKnown) + Count(IntakeOutcome.AlreadyQuarantined)} known"
            + string.Concat(Replaced.Select(replaced => $"; {replaced.Sentence}"));

        private int Count(IntakeOutcome outcome) => Taken.Count(t => t.Outcome == outcome);
    }

    internal static Output Run(
        PipelineConfiguration configuration, Action<string, int, int>? progress, KeptInMemory<Contribution>? justRead = null)
    {
        if (!Directory.Exists(configuration.Inbox))
        {
            throw new ConfigurationException($"{configuration.Path}: inbox {configuration.Inbox} does not exist; make the folder or "
                + "correct the path.");
        }

        AtlasFolder atlas = new(configuration.Atlas);
        AtlasFolder.MakePrivate(atlas.Cache);
        OutlineCache outlines = new(atlas);
        Intake intake = new(configuration.Atlas, configuration.Limits, code: SharedInputs.CodeIdentity,
            addresseeOf: (id, campaign) => CampaignFiles.AddresseeOf(configuration, id, campaign),
            daysOf: campaign => CampaignFiles.DaysOf(configuration.Campaigns, campaign));
        IReadOnlyList<LostContribution> lost = LostButComing(configuration, intake);
        IReadOnlyList<IntakeResult> taken = intake.TakeInbox(configuration.Inbox, progress, contribution =>
        {
            outlines.Remember(contribution);
            justRead?.Offer(contribution.Header.ContentHash, contribution, BytesPerBag
                * (contribution.Bags.Count + contribution.Sites.Count + contribution.Lots.Count + contribution.Samples.Count));
        });
        intake.WriteWaiting(taken);
        return new Output(taken, intake.StillOpen(), lost) { Replaced = ReplacedBy(taken, intake) };
    }

    /// <summary>What a revision lacks of the one before it; nothing where there is none, or one of the two is gone, which is told
    /// elsewhere.</summary>
    internal static ReplacedBurials? ReplacedBy(ContributionHeader header, Intake intake)
    {
        ContributionHeader? earlier = intake.AllHeaders().LastOrDefault(other => other.ContributionId == header.ContributionId
            && other.Revision < header.Revision);
        try
        {
            return earlier is null ? null : ReplacedBurials.Of(intake.Read(header), intake.Read(earlier));
        }
        catch (ContributionException)
        {
            return null;
        }
    }

    private static IReadOnlyList<ReplacedBurials> ReplacedBy(IReadOnlyList<IntakeResult> taken, Intake intake)
    {
        HashSet<string> accepted = [.. taken.Where(one => one.Outcome == IntakeOutcome.Accepted).Select(one => one.ContentHash)];
        return accepted.Count == 0 ? [] : [.. intake.ActiveHeaders().Where(header => header.Revision > 1
            && accepted.Contains(header.ContentHash)).Select(header => ReplacedBy(header, intake)).OfType<ReplacedBurials>()];
    }

    /// <summary>Holds the intake against the current release and its own register.</summary>
    /// <exception cref="LostContributionsException">Something is gone that no decision withdraws.</exception>
    internal static ReleaseWitness RequireNothingLost(PipelineConfiguration configuration)
    {
        ReleaseWitness witness = ReleaseWitness.Of(configuration);
        witness.RequireAllIn(new Intake(configuration.Atlas, configuration.Limits));
        return witness;
    }

    /// <summary>
    /// Nothing is taken into an intake that lost something, unless the inbox brings all of it back: the intake may only not be mounted,
    /// and what is taken in meanwhile would contradict it, or be hidden by it.
    /// </summary>
    private static IReadOnlyList<LostContribution> LostButComing(PipelineConfiguration configuration, Intake intake)
    {
        ReleaseWitness witness = ReleaseWitness.Of(configuration);
        IReadOnlyList<LostContribution> lost = witness.LostFrom(intake);
        if (lost.Count == 0)
            return lost;
        List<ContributionHeader> coming = [];
        intake.Foresee(configuration.Inbox, contribution => coming.Add(contribution.Header));
        witness.RequireAllIn(intake, coming);
        return lost;
    }
}
