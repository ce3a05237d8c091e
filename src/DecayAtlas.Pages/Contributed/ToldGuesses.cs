namespace DecayAtlas.Pages.Contributed;

/// <summary>What the check of an accepted contribution guessed, without a word of its sender's.</summary>
/// <param name="IsKit">Of a kit people see sheets with headings.</param>
public sealed record ToldGuesses(bool IsKit, IReadOnlyList<PublicFinding> Findings);
