using System.Buffers.Binary;

namespace DecayAtlas.Grids.Tests;

/// <summary>
/// A BigTIFF of 210 GB that exists nowhere: 896 x 896 tiles of 256 x 256 numbers of 32 bits, unpacked, laid out by hand after the BigTIFF
/// design (libtiff.gitlab.io/libtiff/specification/bigtiff.html). A cell holds its column, and 7 times its row, modulo 100,003.
/// </summary>
internal static class LargeGrid
{
    public const int Side = 896 * 256;

    private const long Tiles = 896L * 896, TileBytes = 256 * 256 * sizeof(float);

    private const long OffsetsAt = 4096, CountsAt = OffsetsAt + Tiles * 8, DataAt = CountsAt + Tiles * 4;

    public const long Length = DataAt + Tiles * TileBytes;

    public static GridLattice Lattice { get; } = new(Side, Side, -90, 90, 180.0 / Side, 180.0 / Side);

    private static readonly byte[] Head = MakeHead();

    public static float ValueAt(int column, int row) => (column + 7L * row) % 100_003;

    public static byte[] Read(long from, int count)
    {
        byte[] bytes = new byte[count];
        for (int i = 0; i < count;)
        {
            long at = from + i;
            (byte[] number, int inside) = NumberAt(at);
            for (; inside < number.Length && i < count; inside++, i++)
                bytes[i] = number[inside];
        }

        return bytes;
    }

    /// <summary>The number that a byte belongs to, and which of its bytes it is.</summary>
    private static (byte[] Number, int Inside) NumberAt(long at)
    {
        if (at < OffsetsAt)
            return (Head, (int)at);
        if (at < CountsAt)
            return (BitConverter.GetBytes(DataAt + (at - OffsetsAt) / 8 * TileBytes), (int)((at - OffsetsAt) % 8));
        if (at < DataAt)
            return (BitConverter.GetBytes((int)TileBytes), (int)((at - CountsAt) % 4));
        long tile = (at - DataAt) / TileBytes, cell = (at - DataAt) % TileBytes / 4;
        int column = (int)(tile % 896 * 256 + cell % 256), row = (int)(tile / 896 * 256 + cell / 256);
        return (BitConverter.GetBytes(ValueAt(column, row)), (int)((at - DataAt) % 4));
    }

    private static byte[] MakeHead()
    {
        byte[] head = new byte[OffsetsAt];
        ((byte[])[(byte)'I', (byte)'I', 43, 0, 8, 0, 0, 0, 16]).CopyTo(head, 0);
        (int Tag, int Type, long Count, long Value)[] entries =
        [
            (256, 4, 1, Side), (257, 4, 1, Side), (258, 3, 1, 32), (259, 3, 1, 1), (262, 3, 1, 1), (277, 3, 1, 1), (284, 3, 1, 1),
            (322, 3, 1, 256), (323, 3, 1, 256), (324, 16, Tiles, OffsetsAt), (325, 4, Tiles, CountsAt), (339, 3, 1, 3),
            (33550, 12, 3, 1000), (33922, 12, 6, 1100), (34735, 3, 16, 1200),
        ];
        BinaryPrimitives.WriteInt64LittleEndian(head.AsSpan(16), entries.Length);
        for (int i = 0; i < entries.Length; i++)
        {
            Span<byte> to = head.AsSpan(24 + i * 20);
            BinaryPrimitives.WriteInt16LittleEndian(to, unchecked((short)entries[i].Tag));
            BinaryPrimitives.WriteInt16LittleEndian(to[2..], (short)entries[i].Type);
            BinaryPrimitives.WriteInt64LittleEndian(to[4..], entries[i].Count);
            BinaryPrimitives.WriteInt64LittleEndian(to[12..], entries[i].Value);
        }

        double[] numbers = [Lattice.CellWidth, Lattice.CellHeight, 0];
        Buffer.BlockCopy(numbers, 0, head, 1000, 24);
        double[] tie = [0, 0, 0, Lattice.West, Lattice.North, 0];
        Buffer.BlockCopy(tie, 0, head, 1100, 48);
        short[] keys = [1, 1, 0, 3, 1024, 0, 1, 2, 1025, 0, 1, 1, 2048, 0, 1, 4326];
        Buffer.BlockCopy(keys, 0, head, 1200, 32);
        return head;
    }
}
