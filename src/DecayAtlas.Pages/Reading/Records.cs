namespace DecayAtlas.Pages.Reading;

/// <summary>What a flag code means, told by whoever raises flags.</summary>
/// <param name="Severity">note, suspect or reject.</param>
/// <param name="On">The kind of record it stands on.</param>
public sealed record FlagMeaning(
    string Code, string Family, string Severity, string On, string Meaning, string Mend)
{
    /// <summary>Whether the group is asked to look, though it is but a note.</summary>
    public bool IsToCheck { get; init; }

    /// <summary>Whether it says again what the group told by itself.</summary>
    public bool IsAsTold { get; init; }

    /// <summary>Whether it is about a production lot, which is the campaign's.</summary>
    public bool IsOfLot { get; init; }
}
