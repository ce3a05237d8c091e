using System.Buffers.Binary;

namespace DecayAtlas.Grids.Formats.Cdf;

/// <summary>The kinds of numbers of NetCDF-3, all stored with the most significant byte first.</summary>
internal static class ClassicNumbers
{
    private static readonly CdfType?[] Types =
    [
        null, new(1, false, true), new(1, false, false, true), new(2, false, true), new(4, false, true), new(4, true, true),
        new(8, true, true),
        new(1, false, false), new(2, false, false), new(4, false, false), new(8, false, true), new(8, false, false),
    ];

    /// <summary>The kind of a code; null where the format has none of that code.</summary>
    public static CdfType? TypeOf(int code) => code > 0 && code < Types.Length ? Types[code] : null;

    public static void Decode(CdfType type, ReadOnlySpan<byte> bytes, Span<double> values)
    {
        for (int i = 0; i < values.Length; i++)
        {
            ReadOnlySpan<byte> b = bytes.Slice(i * type.Bytes, type.Bytes);
            values[i] = (type.Bytes, type.IsFloatingPoint, type.IsSigned) switch
            {
                (1, _, true) => (sbyte)b[0],
                (1, _, false) => b[0],
                (2, _, true) => BinaryPrimitives.ReadInt16BigEndian(b),
                (2, _, false) => BinaryPrimitives.ReadUInt16BigEndian(b),
                (4, true, _) => BinaryPrimitives.ReadSingleBigEndian(b),
                (4, false, true) => BinaryPrimitives.ReadInt32BigEndian(b),
                (4, false, false) => BinaryPrimitives.ReadUInt32BigEndian(b),
                (_, true, _) => BinaryPrimitives.ReadDoubleBigEndian(b),
                (_, false, true) => BinaryPrimitives.ReadInt64BigEndian(b),
                _ => BinaryPrimitives.ReadUInt64BigEndian(b),
            };
        }
    }
}
