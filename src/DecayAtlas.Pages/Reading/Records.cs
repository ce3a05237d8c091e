namespace DecayAtlas.Pages.Reading;

/// <summary>What a flag code means, told by whoever raises flags.</summary>
/// <param name="Severity">note, suspect or reject.</param>
/// <param name="On">The kind of record it stands on.</param>
public sealed record FlagMeaning(string Code, string Family, string Severity, string On, string Meaning, string Mend);

/// <summary>A contribution that was set aside. What was found in it is not known here: a cell may hold an exact place or a name.</summary>
public sealed record SetAsideFacts(string ContentHash, string? ContributionId, IReadOnlyList<ToMend> ToMend);

/// <summary>One thing to mend: where, what was expected, what to do.</summary>
public sealed record ToMend(string? File, string? Sheet, int? Row, string? Column, string Expected, string Mend)
{
    /// <summary>Code of the finding, by which a language says it in its own words.</summary>
    public string Code { get; init; } = "";
}
