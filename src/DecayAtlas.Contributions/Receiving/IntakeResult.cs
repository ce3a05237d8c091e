namespace DecayAtlas.Contributions.Receiving;

public enum IntakeOutcome
{
    /// <summary>Valid, and now in the intake.</summary>
    Accepted,

    /// <summary>Valid and in the intake as history: a higher revision of it was accepted before, and counts.</summary>
    AcceptedLate,

    /// <summary>Not valid, and now in the quarantine with a report.</summary>
    Quarantined,

    /// <summary>The same content was accepted before; nothing was done.</summary>
    AlreadyKnown,

    /// <summary>The same content was quarantined before; nothing was done.</summary>
    AlreadyQuarantined,
}

/// <param name="Source">Name of the received folder or file, as it may be shown.</param>
/// <param name="Findings">Empty when accepted; those of the earlier report when quarantined before.</param>
public sealed record IntakeResult(string Source, IntakeOutcome Outcome, string ContentHash, string? ContributionId,
    IReadOnlyList<Finding> Findings)
{
    /// <summary>What was received under the name of the finding's file, and of which nothing is kept.</summary>
    internal static IntakeResult NotKept(Finding finding, string? contributionId = null) =>
        new(finding.File, IntakeOutcome.Quarantined, "", contributionId, [finding]);

    /// <summary>The group that sent it, where it was set aside and what it says of itself could be read.</summary>
    public string? ContributorId { get; init; }

    /// <summary>The id of the campaign that it is of, in the same cases.</summary>
    public string? Campaign { get; init; }

    /// <summary>What kind of thing was sent, where it was set aside.</summary>
    public ContributionFormat? Format { get; init; }

    /// <summary>How many burials, or means in their place, the revision held that it takes the place of, and how many it holds, where
    /// these are less than half.</summary>
    public (int Before, int Now)? Shrunk { get; init; }

    /// <summary>What this program did wrong over it, where it could not be examined.</summary>
    public OurMistake? Mistake { get; init; }
}
