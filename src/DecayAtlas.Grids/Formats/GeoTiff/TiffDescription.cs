namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>What a TIFF holds and how, from its directories alone.</summary>
internal static class TiffDescription
{
    public static GridDescription Of(string path)
    {
        using FileStream stream = File.OpenRead(path);
        return Of(path, stream);
    }

    public static GridDescription Of(string path, Stream stream)
    {
        TiffDirectory directory = TiffDirectory.Read(path, stream);
        TiffLayout layout = TiffLayout.Read(path, directory);
        GridStorage storage = StorageOf(path, directory, layout);
        IReadOnlyList<GdalBandMetadata> bands = GdalBandMetadata.Read(path, directory, 1, layout.Bands);
        return new GridDescription(
            directory.IsBigTiff ? "GeoTIFF (BigTIFF)" : "GeoTIFF",
            [.. bands.Select((said, i) => new GridLayer(i + 1, null, said.Description, said.Unit, [])
            {
                Scale = said.Scale,
                Offset = said.Offset,
                MissingValue = said.MissingValue,
                Storage = storage,
            })]);
    }

    private static GridStorage StorageOf(string path, TiffDirectory directory, TiffLayout layout)
    {
        TiffDirectory[] following = [.. directory.Following()];
        string blocks = layout.Tiled ? $"tiles of {layout.BlockColumns} x {layout.BlockRows} cells"
            : $"strips of {layout.BlockRows} row{(layout.BlockRows == 1 ? "" : "s")}";
        return new GridStorage(
            layout.Type.Name,
            TiffCodec.NameOf(layout.CompressionMethod),
            layout.PredictorMethod,
            blocks + (layout.Bands == 1 ? "" : layout.Separate ? ", each band by itself" : ", all bands together"),
            [.. following.Where(d => d.Integer(TiffTag.NewSubfileType, 0) == 1)
                .Select(d => $"{d.Integer(TiffTag.ImageWidth, 0)} x {d.Integer(TiffTag.ImageLength, 0)}")],
            TiffMask.LayoutOf(path, directory, layout) is not null,
            directory.Has(TiffTag.ColourMap));
    }
}
