namespace DecayAtlas.Grids.Reading;

/// <summary>One dimension of a variable beside its columns and rows, with its steps as a catalogue selects them.</summary>
public sealed record GridDimension(string Name, string? Unit, IReadOnlyList<string> Steps)
{
    /// <summary>Whether the steps are days of a calendar, "1999-07-16".</summary>
    public bool IsTime { get; init; }
}

/// <param name="Title">What the file calls it; null where it says nothing.</param>
/// <param name="Unit">Unit as the file writes it; null where it says none.</param>
/// <param name="Dimensions">What else there is to choose from, such as time and depth.</param>
public sealed record GridLayer(int Band, string? Variable, string? Title, string? Unit, IReadOnlyList<GridDimension> Dimensions)
{
    /// <summary>Factor of the stored numbers; null where the file says none.</summary>
    public double? Scale { get; init; }

    public double? Offset { get; init; }

    public double? MissingValue { get; init; }

    public GridStorage? Storage { get; init; }
}

/// <summary>What a file holds, before any of it is opened as a grid.</summary>
public sealed record GridDescription(string Format, IReadOnlyList<GridLayer> Layers);
