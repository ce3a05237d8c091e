namespace DecayAtlas.Demo;

/// <summary>A failure the user can mend; the message is one clear sentence.</summary>
public sealed class DemoException : Exception
{
    public DemoException(string message)
        : base(message)
    {
    }

    public DemoException(string message, Exception cause)
        : base(message, cause)
    {
    }
}
