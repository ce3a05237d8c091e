using System.Text;

namespace DecayAtlas.Grids.Formats.NetCdf.Writing;

/// <summary>Datatype messages of HDF5 (file format specification 3.0, section IV.A.2.d), version 1, little-endian.</summary>
internal static class HdfType
{
    public static readonly byte[] Float32 = new HdfBytes().U8(0x11, 0x20, 31, 0).U32(4).U16(0, 32).U8(23, 8, 0, 23).U32(127).ToArray();

    public static readonly byte[] Float64 = new HdfBytes().U8(0x11, 0x20, 63, 0).U32(8).U16(0, 64).U8(52, 11, 0, 52).U32(1023).ToArray();

    public static readonly byte[] Int8 = new HdfBytes().U8(0x10, 0x08, 0, 0).U32(1).U16(0, 8).ToArray();

    public static readonly byte[] Int32 = new HdfBytes().U8(0x10, 0x08, 0, 0).U32(4).U16(0, 32).ToArray();

    public static readonly byte[] Reference = new HdfBytes().U8(0x17, 0, 0, 0).U32(8).ToArray();

    /// <summary>A list of references, held in the global heap.</summary>
    public static readonly byte[] ReferenceList = new HdfBytes().U8(0x19, 0, 0, 0).U32(16).U8(Reference).ToArray();

    /// <summary>A reference and the number of the dimension that it is used for, 16 bytes.</summary>
    public static readonly byte[] UseOfScale = new HdfBytes().U8(0x16, 2, 0, 0).U32(16)
        .U8(Member("dataset", 0, Reference)).U8(Member("dimension", 8, Int32)).ToArray();

    public static byte[] Text(int bytes) => new HdfBytes().U8(0x13, 0x10, 0, 0).U32((uint)bytes).ToArray();

    /// <summary>Text of so many bytes with a final zero, ASCII, as dimension scales want it.</summary>
    public static byte[] Ascii(int bytes) => new HdfBytes().U8(0x13, 0, 0, 0).U32((uint)bytes).ToArray();

    private static byte[] Member(string name, uint offset, byte[] type)
    {
        int padded = (Encoding.ASCII.GetByteCount(name) + 8) / 8 * 8;
        return new HdfBytes().Text(name).Zeros(padded - name.Length).U32(offset).Zeros(28).U8(type).ToArray();
    }
}
