using System.Text;

namespace DecayAtlas.Grids.Formats.NetCdf.Writing;

/// <summary>
/// An object header of HDF5 (version 2): messages one after another. Its length does not depend on the addresses in it, so it
/// can be measured first and filled in when every address is known.
/// </summary>
internal sealed class HdfObject
{
    private const byte AttributesInOrder = 0x04;
    private const byte FourByteLength = 0x02;

    private readonly HdfBytes _messages = new();
    private int _attributes;

    public HdfObject Dataspace(params ReadOnlySpan<ulong> lengths) => Message(0x01, Space(lengths));

    public HdfObject Datatype(byte[] type) => Message(0x03, type);

    /// <summary>The value of cells that were never written; empty leaves them undefined.</summary>
    public HdfObject Fill(byte[] value) => Message(0x05, value.Length == 0
        ? [3, 0x0A]
        : new HdfBytes().U8(3, 0x2B).U32((uint)value.Length).U8(value).ToArray());

    public HdfObject Contiguous(ulong address, ulong bytes) => Message(0x08, new HdfBytes().U8(3, 1).U64(address, bytes).ToArray());

    public HdfObject Chunked(ulong tree, uint rows, uint columns, uint valueBytes) =>
        Message(0x08, new HdfBytes().U8(3, 2, 3).U64(tree).U32(rows, columns, valueBytes).ToArray());

    /// <summary>Bytes in the order of significance, then deflate.</summary>
    public HdfObject ShuffledDeflate(uint valueBytes, uint level) => Message(0x0B, new HdfBytes().U8(2, 2)
        .U16(2, 1, 1).U32(valueBytes)
        .U16(1, 1, 1).U32(level).ToArray());

    public HdfObject Group(int links)
    {
        Message(0x02, new HdfBytes().U8(0, 1).U64((ulong)links, HdfBytes.Undefined, HdfBytes.Undefined).ToArray());
        return Message(0x0A, [0, 0]);
    }

    public HdfObject Link(string name, int order, ulong address) => Message(0x06, new HdfBytes()
        .U8(1, 0x04).U64((ulong)order).U8((byte)name.Length).Text(name).U64(address).ToArray());

    public HdfObject Attribute(string name, byte[] type, byte[] value, params ReadOnlySpan<ulong> lengths)
    {
        byte[] space = Space(lengths);
        return Message(0x0C, new HdfBytes().U8(3, 0).U16(name.Length + 1, type.Length, space.Length).U8(0)
            .Text(name).U8(0).U8(type).U8(space).U8(value).ToArray());
    }

    public HdfObject Text(string name, string value)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(value.Length == 0 ? " " : value);
        return Attribute(name, HdfType.Text(bytes.Length), bytes);
    }

    public HdfObject Number(string name, params ReadOnlySpan<double> values)
    {
        byte[] bytes = new HdfBytes().F64(values).ToArray();
        return Attribute(name, HdfType.Float64, bytes, (ulong)values.Length);
    }

    /// <summary>Makes the dataset a scale of a dimension (HDF5 dimension scale specification 1.0; NetCDF-4 reads its dimensions from
    /// it).</summary>
    public HdfObject Scale(string name, int dimension)
    {
        Attribute("CLASS", HdfType.Ascii(16), Encoding.ASCII.GetBytes("DIMENSION_SCALE\0"));
        Attribute("NAME", HdfType.Ascii(name.Length + 1), Encoding.ASCII.GetBytes(name + "\0"));
        return Attribute("_Netcdf4Dimid", HdfType.Int32, BitConverter.GetBytes(dimension));
    }

    public byte[] ToArray()
    {
        byte[] messages = _messages.ToArray();
        HdfBytes header = new HdfBytes().Text("OHDR").U8(2, AttributesInOrder | FourByteLength).U32((uint)messages.Length).U8(messages);
        return header.U32(HdfChecksum.Of(header.ToArray())).ToArray();
    }

    private static byte[] Space(ReadOnlySpan<ulong> lengths) =>
        new HdfBytes().U8(2, (byte)lengths.Length, 0, (byte)(lengths.Length == 0 ? 0 : 1)).U64(lengths).ToArray();

    private HdfObject Message(byte kind, byte[] body)
    {
        // the order of messages is that of creation; only attributes are asked for it
        _messages.U8(kind).U16(body.Length).U8(0).U16(kind == 0x0C ? _attributes++ : 0).U8(body);
        return this;
    }
}
