namespace DecayAtlas.Pages.Reading;

/// <summary>What a flag code means, told by whoever raises flags.</summary>
/// <param name="Severity">note, suspect or reject.</param>
/// <param name="On">The kind of record it stands on.</param>
/// <param name="IsToCheck">Whether the group is asked to look, though it is but a note.</param>
public sealed record FlagMeaning(
    string Code, string Family, string Severity, string On, string Meaning, string Mend, bool IsToCheck = false);
