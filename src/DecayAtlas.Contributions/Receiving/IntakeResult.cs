namespace DecayAtlas.Contributions.Receiving;

/// <summary>What became of one received thing.</summary>
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
/// <param name="ContributionId">Null when the descriptor could not be read.</param>
/// <param name="Findings">Empty when accepted; those of the earlier report when quarantined before.</param>
public sealed record IntakeResult(string Source, IntakeOutcome Outcome, string ContentHash, string? ContributionId,
    IReadOnlyList<Finding> Findings)
{
    /// <summary>What this program did wrong over it, where it could not be examined.</summary>
    public OurMistake? Mistake { get; init; }
}
