using System.Text;

namespace DecayAtlas.Grids.Formats.GeoTiff;

/// <summary>One image directory as TIFF 6.0 (section 2) or BigTIFF lays it out, least byte first; what does not fit the table follows
/// it.</summary>
internal sealed class TiffDirectoryBytes(bool isBig)
{
    private const int Ascii = 2, Short = 3, Long = 4, Double = 12, Long8 = 16;

    // by tag, as the format demands
    private readonly SortedDictionary<int, (int Type, long Count, Func<byte[]> Bytes)> _entries = [];

    private int Inline => isBig ? 8 : 4;

    private int EntryBytes => isBig ? 20 : 12;

    private int TableBytes => (isBig ? 8 : 2) + _entries.Count * EntryBytes + Inline;

    /// <summary>Of the whole directory, an even number.</summary>
    public long Length => _entries.Values.Aggregate((long)Even(TableBytes), (sum, entry) => sum + Outside(entry.Type, entry.Count));

    public void SetShorts(int tag, params short[] values) =>
        _entries[tag] = (Short, values.Length, () => Packed(values.Select(v => (long)v), 2));

    public void SetNumbers(int tag, params int[] values) =>
        _entries[tag] = (Long, values.Length, () => Packed(values.Select(v => (long)v), 4));

    /// <summary>Places in the file; they may be filled in until the directory is written.</summary>
    public void SetPlaces(int tag, long[] values) =>
        _entries[tag] = (isBig ? Long8 : Long, values.Length, () => Packed(values, isBig ? 8 : 4));

    public void SetDoubles(int tag, params double[] values) =>
        _entries[tag] = (Double, values.Length, () => Packed(values.Select(BitConverter.DoubleToInt64Bits), 8));

    public void SetText(int tag, string text)
    {
        byte[] bytes = Encoding.ASCII.GetBytes(text + '\0');
        _entries[tag] = (Ascii, bytes.Length, () => bytes);
    }

    /// <param name="at">Where the directory begins in the file.</param>
    /// <param name="next">Where the next one begins; 0 after the last.</param>
    public void Write(Stream to, long at, long next)
    {
        byte[] table = new byte[Even(TableBytes)];
        Span<byte> left = table;
        left = left[Put(left, _entries.Count, isBig ? 8 : 2)..];
        long outside = at + table.Length;
        List<byte[]> after = [];
        foreach ((int tag, (int type, long count, Func<byte[]> bytesOf)) in _entries)
        {
            Put(left, tag, 2);
            Put(left[2..], type, 2);
            Put(left[4..], count, Inline);
            byte[] bytes = bytesOf();
            if (Outside(type, count) == 0)
            {
                bytes.CopyTo(left[(EntryBytes - Inline)..]);
            }
            else
            {
                Put(left[(EntryBytes - Inline)..], outside, Inline);
                outside += Outside(type, count);
                after.Add(bytes);
            }

            left = left[EntryBytes..];
        }

        Put(left, next, Inline);
        to.Write(table);
        foreach (byte[] bytes in after)
        {
            to.Write(bytes);
            to.Write(new byte[bytes.Length % 2]);
        }
    }

    /// <summary>Writes a number in so many bytes, and says how many.</summary>
    public static int Put(Span<byte> to, long value, int bytes)
    {
        for (int i = 0; i < bytes; i++)
            to[i] = (byte)(value >> (8 * i));
        return bytes;
    }

    private static int Even(int bytes) => bytes + bytes % 2;

    private long Outside(int type, long count)
    {
        long bytes = count * type switch { Ascii => 1, Short => 2, Long => 4, _ => 8 };
        return bytes <= Inline ? 0 : bytes + bytes % 2;
    }

    private static byte[] Packed(IEnumerable<long> values, int size)
    {
        long[] all = [.. values];
        byte[] bytes = new byte[all.Length * size];
        for (int i = 0; i < all.Length; i++)
            Put(bytes.AsSpan(i * size), all[i], size);
        return bytes;
    }
}
