using System.Buffers.Binary;

namespace DecayAtlas.Contributions.Sheets;

/// <summary>What a person sees of an old workbook besides values, from its records (BIFF8): hidden rows, columns and sheets, colours,
/// crossed-out cells, merged cells. What cannot be made out is not there.</summary>
internal sealed class OldLooks
{
    // The first 56 colours by their numbers from 8 on, where the file brings none of its own; those in use are near enough.
    private readonly string[] _palette = XlsxStyles.Palette;
    private readonly List<(bool IsStruck, int Colour)> _fonts = [];
    private readonly List<CellFace> _faces = [];
    private readonly List<(string Name, int Offset, bool IsHidden)> _sheets = [];
    private readonly ReadingTime _time;
    private readonly byte[] _bytes;
    private int _held;

    private OldLooks(byte[] bytes, ReadingTime time) => (_bytes, _time) = (bytes, time);

    public static Dictionary<string, SeenSheet> Read(ReadOnlyMemory<byte> file, ReadingTime time)
    {
        Dictionary<string, SeenSheet> seen = [];
        try
        {
            if (CompoundFile.Stream(file.Span, ["Workbook", "Book"]) is { } bytes)
                new OldLooks(bytes, time).Into(seen);
        }
        catch (Exception fault) when (fault is ArgumentException or IndexOutOfRangeException or OverflowException)
        {
            // values were read, and how they look is more than what is needed of them
        }
        return seen;
    }

    private void Into(Dictionary<string, SeenSheet> seen)
    {
        List<(int Font, int Pattern, int Colour)> formats = [];
        foreach ((int kind, ReadOnlyMemory<byte> data) in Records(0))
        {
            ReadOnlySpan<byte> record = data.Span;
            switch (kind)
            {
                case 0x31:   // a font
                    _fonts.Add(((Short(record, 2) & 8) != 0, Short(record, 4)));
                    if (_fonts.Count == 4)
                        _fonts.Add((false, 0));   // there is no font 4
                    break;
                case 0x92:   // colours of the file's own
                    for (int i = 0; i < Short(record, 0) && 2 + 4 * i + 3 <= record.Length && i < _palette.Length; i++)
                        _palette[i] = Convert.ToHexString(record.Slice(2 + 4 * i, 3));
                    break;
                case 0xE0 when record.Length >= 20:   // the look of cells
                    formats.Add((Short(record, 0), (int)(BinaryPrimitives.ReadUInt32LittleEndian(record[14..]) >> 26), Short(record,
                        18) & 0x7F));
                    break;
                case 0x85 when record.Length > 8:   // a sheet
                    _sheets.Add((Name(record[6..]), (int)BinaryPrimitives.ReadUInt32LittleEndian(record), (record[4] & 3) != 0));
                    break;
            }
        }
        _faces.AddRange(formats.Select(format =>
        {
            (bool isStruck, int ink) = _fonts.ElementAtOrDefault(format.Font);
            CellFace face = new(format.Pattern > 0 ? Drawn(format.Colour) : null, isStruck, null, false, CellFace.InkOf(Drawn(ink)));
            return face == CellFace.Plain ? CellFace.Plain : face;
        }));
        foreach ((string name, int offset, bool isHidden) in _sheets)
        {
            SeenSheet sheet = new(new Sheet("", name, [])) { IsHidden = isHidden };
            if (seen.TryAdd(name, sheet))
                Sheet(offset, sheet);
        }
    }

    // white and what the window chooses are no colours
    private string? Drawn(int colour) => colour is >= 8 and < 64 && _palette[colour - 8] is var drawn && drawn != "FFFFFF" ? drawn : null;

    private void Sheet(int offset, SeenSheet sheet)
    {
        foreach ((int kind, ReadOnlyMemory<byte> data) in Records(offset))
        {
            ReadOnlySpan<byte> record = data.Span;
            switch (kind)
            {
                case 0x7D when record.Length >= 10 && (Short(record, 8) & 1) != 0:   // columns
                    for (int i = Short(record, 0); i <= Math.Min(Short(record, 2), 255); i++)
                        sheet.HiddenColumns.Add(i);
                    break;
                case 0x208 when record.Length >= 14 && (Short(record, 12) & 0x20) != 0:   // a row
                    sheet.HiddenRows.Add(Short(record, 0) + 1);
                    break;
                case 0xE5:   // merged cells
                    for (int at = 2; at + 8 <= record.Length && _held++ < SeenSheet.MostFaces; at += 8)
                    {
                        sheet.Merged.Add(new MergedArea(Short(record, at) + 1, Short(record, at + 4), Short(record, at + 2) + 1,
                            Short(record, at + 6)));
                    }
                    break;
                // single cells of all kinds begin with row, column and look
                case 0x201 or 0x203 or 0x204 or 0x205 or 0x27E or 0xFD or 0xD6 or 0x06 when record.Length >= 6:
                    Face(sheet, Short(record, 0), Short(record, 2), Short(record, 4));
                    break;
                case 0xBE:   // several blank ones
                    for (int at = 4; at + 4 <= record.Length; at += 2)
                        Face(sheet, Short(record, 0), Short(record, 2) + (at - 4) / 2, Short(record, at));
                    break;
                case 0xBD:   // several numbers
                    for (int at = 4; at + 8 <= record.Length; at += 6)
                        Face(sheet, Short(record, 0), Short(record, 2) + (at - 4) / 6, Short(record, at));
                    break;
            }
        }
    }

    private void Face(SeenSheet sheet, int row, int column, int look)
    {
        if (look < _faces.Count && !ReferenceEquals(_faces[look], CellFace.Plain) && _held++ < SeenSheet.MostFaces)
            sheet.Faces[(row + 1, column)] = _faces[look];
    }

    // Records of one part of the stream, from its beginning to its end.
    private IEnumerable<(int Kind, ReadOnlyMemory<byte> Data)> Records(int at)
    {
        int depth = 0;
        while (at >= 0 && at + 4 <= _bytes.Length)
        {
            _time.Ask();
            int kind = Short(_bytes, at), length = Short(_bytes, at + 2);
            if (at + 4 + length > _bytes.Length)
                yield break;
            depth += kind == 0x809 ? 1 : kind == 0x0A ? -1 : 0;   // charts within a sheet have a beginning and an end of their own
            if (depth <= 0)
                yield break;
            if (depth == 1)
                yield return (kind, _bytes.AsMemory(at + 4, length));
            at += 4 + length;
        }
    }

    private static string Name(ReadOnlySpan<byte> text)
    {
        bool isWide = (text[1] & 1) != 0;
        ReadOnlySpan<byte> letters = text[2..Math.Min(text.Length, 2 + text[0] * (isWide ? 2 : 1))];
        return (isWide ? System.Text.Encoding.Unicode : System.Text.Encoding.Latin1).GetString(letters);
    }

    private static int Short(ReadOnlySpan<byte> bytes, int at) => BinaryPrimitives.ReadUInt16LittleEndian(bytes[at..]);
}
