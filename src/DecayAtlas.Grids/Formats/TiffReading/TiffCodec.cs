using System.IO.Compression;

namespace DecayAtlas.Grids.Formats.TiffReading;

/// <summary>
/// Unpacks the stored bytes of one block (TIFF 6.0 sections 9 and 13; deflate and ZSTD as libtiff registers them). No
/// state is shared between threads, so that blocks can be decoded side by side, and nothing is written beyond the size of the block.
/// </summary>
internal static class TiffCodec
{
    private const int None = 1;
    private const int Lzw = 5;
    private const int Deflate = 8;
    private const int PackBits = 32773;
    private const int OldDeflate = 32946;
    private const int Zstd = 50000;

    public static bool Knows(long compression) => compression is None or Lzw or Deflate or PackBits or OldDeflate or Zstd;

    public static string NameOf(int compression) => compression switch
    {
        None => "none",
        Lzw => "LZW",
        PackBits => "PackBits",
        Zstd => "ZSTD",
        _ => "deflate",
    };

    /// <summary>Whether the first rows of a block can be had without the rest.</summary>
    public static bool CanStopEarly(int compression) => compression != Zstd;

    /// <summary>Fills the block; false where the stored bytes do not hold all of it.</summary>
    public static bool TryDecode(int compression, byte[] stored, int length, Span<byte> block)
    {
        switch (compression)
        {
            case None:
                stored.AsSpan(0, Math.Min(length, block.Length)).CopyTo(block);
                return length >= block.Length;
            case Lzw:
                return LzwDecoder.TryDecode(stored.AsSpan(0, length), block);
            case PackBits:
                return TryUnpackBits(stored.AsSpan(0, length), block);
            case Zstd:
                return TryUnzstd(stored.AsSpan(0, length), block);
            default:
                return TryInflate(stored, length, block);
        }
    }

    private static bool TryInflate(byte[] stored, int length, Span<byte> block)
    {
        try
        {
            using ZLibStream inflater = new(new MemoryStream(stored, 0, length), CompressionMode.Decompress);
            return inflater.ReadAtLeast(block, block.Length, throwOnEndOfStream: false) == block.Length;
        }
        catch (InvalidDataException)
        {
            return false;
        }
    }

    private static bool TryUnzstd(ReadOnlySpan<byte> stored, Span<byte> block)
    {
        try
        {
            using ZstdSharp.Decompressor decompressor = new();
            return decompressor.TryUnwrap(stored, block, out int written) && written == block.Length;
        }
        catch (Exception e) when (e is ZstdSharp.ZstdException or ArgumentException or IndexOutOfRangeException)
        {
            return false;
        }
    }

    private static bool TryUnpackBits(ReadOnlySpan<byte> stored, Span<byte> block)
    {
        int at = 0;
        for (int from = 0; at < block.Length && from < stored.Length;)
        {
            int head = (sbyte)stored[from++];
            if (head >= 0)
            {
                int run = Math.Min(head + 1, Math.Min(block.Length - at, stored.Length - from));
                stored.Slice(from, run).CopyTo(block[at..]);
                from += head + 1;
                at += run;
            }
            else if (head != -128 && from < stored.Length)
            {
                int run = Math.Min(1 - head, block.Length - at);
                block.Slice(at, run).Fill(stored[from++]);
                at += run;
            }
        }

        return at == block.Length;
    }
}
