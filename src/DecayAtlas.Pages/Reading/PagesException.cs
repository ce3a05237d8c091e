namespace DecayAtlas.Pages.Reading;

/// <summary>The pages could not be made; the message is one sentence for a person.</summary>
public sealed class PagesException(string message, Exception? inner = null) : Exception(message, inner);
