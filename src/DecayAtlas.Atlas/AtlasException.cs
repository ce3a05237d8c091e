namespace DecayAtlas.Atlas;

/// <summary>Something about the atlas on disk that its user can act on; the message is one sentence meant for that user.</summary>
public sealed class AtlasException : Exception
{
    public AtlasException(string message) : base(message) { }

    public AtlasException(string message, Exception inner) : base(message, inner) { }
}
