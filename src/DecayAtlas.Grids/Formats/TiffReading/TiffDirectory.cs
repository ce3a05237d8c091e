using System.Buffers.Binary;
using System.Text;

namespace DecayAtlas.Grids.Formats.TiffReading;

/// <summary>
/// One image directory of a TIFF or BigTIFF: its tags, read here and not by the codec library so that no count
/// in a damaged or hostile file can claim more memory than the file has bytes, and so that private tags need no
/// registration.
/// </summary>
internal sealed class TiffDirectory(string path, Stream stream)
{
    /// <summary>Most numbers of a tag: the blocks of a file of a million by a million cells in tiles of 256.</summary>
    private const int MaxNumbers = 1 << 24;

    private static readonly int[] TypeSizes = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8, 8, 8];

    private readonly Dictionary<int, Entry> _entries = [];
    private readonly Lock _gate = new();
    private ulong _offset;
    private ulong _next;

    public bool IsBigEndian { get; private set; }

    public bool IsBigTiff { get; private set; }

    public long FileLength => stream.Length;

    /// <summary>Whether each look into the file may be a request over the network; then numbers are best asked for one by one.</summary>
    public bool IsFar => stream is RemoteStream;

    public static bool Recognises(ReadOnlySpan<byte> head) =>
        head.Length >= 4
        && ((head[0] == 'I' && head[1] == 'I' && head[2] is 42 or 43 && head[3] == 0)
            || (head[0] == 'M' && head[1] == 'M' && head[2] == 0 && head[3] is 42 or 43));

    /// <summary>Reads the first directory; the stream must stay open while tags are asked for.</summary>
    public static TiffDirectory Read(string path, Stream stream)
    {
        TiffDirectory directory = new(path, stream);
        directory.ReadEntries(directory.ReadHeader());
        return directory;
    }

    /// <summary>The directories that follow this one in the file (overviews, masks), at most 64; a chain that bites its tail is
    /// refused.</summary>
    public IEnumerable<TiffDirectory> Following()
    {
        HashSet<ulong> seen = [_offset];
        for (TiffDirectory last = this; last._next != 0 && seen.Count <= 64;)
        {
            if (!seen.Add(last._next))
                throw Damaged("its directories follow each other in a circle");

            TiffDirectory next = new(path, stream) { IsBigEndian = IsBigEndian, IsBigTiff = IsBigTiff };
            next.ReadEntries(last._next);
            yield return next;
            last = next;
        }
    }

    public bool Has(int tag) => _entries.ContainsKey(tag);

    /// <summary>How many values the tag holds; 0 where it is absent.</summary>
    public long CountOf(int tag) => _entries.TryGetValue(tag, out Entry entry) ? entry.Count : 0;

    /// <summary>The tag's first value as a whole number, or the default where the tag is absent.</summary>
    public long Integer(int tag, long whenAbsent)
    {
        double[] values = Numbers(tag);
        return values.Length == 0 ? whenAbsent : (long)values[0];
    }

    /// <summary>The tag's values as numbers; empty where the tag is absent.</summary>
    public double[] Numbers(int tag)
    {
        if (!_entries.TryGetValue(tag, out Entry entry))
            return [];

        if (entry.Count > MaxNumbers)
            throw Damaged($"one of its tags holds {entry.Count} numbers, and no more than {MaxNumbers} were expected");

        byte[] bytes = Bytes(entry);
        int size = TypeSizes[entry.Type];
        double[] values = new double[entry.Count];
        for (int i = 0; i < values.Length; i++)
            values[i] = Number(entry.Type, bytes.AsSpan(i * size, size));

        return values;
    }

    /// <summary>One of the tag's values; several threads may ask at once.</summary>
    public double Number(int tag, int index)
    {
        Entry entry = _entries[tag];
        int size = TypeSizes[entry.Type];
        lock (_gate)
            return Number(entry.Type, At((ulong)(entry.Where + (long)index * size), size));
    }

    /// <summary>Fetches values of a tag that will be asked for one by one.</summary>
    public void Prepare(int tag, IEnumerable<int> indexes)
    {
        if (stream is RemoteStream far && _entries.TryGetValue(tag, out Entry entry))
            far.File.PreparePages(indexes.Select(i => entry.Where + (long)i * TypeSizes[entry.Type]));
    }

    /// <summary>The tag's text up to its closing zero; null where the tag is absent.</summary>
    public string? Text(int tag) => _entries.TryGetValue(tag, out Entry entry)
        ? Encoding.UTF8.GetString(Bytes(entry)).TrimEnd('\0')
        : null;

    private ulong ReadHeader()
    {
        byte[] header = At(0, 16, allowShort: true);
        IsBigEndian = header[0] == 'M';
        IsBigTiff = U16(header.AsSpan(2)) == 43;
        return IsBigTiff ? U64(header.AsSpan(8)) : U32(header.AsSpan(4));
    }

    private void ReadEntries(ulong offset)
    {
        _offset = offset;
        int countSize = IsBigTiff ? 8 : 2;
        byte[] countBytes = At(offset, countSize);
        ulong count = IsBigTiff ? U64(countBytes) : U16(countBytes);
        int entrySize = IsBigTiff ? 20 : 12;
        int inlineSize = IsBigTiff ? 8 : 4;
        if (count > 4096)
            throw Damaged($"its directory claims {count} tags");

        byte[] table = At(offset + (ulong)countSize, (int)count * entrySize);
        // The place of the next directory; a file that ends before it has none.
        byte[] next = At(offset + (ulong)(countSize + (int)count * entrySize), inlineSize, allowShort: true);
        _next = IsBigTiff ? U64(next) : U32(next);
        for (int i = 0; i < (int)count; i++)
        {
            Span<byte> raw = table.AsSpan(i * entrySize, entrySize);
            int tag = U16(raw);
            int type = U16(raw[2..]);
            ulong values = IsBigTiff ? U64(raw[4..]) : U32(raw[4..]);
            Span<byte> field = raw[^inlineSize..];
            if (type >= TypeSizes.Length || TypeSizes[type] == 0)
                continue; // a type unknown to the format: readers skip such a tag

            ulong size = (ulong)TypeSizes[type];
            if (values > (ulong)FileLength / size)
                throw Damaged($"tag {tag} claims {values} values, more than the file has bytes for");

            ulong bytes = values * size;
            bool isInline = bytes <= (ulong)inlineSize;
            ulong where = isInline
                ? offset + (ulong)(countSize + (i + 1) * entrySize - inlineSize)
                : IsBigTiff ? U64(field) : U32(field);
            if (where > (ulong)FileLength - bytes)
                throw Damaged($"tag {tag} points past the end of the file");

            _entries[tag] = new Entry(type, (long)values, (long)where);
        }
    }

    private byte[] Bytes(Entry entry)
    {
        long length = entry.Count * TypeSizes[entry.Type];
        return length <= Array.MaxLength ? At((ulong)entry.Where, (int)length) : throw Damaged($"one of its tags is {length} bytes long");
    }

    private byte[] At(ulong offset, int length, bool allowShort = false)
    {
        if (!allowShort && (offset > (ulong)FileLength || (ulong)length > (ulong)FileLength - offset))
            throw Damaged($"it ends after {FileLength} bytes, before its directory does");

        byte[] bytes = new byte[length];
        stream.Position = (long)offset;
        stream.ReadAtLeast(bytes, length, throwOnEndOfStream: !allowShort);
        return bytes;
    }

    private double Number(int type, ReadOnlySpan<byte> bytes) => type switch
    {
        1 or 2 or 7 => bytes[0],
        3 => U16(bytes),
        4 or 13 => U32(bytes),
        5 => (double)U32(bytes) / U32(bytes[4..]),
        6 => (sbyte)bytes[0],
        8 => (short)U16(bytes),
        9 => (int)U32(bytes),
        10 => (double)(int)U32(bytes) / (int)U32(bytes[4..]),
        11 => BitConverter.UInt32BitsToSingle(U32(bytes)),
        12 => BitConverter.UInt64BitsToDouble(U64(bytes)),
        17 => (long)U64(bytes),
        _ => U64(bytes),
    };

    private ushort U16(ReadOnlySpan<byte> b) =>
        IsBigEndian ? BinaryPrimitives.ReadUInt16BigEndian(b) : BinaryPrimitives.ReadUInt16LittleEndian(b);

    private uint U32(ReadOnlySpan<byte> b) =>
        IsBigEndian ? BinaryPrimitives.ReadUInt32BigEndian(b) : BinaryPrimitives.ReadUInt32LittleEndian(b);

    private ulong U64(ReadOnlySpan<byte> b) =>
        IsBigEndian ? BinaryPrimitives.ReadUInt64BigEndian(b) : BinaryPrimitives.ReadUInt64LittleEndian(b);

    private GridException Damaged(string what) =>
        new($"{path} is not a whole TIFF: {what}; fetch or make the file again.");

    private readonly record struct Entry(int Type, long Count, long Where);
}
