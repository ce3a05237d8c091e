namespace DecayAtlas.Atlas.Records;

/// <summary>How much a flag weighs on the use of its record.</summary>
public enum Severity
{
    /// <summary>Worth knowing; the record stays accepted.</summary>
    Note,

    /// <summary>Probably wrong or not comparable; left out of summaries and models until a person decides.</summary>
    Suspect,

    /// <summary>Can't be right, or is not the standard measurement.</summary>
    Reject,
}

/// <summary>One finding about one record, with the numbers that raised it where there are any.</summary>
/// <param name="Code">Stable kebab-case code; the documentation has a section of that name.</param>
public sealed record Flag(
    RecordKey Record, string Code, Severity Severity, double? Measured, double? Limit, string? Unit, string Explanation)
{
    /// <summary>The decision that overrules it, where there is one; the flag stays and no longer bears on the use.</summary>
    public Decision? Overruling { get; init; }
}

public enum Use
{
    Accepted,
    Suspect,
    Rejected,
}

/// <summary>The use of a record and the flag codes, joined by a comma, that decided it.</summary>
public sealed record Verdict(Use Use, string? Because)
{
    public static Verdict Accepted { get; } = new(Use.Accepted, null);
}
