using System.Buffers;
using System.Buffers.Binary;
using System.IO.Compression;

namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>
/// Packs tiles as TIFF stores them: differences along each row (TIFF 6.0 section 14; for floating point TIFF Technical Note 3),
/// then a zlib stream. Safe to use from many threads.
/// </summary>
internal static class TileEncoder
{
    public static byte[] Encode(ReadOnlySpan<short> values, int columns)
    {
        byte[] bytes = ArrayPool<byte>.Shared.Rent(values.Length * sizeof(short));
        for (int i = 0; i < values.Length; i++)
        {
            int before = i % columns == 0 ? 0 : values[i - 1];
            BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(i * sizeof(short)), unchecked((short)(values[i] - before)));
        }

        return Deflate(bytes, values.Length * sizeof(short));
    }

    /// <summary>A tile of 32-bit floating-point numbers; every not-a-number is written as the same bits.</summary>
    public static byte[] Encode(ReadOnlySpan<float> values, int columns)
    {
        byte[] bytes = ArrayPool<byte>.Shared.Rent(values.Length * sizeof(float));
        for (int from = 0; from < values.Length; from += columns)
        {
            Span<byte> row = bytes.AsSpan(from * sizeof(float), columns * sizeof(float));
            for (int i = 0; i < columns; i++)
            {
                float value = values[from + i];
                uint bits = BitConverter.SingleToUInt32Bits(float.IsNaN(value) ? float.NaN : value);
                // the most significant bytes of a row first, then the next: they vary least
                row[i] = (byte)(bits >> 24);
                row[columns + i] = (byte)(bits >> 16);
                row[2 * columns + i] = (byte)(bits >> 8);
                row[3 * columns + i] = (byte)bits;
            }

            for (int i = row.Length - 1; i > 0; i--)
                row[i] = unchecked((byte)(row[i] - row[i - 1]));
        }

        return Deflate(bytes, values.Length * sizeof(float));
    }

    /// <summary>Gives the rented bytes back: tiles are many, and large arrays left behind would pile up.</summary>
    private static byte[] Deflate(byte[] bytes, int length)
    {
        using MemoryStream packed = new();
        using (ZLibStream zlib = new(packed, CompressionLevel.Fastest, leaveOpen: true))
            zlib.Write(bytes, 0, length);

        ArrayPool<byte>.Shared.Return(bytes);

        return packed.ToArray();
    }
}
