namespace DecayAtlas.Pipeline.Contributors;

/// <summary>A contributor that could not be computed, or not anew.</summary>
/// <param name="HasEarlierRows">Whether its rows of an earlier run stand; else it is left out.</param>
internal sealed record FailedContributor(string ContributorId, WorkFailure Failure, bool HasEarlierRows);

/// <summary>Rows that had to be computed again could not be, when other stages were under way already.</summary>
internal sealed class ContributorFailedException(FailedContributor failed) : Exception(failed.Failure.Why)
{
    public FailedContributor Failed { get; } = failed;

    /// <summary>The failure in what was thrown; work on several threads wraps it.</summary>
    public static FailedContributor? In(Exception thrown) => thrown is AggregateException many
        ? many.Flatten().InnerExceptions.OfType<ContributorFailedException>()
            .MinBy(e => e.Failed.ContributorId, StringComparer.Ordinal)?.Failed
        : (thrown as ContributorFailedException)?.Failed;
}

/// <summary>An accepted contribution that can't be read, or no longer passes the checks. Says where it lies, and nothing that stands in
/// it.</summary>
internal sealed class NoLongerReadException(ContributionHeader header, Exception inner) : Exception(
    Invariant($"the accepted contribution {header.ContributionId}, revision {header.Revision}, in ")
    + Invariant($"intake/{header.ContentHash} ")
    + $"can't be read or no longer passes the checks (run decayatlas verify, and restore intake/{header.ContentHash} from a backup; "
    + "or take that folder out of the intake and put the contribution into the inbox again)", inner);
