namespace DecayAtlas.Grids.Exposure;

/// <summary>A value computed from others, which says how.</summary>
/// <param name="Name">What it is, as a column name.</param>
/// <param name="Value">The value; null where an input is missing.</param>
/// <param name="Unit">Its unit; empty for a pure number.</param>
/// <param name="Formula">The formula and where it is published.</param>
/// <param name="Inputs">The inputs by name.</param>
public sealed record DerivedValue(string Name, double? Value, string Unit, string Formula, IReadOnlyList<string> Inputs);
