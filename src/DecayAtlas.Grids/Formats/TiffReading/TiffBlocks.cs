using System.Buffers;

namespace DecayAtlas.Grids.Formats.TiffReading;

/// <summary>Reads and decodes the blocks of one image of a TIFF; may be asked by several threads at once.</summary>
internal sealed class TiffBlocks(string path, BlockBytes file, TiffLayout layout)
{
    public TiffLayout Layout => layout;

    /// <summary>
    /// Hands over the numbers of a block as this machine stores them; false where the block was never written. The bytes are
    /// lent: they are gone when the callback returns.
    /// </summary>
    /// <exception cref="GridException">The block does not hold what it should.</exception>
    public bool Read(int block, int rows, Action<ReadOnlySpan<byte>> use)
    {
        if (layout.IsSparse(block))
            return false;

        int length = checked(layout.RowBytes * rows);
        byte[] values = ArrayPool<byte>.Shared.Rent(length);
        byte[]? stored = null;
        try
        {
            int got = ReadStored(block, length, out stored);
            Span<byte> decoded = values.AsSpan(0, length);
            if (!TiffCodec.TryDecode(layout.CompressionMethod, stored, got, decoded))
            {
                throw new GridException(
                    $"{path} is damaged: block {block} could not be decoded in full; fetch or make the file again.");
            }

            TiffPredictor.Undo(layout, decoded);
            use(decoded);
            return true;
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(values);
            if (stored is not null)
                ArrayPool<byte>.Shared.Return(stored);
        }
    }

    /// <summary>Fetches blocks that will be asked for, where that is cheaper together.</summary>
    public void Prepare(IReadOnlyList<int> blocks)
    {
        layout.Prepare(blocks);
        int length = checked(layout.RowBytes * layout.BlockRows);
        file.Prepare(blocks.Where(block => !layout.IsSparse(block)).Select(block => Stored(block, length)));
    }

    private (long Offset, int Length) Stored(int block, int length)
    {
        (long offset, long count) = layout.PlaceOf(block);
        // Some writers claim more bytes than a block has; none that unpacks to this size needs more than this.
        long wanted = Math.Min(count, Math.Min(2L * length + (1 << 20), Array.MaxLength));
        return (offset, (int)Math.Min(wanted, Math.Max(0, file.Length - offset)));
    }

    private int ReadStored(int block, int length, out byte[] stored)
    {
        stored = [];
        try
        {
            // what is fetched is kept, and found again by its length
            (long offset, int wanted) = Stored(block, file.IsFar ? checked(layout.RowBytes * layout.BlockRows) : length);
            stored = ArrayPool<byte>.Shared.Rent(Math.Max(1, wanted));
            return wanted == 0 ? 0 : file.Read(stored.AsSpan(0, wanted), offset);
        }
        catch (IOException e)
        {
            throw GridException.Unreadable(path, e);
        }
    }
}
