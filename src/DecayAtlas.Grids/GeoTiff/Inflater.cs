using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace DecayAtlas.Grids.GeoTiff;

/// <summary>
/// Unpacks a zlib stream (RFC 1950 and 1951) from memory into memory of known size, and stops when that is full. Beside the
/// library of the runtime it saves the copying through buffers, and takes two literals at a time where their codes are short:
/// grids are mostly literals. One inflater serves one thread.
/// </summary>
internal sealed class Inflater
{
    private const int LiteralBits = 11;
    private const int DistanceBits = 9;
    private const int LiteralSymbols = 288;
    private const int DistanceSymbols = 32;

    /// <summary>Bytes that one turn of the fast loop may write: three entries of literals and a match, copied in steps of 8.</summary>
    private const int Room = 6 + 258 + 8;

    private static readonly uint[] s_literals = LiteralEntries();
    private static readonly uint[] s_distances = DistanceEntries();
    private static readonly uint[] s_lengths = [.. Enumerable.Range(0, 19).Select(i => (uint)i << 16 | InflateTable.Literal)];

    [ThreadStatic]
    private static Inflater? s_own;

    private readonly InflateTable _literals = new(LiteralBits, LiteralSymbols);
    private readonly InflateTable _distances = new(DistanceBits, DistanceSymbols);
    private readonly InflateTable _lengths = new(7, 19);

    private ulong _buffer;
    private int _bits;
    private int _from;
    private int _to;

    /// <summary>The inflater of this thread.</summary>
    public static Inflater Own => s_own ??= new Inflater();

    /// <summary>Fills the target; false where the stream is damaged or ends before it is full.</summary>
    public bool TryInflate(ReadOnlySpan<byte> stored, Span<byte> target)
    {
        bool isZlib = stored.Length >= 2 && (stored[0] & 15) == 8 && (stored[0] << 8 | stored[1]) % 31 == 0 && (stored[1] & 32) == 0;
        (_buffer, _bits, _from, _to) = (0, 0, 2, 0);
        for (bool last = false; isZlib && !last && _to < target.Length;)
        {
            Refill(stored);
            if (_bits < 3)
            {
                return false;
            }

            last = (_buffer & 1) != 0;
            int kind = (int)(_buffer >> 1) & 3;
            Drop(3);
            bool read = kind switch
            {
                0 => Copy(stored, target),
                1 => UseFixed() && Decode(stored, target),
                2 => ReadCodes(stored) && Decode(stored, target),
                _ => false,
            };
            if (!read)
            {
                return false;
            }
        }

        return isZlib && _to == target.Length;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Drop(int bits)
    {
        _buffer >>= bits;
        _bits -= bits;
    }

    /// <summary>At least 56 bits, or all that there are.</summary>
    private void Refill(ReadOnlySpan<byte> stored)
    {
        while (_bits < 56 && _from < stored.Length)
        {
            _buffer |= (ulong)stored[_from++] << _bits;
            _bits += 8;
        }
    }

    /// <summary>A block that is not packed.</summary>
    private bool Copy(ReadOnlySpan<byte> stored, Span<byte> target)
    {
        Drop(_bits & 7);
        _from -= _bits >> 3;
        (_buffer, _bits) = (0, 0);
        if (_from + 4 > stored.Length)
        {
            return false;
        }

        int length = BinaryPrimitives.ReadUInt16LittleEndian(stored[_from..]), check = BinaryPrimitives.ReadUInt16LittleEndian(stored[(_from + 2)..]);
        _from += 4;
        int wanted = Math.Min(length, target.Length - _to);
        if ((length ^ check) != 0xFFFF || _from + wanted > stored.Length)
        {
            return false;
        }

        stored.Slice(_from, wanted).CopyTo(target[_to..]);
        _from += wanted;
        _to += wanted;
        return true;
    }

    private bool UseFixed()
    {
        Span<byte> lengths = stackalloc byte[LiteralSymbols];
        lengths[..144].Fill(8);
        lengths[144..256].Fill(9);
        lengths[256..280].Fill(7);
        lengths[280..].Fill(8);
        Span<byte> distances = stackalloc byte[DistanceSymbols];
        distances.Fill(5);
        return Build(lengths, distances);
    }

    private bool Build(ReadOnlySpan<byte> lengths, ReadOnlySpan<byte> distances)
    {
        bool built = _literals.Build(lengths, s_literals) && _distances.Build(distances, s_distances);
        if (built)
        {
            _literals.PairLiterals();
        }

        return built;
    }

    /// <summary>The code lengths of a block, which are packed themselves.</summary>
    private bool ReadCodes(ReadOnlySpan<byte> stored)
    {
        ReadOnlySpan<byte> order = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];
        Refill(stored);
        int literals = (int)(_buffer & 31) + 257, distances = (int)(_buffer >> 5 & 31) + 1, count = (int)(_buffer >> 10 & 15) + 4;
        if (_bits < 14 || literals > 286)
        {
            return false;
        }

        Drop(14);
        Span<byte> ofLengths = stackalloc byte[19], lengths = stackalloc byte[286 + DistanceSymbols];
        ofLengths.Clear();
        lengths.Clear();
        for (int i = 0; i < count; i++)
        {
            Refill(stored);
            if (_bits < 3)
            {
                return false;
            }

            ofLengths[order[i]] = (byte)(_buffer & 7);
            Drop(3);
        }

        if (!_lengths.Build(ofLengths, s_lengths))
        {
            return false;
        }

        for (int at = 0; at < literals + distances;)
        {
            Refill(stored);
            uint entry = _lengths.Entries[_buffer & _lengths.Mask];
            int bits = (int)(entry & 0xFF), symbol = (int)(entry >> 16);
            (int extra, int least) = symbol switch { 16 => (2, 3), 17 => (3, 3), 18 => (7, 11), _ => (0, 1) };
            if (entry == 0 || bits + extra > _bits || (symbol == 16 && at == 0))
            {
                return false;
            }

            int times = least + (int)(_buffer >> bits & ((1UL << extra) - 1));
            Drop(bits + extra);
            if (at + times > literals + distances)
            {
                return false;
            }

            lengths.Slice(at, times).Fill(symbol < 16 ? (byte)symbol : symbol == 16 ? lengths[at - 1] : (byte)0);
            at += times;
        }

        return lengths[256] != 0 && Build(lengths[..literals], lengths.Slice(literals, distances));
    }

    private bool Decode(ReadOnlySpan<byte> stored, Span<byte> target)
    {
        return DecodeFast(stored, target) switch { Fast.End => true, Fast.Damaged => false, _ => DecodeSlow(stored, target) };
    }

    private enum Fast
    {
        End,
        Damaged,
        NearEdge,
    }

    /// <summary>Decodes while neither the end of the stored bytes nor that of the target is near.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private Fast DecodeFast(ReadOnlySpan<byte> stored, Span<byte> target)
    {
        ref byte source = ref MemoryMarshal.GetReference(stored);
        ref byte first = ref MemoryMarshal.GetReference(target);
        ref uint literals = ref MemoryMarshal.GetArrayDataReference(_literals.Entries);
        ref uint distances = ref MemoryMarshal.GetArrayDataReference(_distances.Entries);
        uint literalMask = _literals.Mask, distanceMask = _distances.Mask;
        ulong buffer = _buffer;
        int bits = _bits, from = _from, to = _to;
        int lastFrom = stored.Length - 8, lastTo = target.Length - Room;
        Fast result = Fast.NearEdge;
        // Written out flat and in locals, so that the compiler keeps them in registers.
        while (from <= lastFrom && to <= lastTo)
        {
            buffer |= Word(ref Unsafe.Add(ref source, from)) << bits;
            from += (63 - bits) >> 3;
            bits |= 56;
            uint entry = Unsafe.Add(ref literals, (nint)(buffer & literalMask));
            if ((entry & InflateTable.Literal) != 0)
            {
                // Three entries take 33 bits at most, and 56 are there.
                Put(ref Unsafe.Add(ref first, to), entry);
                to += 1 + (int)(entry >> 14 & 1);
                buffer >>= (int)(entry & 0xFF);
                bits -= (int)(entry & 0xFF);
                entry = Unsafe.Add(ref literals, (nint)(buffer & literalMask));
                if ((entry & InflateTable.Literal) != 0)
                {
                    Put(ref Unsafe.Add(ref first, to), entry);
                    to += 1 + (int)(entry >> 14 & 1);
                    buffer >>= (int)(entry & 0xFF);
                    bits -= (int)(entry & 0xFF);
                    entry = Unsafe.Add(ref literals, (nint)(buffer & literalMask));
                    if ((entry & InflateTable.Literal) != 0)
                    {
                        Put(ref Unsafe.Add(ref first, to), entry);
                        to += 1 + (int)(entry >> 14 & 1);
                        buffer >>= (int)(entry & 0xFF);
                        bits -= (int)(entry & 0xFF);
                        continue;
                    }
                }

                // A length and a distance may take 48 bits.
                if (from > lastFrom)
                {
                    break;
                }

                buffer |= Word(ref Unsafe.Add(ref source, from)) << bits;
                from += (63 - bits) >> 3;
                bits |= 56;
            }

            if ((entry & InflateTable.Further) == InflateTable.Further)
            {
                entry = Unsafe.Add(ref literals, (nint)((entry >> 16) + (uint)(buffer >> LiteralBits & ((1UL << (int)(entry & 0xFF)) - 1))));
                if ((entry & InflateTable.Literal) != 0)
                {
                    Put(ref Unsafe.Add(ref first, to), entry);
                    to += 1 + (int)(entry >> 14 & 1);
                    buffer >>= (int)(entry & 0xFF);
                    bits -= (int)(entry & 0xFF);
                    continue;
                }
            }

            int code = (int)(entry & 0xFF), extra = (int)(entry >> 8 & 31);
            if (entry == 0 || (entry & InflateTable.End) != 0)
            {
                buffer >>= code;
                bits -= code;
                result = entry == 0 ? Fast.Damaged : Fast.End;
                break;
            }

            int length = (int)(entry >> 16) + (int)(buffer >> code & ((1UL << extra) - 1));
            buffer >>= code + extra;
            bits -= code + extra;
            uint way = Unsafe.Add(ref distances, (nint)(buffer & distanceMask));
            if ((way & InflateTable.Further) == InflateTable.Further)
            {
                way = Unsafe.Add(ref distances, (nint)((way >> 16) + (uint)(buffer >> DistanceBits & ((1UL << (int)(way & 0xFF)) - 1))));
            }

            code = (int)(way & 0xFF);
            extra = (int)(way >> 8 & 31);
            int distance = (int)(way >> 16) + (int)(buffer >> code & ((1UL << extra) - 1));
            buffer >>= code + extra;
            bits -= code + extra;
            if (way == 0 || distance > to)
            {
                result = Fast.Damaged;
                break;
            }

            Repeat(ref first, to, distance, length);
            to += length;
        }

        // Bits beyond those that count belong to bytes not yet taken.
        (_buffer, _bits, _from, _to) = (buffer & ((1UL << bits) - 1), bits, from, to);
        return result;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Put(ref byte at, uint entry)
    {
        ushort two = (ushort)(entry >> 16);
        Unsafe.WriteUnaligned(ref at, BitConverter.IsLittleEndian ? two : BinaryPrimitives.ReverseEndianness(two));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static ulong Word(ref byte at)
    {
        ulong word = Unsafe.ReadUnaligned<ulong>(ref at);
        return BitConverter.IsLittleEndian ? word : BinaryPrimitives.ReverseEndianness(word);
    }

    /// <summary>Copies what stands so far back; up to seven bytes beyond the length may be written.</summary>
    private static void Repeat(ref byte first, int to, int distance, int length)
    {
        ref byte target = ref Unsafe.Add(ref first, to);
        ref byte source = ref Unsafe.Add(ref first, to - distance);
        if (distance >= 8)
        {
            for (int i = 0; i < length; i += 8)
            {
                Unsafe.WriteUnaligned(ref Unsafe.Add(ref target, i), Unsafe.ReadUnaligned<ulong>(ref Unsafe.Add(ref source, i)));
            }
        }
        else if (distance == 1)
        {
            Unsafe.InitBlockUnaligned(ref target, source, (uint)length);
        }
        else
        {
            for (int i = 0; i < length; i++)
            {
                Unsafe.Add(ref target, i) = Unsafe.Add(ref source, i);
            }
        }
    }

    /// <summary>Decodes symbol by symbol up to the very edge.</summary>
    private bool DecodeSlow(ReadOnlySpan<byte> stored, Span<byte> target)
    {
        while (_to < target.Length)
        {
            Refill(stored);
            uint entry = Next(_literals);
            if (entry == 0 || (entry & 0xFF) > _bits)
            {
                return false;
            }

            if ((entry & InflateTable.Literal) != 0)
            {
                Drop((int)(entry & 0xFF));
                target[_to++] = (byte)(entry >> 16);
                if ((entry & InflateTable.Pair) != 0 && _to < target.Length)
                {
                    target[_to++] = (byte)(entry >> 24);
                }

                continue;
            }

            if ((entry & InflateTable.End) != 0)
            {
                Drop((int)(entry & 0xFF));
                return true;
            }

            if (!TryValue(entry, out int length) || Next(_distances) is var way && way == 0 || !TryValue(way, out int distance) || distance > _to)
            {
                return false;
            }

            for (int end = Math.Min(target.Length, _to + length); _to < end; _to++)
            {
                target[_to] = target[_to - distance];
            }
        }

        return true;
    }

    private uint Next(InflateTable table)
    {
        uint entry = table.Entries[_buffer & table.Mask];
        return (entry & InflateTable.Further) == InflateTable.Further && (entry & InflateTable.Literal) == 0
            ? table.Entries[(entry >> 16) + (uint)(_buffer >> table.MainBits & ((1UL << (int)(entry & 0xFF)) - 1))]
            : entry;
    }

    private bool TryValue(uint entry, out int value)
    {
        int code = (int)(entry & 0xFF), extra = (int)(entry >> 8 & 31);
        value = (int)(entry >> 16) + (int)(_buffer >> code & ((1UL << extra) - 1));
        bool there = code + extra <= _bits;
        Drop(there ? code + extra : 0);
        return there;
    }

    private static uint[] LiteralEntries()
    {
        ReadOnlySpan<ushort> bases = [3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131, 163, 195, 227, 258];
        ReadOnlySpan<byte> extras = [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0];
        uint[] entries = new uint[LiteralSymbols];
        for (uint i = 0; i < 256; i++)
        {
            entries[i] = i << 16 | InflateTable.Literal;
        }

        entries[256] = InflateTable.End;
        for (int i = 0; i < bases.Length; i++)
        {
            entries[257 + i] = (uint)bases[i] << 16 | (uint)extras[i] << 8;
        }

        return entries; // 286 and 287 are no symbols
    }

    private static uint[] DistanceEntries()
    {
        uint[] entries = new uint[DistanceSymbols];
        for (int i = 0; i < 30; i++)
        {
            int extra = Math.Max(0, i / 2 - 1);
            uint least = i < 4 ? (uint)i + 1 : (2u + (uint)(i & 1) << extra) + 1;
            entries[i] = least << 16 | (uint)extra << 8;
        }

        return entries;
    }
}
