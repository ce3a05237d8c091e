using System.Buffers.Binary;

namespace DecayAtlas.Contributions.Sheets;

/// <summary>Takes one stream out of a compound file (the container of old office files): sectors that are chained by a table.</summary>
internal static class CompoundFile
{
    private const uint LastUsed = 0xFFFFFFFA;
    private const int DirectoryEntry = 128;
    private const int PlaceOfShift = 30, PlaceOfMiniShift = 32;

    /// <summary>Whether sectors are as long as they may be (MS-CFB, 2.2): 512 or 4096 bytes, small ones 64. Who reads takes memory for
    /// whole sectors.</summary>
    public static bool HasKnownSectors(ReadOnlySpan<byte> file) => file.Length >= 512
        && BinaryPrimitives.ReadUInt16LittleEndian(file[PlaceOfShift..]) is 9 or 12
        && BinaryPrimitives.ReadUInt16LittleEndian(file[PlaceOfMiniShift..]) is 6;

    /// <returns>Null where there is no such stream, or the chains are broken.</returns>
    public static byte[]? Stream(ReadOnlySpan<byte> file, ReadOnlySpan<string> names)
    {
        if (!HasKnownSectors(file))
            return null;
        int shift = BinaryPrimitives.ReadUInt16LittleEndian(file[PlaceOfShift..]);
        int mini = BinaryPrimitives.ReadUInt16LittleEndian(file[PlaceOfMiniShift..]);
        int sector = 1 << shift;
        uint[]? table = Table(file, sector);
        byte[]? directory = table is null ? null : Chain(file, table, Int(file, 48), sector, sector, int.MaxValue);
        if (directory is null)
            return null;
        int root = -1;
        for (int at = 0; at + DirectoryEntry <= directory.Length; at += DirectoryEntry)
        {
            int letters = Math.Clamp(BinaryPrimitives.ReadUInt16LittleEndian(directory.AsSpan(at + 64)) / 2 - 1, 0, 31);
            string name = System.Text.Encoding.Unicode.GetString(directory, at, 2 * letters);
            root = directory[at + 66] == 5 && root < 0 ? at : root;
            if (!names.Contains(name))
                continue;
            uint first = Int(directory, at + 116), length = Int(directory, at + 120);
            if (length > file.Length)
                return null;
            if (length >= Int(file, 56) || root < 0)
                return Chain(file, table!, first, sector, sector, (int)length);
            byte[]? small = Chain(file, table!, Int(directory, root + 116), sector, sector, int.MaxValue);
            byte[]? smallTable = Chain(file, table!, Int(file, 60), sector, sector, int.MaxValue);
            return small is null || smallTable is null ? null : Chain(small, Words(smallTable), first, 1 << mini, 0, (int)length);
        }
        return null;
    }

    private static uint[]? Table(ReadOnlySpan<byte> file, int sector)
    {
        List<uint> places = [];
        for (int i = 0; i < 109; i++)
            places.Add(Int(file, 76 + 4 * i));
        uint next = Int(file, 68);
        for (int steps = 0; next < LastUsed && steps < file.Length / sector; steps++)
        {
            long from = (next + 1L) * sector;
            if (from + sector > file.Length)
                return null;
            for (int i = 0; i < sector / 4 - 1; i++)
                places.Add(Int(file, (int)from + 4 * i));
            next = Int(file, (int)from + sector - 4);
        }
        List<uint> table = [];
        foreach (uint place in places.Where(place => place < LastUsed))
        {
            long from = (place + 1L) * sector;
            if (from + sector > file.Length || table.Count > file.Length)
                return null;
            table.AddRange(Words(file.Slice((int)from, sector)));
        }
        return [.. table];
    }

    private static byte[]? Chain(ReadOnlySpan<byte> file, uint[] table, uint first, int sector, int before, int length)
    {
        MemoryStream bytes = new();
        uint at = first;
        for (int steps = 0; at < LastUsed && bytes.Length < length; steps++)
        {
            long from = (long)at * sector + before;
            if (at >= table.Length || from >= file.Length || steps > table.Length)
                return null;
            bytes.Write(file.Slice((int)from, (int)Math.Min(sector, file.Length - from)));
            at = table[at];
        }
        if (length != int.MaxValue && bytes.Length > length)
            bytes.SetLength(length);
        return bytes.ToArray();
    }

    private static uint[] Words(ReadOnlySpan<byte> bytes)
    {
        uint[] words = new uint[bytes.Length / 4];
        for (int i = 0; i < words.Length; i++)
            words[i] = BinaryPrimitives.ReadUInt32LittleEndian(bytes[(4 * i)..]);
        return words;
    }

    private static uint Int(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadUInt32LittleEndian(bytes[at..]);
}
