namespace DecayAtlas.Pipeline.Work;

/// <summary>Stands round the work on one contributor, so that what fails there stops nobody else.</summary>
internal static class Wall
{
    /// <summary>What came against the wall, said without anything that was received.</summary>
    /// <param name="Why">A clause: what happened.</param>
    /// <param name="IsMistake">Whether the program made a mistake; else what it works on is not what it was.</param>
    internal sealed record Hit(string Why, bool IsMistake);

    /// <summary>Does the work; <see langword="null"/> where it failed for reasons of its own.</summary>
    /// <remarks>What many share (the machine, the disk, a grid, the configuration) goes through: the next contributor would fail too.</remarks>
    public static T? Round<T>(Func<T> work, out Hit? hit) where T : class
    {
        hit = null;
        try
        {
            return work();
        }
        catch (NoLongerReadException fault)
        {
            hit = new Hit(fault.Message, IsMistake: false);
        }
        catch (Exception fault) when (OurMistake.Is(fault) && fault is not (StorageException or GridException or ConfigurationException))
        {
            hit = new Hit($"the program made a mistake, {OurMistake.Of(fault)}", IsMistake: true);
        }

        return null;
    }
}

/// <summary>An accepted contribution that can't be read, or no longer passes the checks. Says where it lies, and nothing that stands in it.</summary>
internal sealed class NoLongerReadException(ContributionHeader header, Exception inner) : Exception(
    FormattableString.Invariant($"the accepted contribution {header.ContributionId}, revision {header.Revision}, in intake/{header.ContentHash} ")
    + $"can't be read or no longer passes the checks (run decayatlas verify, and restore intake/{header.ContentHash} from a backup; "
    + "or take that folder out of the intake and put the contribution into the inbox again)", inner);

/// <summary>A contributor that could not be computed, or not anew.</summary>
/// <param name="Hit">What happened.</param>
/// <param name="HasEarlierRows">Whether its rows of an earlier run stand; else it is left out.</param>
internal sealed record FailedContributor(string ContributorId, Wall.Hit Hit, bool HasEarlierRows);

/// <summary>Rows that had to be computed again could not be, when other stages were under way already.</summary>
internal sealed class ContributorFailedException(FailedContributor failed) : Exception(failed.Hit.Why)
{
    public FailedContributor Failed { get; } = failed;

    /// <summary>The failure in what was thrown; work on several threads wraps it.</summary>
    public static FailedContributor? In(Exception thrown) => thrown is AggregateException many
        ? many.Flatten().InnerExceptions.OfType<ContributorFailedException>().MinBy(e => e.Failed.ContributorId, StringComparer.Ordinal)?.Failed
        : (thrown as ContributorFailedException)?.Failed;
}
