using System.Buffers.Binary;
using System.Text;

namespace DecayAtlas.Grids.NetCdf.Writing;

/// <summary>Grows a run of bytes, little-endian.</summary>
internal sealed class HdfBytes
{
    /// <summary>An address that points nowhere.</summary>
    public const ulong Undefined = ulong.MaxValue;

    private readonly List<byte> _bytes = [];

    public int Length => _bytes.Count;

    public byte[] ToArray() => [.. _bytes];

    public HdfBytes U8(params ReadOnlySpan<byte> values)
    {
        _bytes.AddRange(values);
        return this;
    }

    public HdfBytes U16(params ReadOnlySpan<int> values)
    {
        Span<byte> bytes = stackalloc byte[2];
        foreach (int value in values)
        {
            BinaryPrimitives.WriteUInt16LittleEndian(bytes, checked((ushort)value));
            _bytes.AddRange(bytes);
        }

        return this;
    }

    public HdfBytes U32(params ReadOnlySpan<uint> values)
    {
        Span<byte> bytes = stackalloc byte[4];
        foreach (uint value in values)
        {
            BinaryPrimitives.WriteUInt32LittleEndian(bytes, value);
            _bytes.AddRange(bytes);
        }

        return this;
    }

    public HdfBytes U64(params ReadOnlySpan<ulong> values)
    {
        Span<byte> bytes = stackalloc byte[8];
        foreach (ulong value in values)
        {
            BinaryPrimitives.WriteUInt64LittleEndian(bytes, value);
            _bytes.AddRange(bytes);
        }

        return this;
    }

    public HdfBytes F64(params ReadOnlySpan<double> values)
    {
        foreach (double value in values)
            U64(BitConverter.DoubleToUInt64Bits(value));

        return this;
    }

    public HdfBytes Text(string text) => U8(Encoding.UTF8.GetBytes(text));

    public HdfBytes Zeros(int count) => U8(new byte[count]);
}
