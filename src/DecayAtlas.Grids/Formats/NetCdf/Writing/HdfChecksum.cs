namespace DecayAtlas.Grids.Formats.NetCdf.Writing;

/// <summary>Checksum of HDF5 metadata: Jenkins' lookup3 (public domain, 2006), little-endian, initial value 0.</summary>
internal static class HdfChecksum
{
    public static uint Of(ReadOnlySpan<byte> bytes)
    {
        uint a = 0xdeadbeef + (uint)bytes.Length, b = a, c = a;
        while (bytes.Length > 12)
        {
            a += Word(bytes, 0);
            b += Word(bytes, 4);
            c += Word(bytes, 8);
            Mix(ref a, ref b, ref c);
            bytes = bytes[12..];
        }

        if (bytes.IsEmpty)
            return c;

        a += Word(bytes, 0);
        b += Word(bytes, 4);
        c += Word(bytes, 8);
        return Final(a, b, c);
    }

    private static uint Word(ReadOnlySpan<byte> bytes, int from)
    {
        uint word = 0;
        for (int i = from; i < Math.Min(from + 4, bytes.Length); i++)
            word |= (uint)bytes[i] << (8 * (i - from));

        return word;
    }

    private static void Mix(ref uint a, ref uint b, ref uint c)
    {
        a -= c; a ^= uint.RotateLeft(c, 4); c += b;
        b -= a; b ^= uint.RotateLeft(a, 6); a += c;
        c -= b; c ^= uint.RotateLeft(b, 8); b += a;
        a -= c; a ^= uint.RotateLeft(c, 16); c += b;
        b -= a; b ^= uint.RotateLeft(a, 19); a += c;
        c -= b; c ^= uint.RotateLeft(b, 4); b += a;
    }

    private static uint Final(uint a, uint b, uint c)
    {
        c ^= b; c -= uint.RotateLeft(b, 14);
        a ^= c; a -= uint.RotateLeft(c, 11);
        b ^= a; b -= uint.RotateLeft(a, 25);
        c ^= b; c -= uint.RotateLeft(b, 16);
        a ^= c; a -= uint.RotateLeft(c, 4);
        b ^= a; b -= uint.RotateLeft(a, 14);
        c ^= b; c -= uint.RotateLeft(b, 24);
        return c;
    }
}
