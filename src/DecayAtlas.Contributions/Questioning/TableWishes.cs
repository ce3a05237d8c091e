namespace DecayAtlas.Contributions.Questioning;

/// <summary>How a sender wants a file to be read, where the program guesses wrong.</summary>
/// <param name="HeaderRow">1-based row of the names of columns.</param>
public sealed record TableWishes(string? Sheet = null, char? Separator = null, int? HeaderRow = null);
