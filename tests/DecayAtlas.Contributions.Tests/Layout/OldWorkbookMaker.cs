using System.Buffers.Binary;
using System.Text;

namespace DecayAtlas.Contributions.Tests.Layout;

/// <summary>A workbook of the old format with one sheet of texts and numbers: records (MS-XLS 2.4) in a compound file of two sectors and
/// more (MS-CFB 2).</summary>
internal static class OldWorkbookMaker
{
    private const int Sector = 512;

    private static readonly Lazy<byte[]> Made = new(Make);

    public static byte[] Bytes => [.. Made.Value];

    private static byte[] Make()
    {
        List<byte> globals = [.. Record(0x809, [0, 6, 5, 0, .. new byte[12]]), .. Record(0x42, [0xB0, 4])];
        for (int i = 0; i < 5; i++)
            globals.AddRange(Record(0x31, [200, 0, 0, 0, 0xFF, 0x7F, 0x90, 1, 0, 0, 0, 0, 0, 0, 1, 0, (byte)'A']));
        globals.AddRange(Record(0xE0, new byte[20]));
        byte[] yellow = new byte[20];
        BinaryPrimitives.WriteUInt32LittleEndian(yellow.AsSpan(14), 1u << 26);
        yellow[18] = 13;
        globals.AddRange(Record(0xE0, yellow));
        int sheetAt = globals.Count + 4 + 12 + 4;
        globals.AddRange(Record(0x85, [.. BitConverter.GetBytes(sheetAt), 0, 0, 4, 0, .. "Data"u8]));
        globals.AddRange(Record(0x0A, []));
        List<byte> sheet = [.. Record(0x809, [0, 6, 0x10, 0, .. new byte[12]])];
        sheet.AddRange(Record(0x200, [0, 0, 0, 0, 4, 0, 0, 0, 0, 0, 2, 0, 0, 0]));
        sheet.AddRange([.. Label(0, 0, "bag"), .. Label(0, 1, "mass (g)")]);
        for (int row = 1; row < 4; row++)
            sheet.AddRange([.. Label(row, 0, $"B{row}"), .. Number(row, 1, 2 + row / 10.0, look: row == 2 ? 1 : 0)]);
        sheet.AddRange(Record(0x0A, []));
        List<byte> stream = [.. globals, .. sheet];
        stream.AddRange(new byte[Math.Max(4096, (stream.Count + Sector - 1) / Sector * Sector) - stream.Count]);
        return InCompoundFile([.. stream]);
    }

    private static byte[] InCompoundFile(byte[] stream)
    {
        int sectors = stream.Length / Sector;
        byte[] head = new byte[Sector];
        ReadOnlySpan<byte> mark = [0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1];
        mark.CopyTo(head);
        (int At, ushort Value)[] words = [(24, 0x3E), (26, 3), (28, 0xFFFE), (30, 9), (32, 6), (44, 1), (48, 1), (56, 4096)];
        foreach ((int at, ushort value) in words)
            BinaryPrimitives.WriteUInt16LittleEndian(head.AsSpan(at), value);
        BinaryPrimitives.WriteInt32LittleEndian(head.AsSpan(60), -2);
        BinaryPrimitives.WriteInt32LittleEndian(head.AsSpan(68), -2);
        for (int i = 1; i < 109; i++)
            BinaryPrimitives.WriteInt32LittleEndian(head.AsSpan(76 + 4 * i), -1);
        byte[] table = new byte[Sector];
        table.AsSpan().Fill(0xFF);
        BinaryPrimitives.WriteInt32LittleEndian(table, -3);
        BinaryPrimitives.WriteInt32LittleEndian(table.AsSpan(4), -2);
        for (int i = 0; i < sectors; i++)
            BinaryPrimitives.WriteInt32LittleEndian(table.AsSpan(8 + 4 * i), i + 1 < sectors ? i + 3 : -2);
        return [.. head, .. table, .. Entry("Root Entry", 5, 1, -2, 0), .. Entry("Workbook", 2, -1, 2, stream.Length), .. new byte[2 * 128],
            .. stream];
    }

    private static byte[] Entry(string name, byte kind, int child, int first, int length)
    {
        byte[] entry = new byte[128];
        Encoding.Unicode.GetBytes(name, entry);
        BinaryPrimitives.WriteUInt16LittleEndian(entry.AsSpan(64), (ushort)(2 * name.Length + 2));
        (entry[66], entry[67]) = (kind, 1);
        foreach ((int at, int value) in new[] { (68, -1), (72, -1), (76, child), (116, first), (120, length) })
            BinaryPrimitives.WriteInt32LittleEndian(entry.AsSpan(at), value);
        return entry;
    }

    private static byte[] Label(int row, int column, string text) =>
        Record(0x204, [(byte)row, 0, (byte)column, 0, 0, 0, (byte)text.Length, 0, 0, .. Encoding.Latin1.GetBytes(text)]);

    private static byte[] Number(int row, int column, double value, int look) =>
        Record(0x203, [(byte)row, 0, (byte)column, 0, (byte)look, 0, .. BitConverter.GetBytes(value)]);

    private static byte[] Record(int kind, byte[] data) =>
        [(byte)kind, (byte)(kind >> 8), (byte)data.Length, (byte)(data.Length >> 8), .. data];
}
