namespace DecayAtlas.Grids.Formats.GeoTiff;

internal sealed class GeoTiffFormat : GridFormat
{
    public override string Article => "a TIFF";

    public override bool Recognises(ReadOnlySpan<byte> head) => TiffDirectory.Recognises(head);

    public override Grid Open(string path, GridReadOptions options) => GeoTiffGrid.Open(path, options);

    public override GridDescription Describe(string path) => TiffDescription.Of(path);
}
