namespace DecayAtlas.Pipeline.Flags;

/// <summary>What one flag code means: the text of its documentation page.</summary>
/// <param name="Code">Stable kebab-case code.</param>
/// <param name="Family">physical, protocol, place, copy or outlier.</param>
/// <param name="Severity">How much it weighs.</param>
/// <param name="On">The kind of record it stands on.</param>
/// <param name="Meaning">What was found, and why it matters.</param>
/// <param name="Rule">The exact rule, with the name of the setting that holds its limit.</param>
/// <param name="Mend">What the contributor or curator can do.</param>
public sealed record FlagDefinition(
    string Code, string Family, Severity Severity, RecordKind On, string Meaning, string Rule, string Mend)
{
    internal Flag Raise(string contributionId, string recordId, string explanation, double? measured = null, double? limit = null, string? unit = null) =>
        new(new RecordKey(contributionId, On, recordId), Code, Severity, measured, limit, unit, explanation);
}
