namespace DecayAtlas.Contributions;

/// <summary>
/// CRC-32 as zip uses it (ISO 3309, reflected polynomial EDB88320). The framework's zip reader does not compare
/// it, and a flipped bit in a stored table would otherwise pass as data.
/// </summary>
internal static class Crc32
{
    private static readonly uint[] Table = [.. Enumerable.Range(0, 256).Select(i =>
    {
        uint value = (uint)i;
        for (int bit = 0; bit < 8; bit++)
            value = (value & 1) != 0 ? (value >> 1) ^ 0xEDB88320u : value >> 1;
        return value;
    })];

    /// <summary>The checksum of what <paramref name="checksum"/> covers followed by <paramref name="bytes"/>; start with 0.</summary>
    public static uint Append(uint checksum, ReadOnlySpan<byte> bytes)
    {
        uint value = ~checksum;
        foreach (byte next in bytes)
            value = Table[(byte)(value ^ next)] ^ (value >> 8);
        return ~value;
    }
}
