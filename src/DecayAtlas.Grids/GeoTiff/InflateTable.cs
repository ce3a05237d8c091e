using System.Numerics;
using System.Runtime.CompilerServices;

namespace DecayAtlas.Grids.GeoTiff;

/// <summary>
/// A table that turns the next bits of a deflate stream into a symbol. An entry holds the bits of its code in the lowest byte,
/// the count of extra bits in the next five, flags, and its value in the upper half. 0 is no code.
/// </summary>
internal sealed class InflateTable(int mainBits, int symbols)
{
    public const uint Literal = 1 << 15;
    public const uint Pair = 1 << 14;
    public const uint End = 1 << 13;
    public const uint Further = Pair | End; // both: no symbol but a second table

    private const int LongestCode = 15;

    private readonly byte[] _longest = new byte[1 << mainBits];

    // A second table for each of the codes that are too long for the first would be the most there can be.
    public uint[] Entries { get; } = new uint[(1 << mainBits) + symbols * (1 << (LongestCode - mainBits))];

    public uint Mask => (1u << mainBits) - 1;

    public int MainBits => mainBits;

    /// <summary>Makes the table of canonical codes (RFC 1951, section 3.2.2); false where the lengths are those of no code.</summary>
    /// <param name="lengths">Length of the code of each symbol, 0 for none.</param>
    /// <param name="entryOf">Entry of each symbol without its code length.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public bool Build(ReadOnlySpan<byte> lengths, ReadOnlySpan<uint> entryOf)
    {
        Span<int> counts = stackalloc int[LongestCode + 1], next = stackalloc int[LongestCode + 2];
        counts.Clear();
        foreach (byte length in lengths)
        {
            counts[length]++;
        }

        counts[0] = 0;
        int left = 1, code = 0;
        for (int bits = 1; bits <= LongestCode; bits++)
        {
            left = (left << 1) - counts[bits];
            code = (code + counts[bits - 1]) << 1;
            next[bits] = code;
            if (left < 0)
            {
                return false;
            }
        }

        Array.Clear(Entries, 0, 1 << mainBits);
        Array.Clear(_longest);
        Span<ushort> reversed = stackalloc ushort[lengths.Length];
        for (int symbol = 0; symbol < lengths.Length; symbol++)
        {
            int length = lengths[symbol];
            if (length == 0)
            {
                continue;
            }

            int turned = Reverse(next[length]++, length);
            reversed[symbol] = (ushort)turned;
            if (length > mainBits)
            {
                ref byte longest = ref _longest[turned & Mask];
                longest = Math.Max(longest, (byte)length);
            }
            else if (entryOf[symbol] != 0)
            {
                for (int at = turned; at <= Mask; at += 1 << length)
                {
                    Entries[at] = entryOf[symbol] | (uint)length;
                }
            }
        }

        return BuildFurther(lengths, entryOf, reversed);
    }

    /// <summary>Where the bits after one literal are a whole literal again, the entry gives both.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void PairLiterals()
    {
        // Downward: what follows an index stands below it, and has not been paired yet.
        for (int at = (int)Mask; at >= 0; at--)
        {
            uint first = Entries[at];
            int bits = (int)(first & 0xFF);
            if ((first & Literal) != 0 && bits < mainBits)
            {
                uint second = Entries[at >> bits];
                if ((second & (Literal | Pair)) == Literal && bits + (second & 0xFF) <= mainBits)
                {
                    Entries[at] = (first & 0xFF_0000) | (second & 0xFF_0000) << 8 | Literal | Pair | (uint)bits + (second & 0xFF);
                }
            }
        }
    }

    private bool BuildFurther(ReadOnlySpan<byte> lengths, ReadOnlySpan<uint> entryOf, ReadOnlySpan<ushort> reversed)
    {
        int free = 1 << mainBits;
        for (int symbol = 0; symbol < lengths.Length; symbol++)
        {
            int length = lengths[symbol];
            if (length <= mainBits)
            {
                continue;
            }

            int prefix = (int)(reversed[symbol] & Mask), further = _longest[prefix] - mainBits;
            if (Entries[prefix] == 0)
            {
                Array.Clear(Entries, free, 1 << further);
                Entries[prefix] = (uint)free << 16 | Further | (uint)further;
                free += 1 << further;
            }

            if (entryOf[symbol] == 0)
            {
                continue;
            }

            int start = (int)(Entries[prefix] >> 16);
            for (int at = reversed[symbol] >> mainBits; at < 1 << further; at += 1 << (length - mainBits))
            {
                Entries[start + at] = entryOf[symbol] | (uint)length;
            }
        }

        return true;
    }

    private static int Reverse(int code, int length)
    {
        uint v = (uint)code;
        v = (v >> 1 & 0x5555) | (v & 0x5555) << 1;
        v = (v >> 2 & 0x3333) | (v & 0x3333) << 2;
        v = (v >> 4 & 0x0F0F) | (v & 0x0F0F) << 4;
        v = BitOperations.RotateLeft(v & 0xFF, 8) | v >> 8;
        return (int)((v & 0xFFFF) >> (16 - length));
    }
}
