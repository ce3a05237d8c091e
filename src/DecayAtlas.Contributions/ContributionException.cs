namespace DecayAtlas.Contributions;

/// <summary>
/// The surroundings failed (disk full, folder read-only, a file changed while it was read): nothing about the
/// contribution itself. The message is one sentence for the person who runs the command. What is wrong
/// inside a contribution is never an exception but a <see cref="Finding"/>.
/// </summary>
public sealed class ContributionException : Exception
{
    public ContributionException(string message) : base(message) { }

    public ContributionException(string message, Exception innerException) : base(message, innerException) { }

    /// <summary>Does what the operating system may refuse. Its own words name files of the senders, and what a run says is for
    /// everybody.</summary>
    /// <param name="refused">What then could not be done, as the beginning of a sentence.</param>
    internal static T Guard<T>(string refused, Func<T> work, string mend = "mend that")
    {
        try
        {
            return work();
        }
        catch (Exception fault) when (StorageFault.Is(fault))
        {
            throw new ContributionException($"{refused} because {StorageFault.PlainReason(fault)}; {mend} and run again.", fault);
        }
    }
}
