namespace DecayAtlas.Contributions.Words;

/// <summary>Whom a report is for.</summary>
/// <param name="Words">Of its language.</param>
/// <param name="Called">What a campaign file calls the group, with its campaign; null where none names it.</param>
public sealed record Addressee(Phrases Words, string? Called);
