using Microsoft.Win32.SafeHandles;

namespace DecayAtlas.Grids.GeoTiff;

/// <summary>Reads and decodes the blocks of one image of a TIFF; may be asked by several threads at once.</summary>
internal sealed class TiffBlocks(string path, SafeFileHandle file, TiffLayout layout)
{
    public TiffLayout Layout => layout;

    /// <summary>The numbers of a block as this machine stores them; null where the block was never written.</summary>
    /// <exception cref="GridException">The block does not hold what it should.</exception>
    public byte[]? Read(int block, int rows)
    {
        if (layout.IsSparse(block))
        {
            return null;
        }

        byte[] values = new byte[(long)layout.RowBytes * rows];
        (long offset, long count) = layout.PlaceOf(block);
        // Some writers claim more bytes than a block has; none that unpacks to this size needs more than this.
        int wanted = (int)Math.Min(count, Math.Min(2L * values.Length + (1 << 20), Array.MaxLength));
        int got = 0;
        byte[] stored;
        try
        {
            stored = new byte[Math.Min(wanted, Math.Max(0, RandomAccess.GetLength(file) - offset))];
            for (int more; got < stored.Length && (more = RandomAccess.Read(file, stored.AsSpan(got), offset + got)) > 0;)
            {
                got += more;
            }
        }
        catch (IOException e)
        {
            throw new GridException($"{path} cannot be read: {e.Message.TrimEnd('.')}.", e);
        }

        if (!TiffCodec.TryDecode(layout.CompressionMethod, stored, got, values))
        {
            throw new GridException(
                $"{path} is damaged: block {block} could not be decoded in full; fetch or make the file again.");
        }

        TiffPredictor.Undo(layout, values);
        return values;
    }
}
