namespace DecayAtlas.Grids.Formats.TiffReading;

/// <summary>
/// LZW as TIFF stores it (TIFF 6.0 section 13): codes of 9 to 12 bits, the highest bit first, 256 clears the table, 257 ends.
/// </summary>
internal static class LzwDecoder
{
    private const int Clear = 256;
    private const int End = 257;
    private const int TableSize = 4096;

    public static bool TryDecode(ReadOnlySpan<byte> stored, Span<byte> block)
    {
        // An entry is the entry before it and one byte more; its text already stands in the block where it was first written.
        int[] starts = new int[TableSize];
        int[] lengths = new int[TableSize];
        int next = 258, width = 9, at = 0;
        int previousStart = -1, previousLength = 0;
        uint bits = 0;
        int held = 0;
        for (int from = 0; at < block.Length;)
        {
            while (held < width)
            {
                if (from == stored.Length)
                    return false;

                bits = (bits << 8) | stored[from++];
                held += 8;
            }

            int code = (int)(bits >> (held - width)) & ((1 << width) - 1);
            held -= width;
            if (code == Clear)
            {
                (next, width, previousStart) = (258, 9, -1);
                continue;
            }

            if (code == End || code > next || (code == next && previousStart < 0))
                return false;

            int start = at;
            int length;
            if (code < Clear)
            {
                length = 1;
                block[at++] = (byte)code;
            }
            else
            {
                // The code that is being made now: the text before and its own first byte.
                bool unfinished = code == next;
                int source = unfinished ? previousStart : starts[code];
                length = unfinished ? previousLength + 1 : lengths[code];
                for (int i = 0; i < length && at < block.Length; i++)
                    block[at++] = block[source + i];
            }

            if (previousStart >= 0 && next < TableSize)
            {
                starts[next] = previousStart;
                lengths[next] = previousLength + 1;
                next++;
                // The width grows one code early.
                width = next switch { >= 2047 => 12, >= 1023 => 11, >= 511 => 10, _ => 9 };
            }

            (previousStart, previousLength) = (start, length);
        }

        return true;
    }
}
