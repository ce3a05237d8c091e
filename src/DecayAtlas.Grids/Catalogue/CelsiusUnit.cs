namespace DecayAtlas.Grids.Catalogue;

/// <summary>How a catalogue may write degrees Celsius.</summary>
public static class CelsiusUnit
{
    public static IReadOnlyList<string> Names { get; } = ["degC", "°C", "deg C", "celsius", "Celsius", "C"];

    public static bool Is(string unit) => Names.Contains(unit);
}
