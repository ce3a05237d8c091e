namespace DecayAtlas.Pages.Reading;

/// <summary>The pages could not be made; the message is one sentence for a person.</summary>
public sealed class PagesException : Exception
{
    public PagesException(string message) : base(message)
    {
    }

    public PagesException(string message, Exception inner) : base(message, inner)
    {
    }
}
