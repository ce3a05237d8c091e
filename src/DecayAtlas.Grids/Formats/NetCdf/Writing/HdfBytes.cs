using System.Runtime.InteropServices;
using System.Text;

namespace DecayAtlas.Grids.Formats.NetCdf.Writing;

/// <summary>Grows a run of bytes, little-endian on the machines this runs on.</summary>
internal sealed class HdfBytes
{
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
        foreach (int value in values)
            _bytes.AddRange(BitConverter.GetBytes(checked((ushort)value)));

        return this;
    }

    public HdfBytes U32(params ReadOnlySpan<uint> values) => U8(MemoryMarshal.AsBytes(values));

    public HdfBytes U64(params ReadOnlySpan<ulong> values) => U8(MemoryMarshal.AsBytes(values));

    public HdfBytes F64(params ReadOnlySpan<double> values) => U8(MemoryMarshal.AsBytes(values));

    public HdfBytes Text(string text) => U8(Encoding.UTF8.GetBytes(text));

    public HdfBytes Zeros(int count) => U8(new byte[count]);
}
