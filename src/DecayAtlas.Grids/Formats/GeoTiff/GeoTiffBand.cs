namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>What a band holds; overviews follow it. Without a word it holds amounts, and a cell of an overview is their mean.</summary>
/// <param name="Name">Becomes the band's description.</param>
/// <param name="Unit">Becomes the band's unit; empty for a pure number.</param>
/// <param name="Scale">
/// Null stores 32-bit floating-point numbers. A number stores 16-bit whole numbers, value = stored x scale + offset;
/// all bands of a file must store the same kind.
/// </param>
/// <param name="IsFlag">Whether the values are 0 (no) and 1 (yes): a cell of an overview is then one of its four cells, so that as many
/// of a hundred say yes as in the map. Most votes would swallow what is scattered.</param>
/// <param name="IsClass">Whether the values are codes of classes: a cell of an overview is then the class that most of its four cells
/// hold.</param>
public sealed record GeoTiffBand(
    string Name, string Unit, double? Scale = null, double Offset = 0, bool IsFlag = false, bool IsClass = false);
