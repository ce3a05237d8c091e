namespace DecayAtlas.Contributions;

/// <summary>
/// The surroundings failed (disk full, folder read-only, a file changed while it was read): nothing about the
/// contribution itself. The message is one sentence for the person who runs the command. What is wrong
/// inside a contribution is never an exception but a <see cref="Finding"/>.
/// </summary>
public sealed class ContributionException : Exception
{
    public ContributionException()
    {
    }

    public ContributionException(string message)
        : base(message)
    {
    }

    public ContributionException(string message, Exception innerException)
        : base(message, innerException)
    {
    }
}
