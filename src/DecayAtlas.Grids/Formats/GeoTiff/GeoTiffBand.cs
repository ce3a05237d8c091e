namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <param name="Name">Becomes the band's description.</param>
/// <param name="Unit">Becomes the band's unit; empty for a pure number.</param>
/// <param name="Scale">
/// Null stores 32-bit floating-point numbers. A number stores 16-bit whole numbers, value = stored x scale + offset;
/// all bands of a file must store the same kind.
/// </param>
/// <param name="IsFlag">Whether the values are 0 (no) and 1 (yes): overviews then take what most cells are, not their mean.</param>
public sealed record GeoTiffBand(string Name, string Unit, double? Scale = null, double Offset = 0, bool IsFlag = false);
