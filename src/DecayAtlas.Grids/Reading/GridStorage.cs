namespace DecayAtlas.Grids.Reading;

/// <param name="Compression">How blocks are packed; null where the reader cannot tell (the filters of NetCDF-4).</param>
/// <param name="Predictor">TIFF predictor 1 to 3; null for other formats.</param>
/// <param name="Blocks">What is decoded at a time, in words: "tiles of 256 x 256 cells".</param>
/// <param name="Overviews">Sizes of the smaller copies inside the file, "10800 x 5400"; they are not read.</param>
/// <param name="HasMask">Whether a mask inside the file says which cells are missing.</param>
/// <param name="HasColours">Whether the file holds a table of colours, as classes have.</param>
public sealed record GridStorage(
    string NumberType,
    string? Compression,
    int? Predictor,
    string Blocks,
    IReadOnlyList<string> Overviews,
    bool HasMask,
    bool HasColours);
