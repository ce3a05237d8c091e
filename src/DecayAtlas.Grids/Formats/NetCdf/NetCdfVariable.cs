namespace DecayAtlas.Grids.Formats.NetCdf;

/// <param name="Name">Its name: letters, digits and underscores.</param>
/// <param name="Unit">Unit as UDUNITS writes it; "1" for a pure number.</param>
/// <param name="IsFlag">Whether the values are 0 (no) and 1 (yes); stored in one byte, -1 where missing.</param>
public sealed record NetCdfVariable(
    string Name, string Unit, string LongName, bool IsFlag = false, IReadOnlyDictionary<string, string>? Attributes = null);
