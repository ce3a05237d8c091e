namespace DecayAtlas.Contributions.Questioning;

/// <summary>What was understood of one table as people make them, and what is left to ask.</summary>
/// <param name="Told">What was understood without asking.</param>
/// <param name="Questions">What is not answered yet, the weightiest first; another answer may raise or spare some.</param>
/// <param name="Mapping">The finished mapping (YAML), by which the table is read as a contribution; null while questions are left.</param>
/// <param name="Findings">Why the table cannot be read at all; empty otherwise.</param>
public sealed record Inquiry(
    IReadOnlyList<Told> Told, IReadOnlyList<Question> Questions, string? Mapping, IReadOnlyList<Finding> Findings);
