using System.Text;

namespace DecayAtlas.Contributions.Sheets;

/// <summary>
/// Reads a table that was saved as text by whatever program: the encoding and the separator are found from the text itself, a first line
/// <c>sep=;</c> is believed, and a quotation mark that encloses nothing is a letter like any other, as in 47°18'36"N.
/// </summary>
internal static class TextTable
{
    /// <summary>Stands for columns that are lined up with spaces.</summary>
    public const char Spaces = ' ';

    // The order in which they are believed: a comma may be that of decimals.
    private static readonly char[] Separators = ['\t', ';', '|', ','];

    // Lines that are looked at to find the separator.
    private const int LinesLookedAt = 200;

    // A quoted text that goes on for longer was never closed.
    private const int LongestQuoted = 100_000;

    private static readonly Windows1252 Western = new();

    public static SeenFile? Read(string path, ReadOnlySpan<byte> bytes, char? separator, IntakeLimits limits, FindingList findings)
    {
        (string text, string? encoding) = Decoded(bytes);
        if (text.AsSpan().ContainsAny('\0', '\uFFFF') || ShareOfControls(text) > 0.01)
        {
            findings.Add(FindingCode.EncodingNotUtf8, path, "bytes that are no text", "a workbook or a table of text",
                "save it from a spreadsheet program as .xlsx");
            return null;
        }
        string told = text.StartsWith("sep=", StringComparison.OrdinalIgnoreCase) ? text[..EndOfLine(text, 0)].TrimEnd('\r') : "";
        char sign = separator ?? (told.Length == 5 ? told[4] : SeparatorOf(text));
        List<SheetRow>? rows = sign == Spaces ? AlignedLines.Rows(text, path, limits, findings)
            : Rows(text, told.Length, sign, path, limits, findings);
        return rows is null ? null
            : new SeenFile(path, [new SeenSheet(new Sheet(path, null, rows))], IsText: true, IsDate1904: false, encoding,
                sign == Spaces ? null : sign);
    }

    /// <summary>The text, and the name of the encoding where the bytes themselves do not state it.</summary>
    public static (string Text, string? Encoding) Decoded(ReadOnlySpan<byte> bytes)
    {
        if (bytes.StartsWith<byte>([0xEF, 0xBB, 0xBF]))
            return (Encoding.UTF8.GetString(bytes[3..]), null);
        if (bytes.StartsWith<byte>([0xFF, 0xFE]))
            return (Encoding.Unicode.GetString(bytes[2..]), null);
        if (bytes.StartsWith<byte>([0xFE, 0xFF]))
            return (Encoding.BigEndianUnicode.GetString(bytes[2..]), null);
        // half of the bytes of UTF-16 in our alphabets are zero, and stand at every other place
        ReadOnlySpan<byte> head = bytes[..Math.Min(bytes.Length, 4096)];
        int even = 0, odd = 0;
        for (int i = 0; i < head.Length; i++)
        {
            if (head[i] == 0)
                _ = i % 2 == 0 ? even++ : odd++;
        }
        if (odd > head.Length / 4 && even * 8 < odd)
            return (Encoding.Unicode.GetString(bytes), "UTF-16");
        if (even > head.Length / 4 && odd * 8 < even)
            return (Encoding.BigEndianUnicode.GetString(bytes), "UTF-16");
        try
        {
            return (new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(bytes), null);
        }
        catch (DecoderFallbackException)
        {
            return (Western.GetString(bytes), "Windows-1252");
        }
    }

    private static double ShareOfControls(string text)
    {
        int controls = 0;
        foreach (char c in text)
        {
            if (c < ' ' && c is not ('\t' or '\r' or '\n' or '\f') || c == '\uFFFD')
                controls++;
        }
        return text.Length == 0 ? 0 : controls / (double)text.Length;
    }

    private static char SeparatorOf(string text)
    {
        int[] with = new int[Separators.Length];
        int lines = 0, aligned = 0, longestAligned = 0;
        for (int at = 0; at < text.Length && lines < LinesLookedAt;)
        {
            int end = EndOfLine(text, at);
            ReadOnlySpan<char> one = text.AsSpan(at, end - at).Trim('\r');
            at = end + 1;
            bool isAligned = AlignedLines.HasRun(one);
            aligned = isAligned ? aligned + 1 : 0;
            longestAligned = Math.Max(longestAligned, aligned);
            if (one.Trim().IsEmpty)
                continue;
            lines++;
            for (int i = 0; i < Separators.Length; i++)
                with[i] += Count(one, Separators[i], exceptDecimals: isAligned) > 0 ? 1 : 0;
        }
        int best = Array.FindIndex(with, count => count >= 0.6 * lines && count > 0);
        if (longestAligned > 2 && (best < 0 || (Separators[best] == ',' && with[best] < 0.9 * lines)))
            return Spaces;
        return best >= 0 ? Separators[best] : with.Max() > 0 ? Separators[Array.IndexOf(with, with.Max())] : ',';
    }

    private static int Count(ReadOnlySpan<char> line, char sign, bool exceptDecimals)
    {
        int count = 0;
        bool isQuoted = false, isStart = true;
        for (int i = 0; i < line.Length; i++)
        {
            char c = line[i];
            if (c == '"' && (isQuoted || isStart))
                isQuoted = !isQuoted;
            else if (c == sign && !isQuoted && !(exceptDecimals && sign == ',' && IsDecimal(line, i)))
                count++;
            isStart = c == sign;
        }
        return isQuoted ? line.Count(sign) : count;
    }

    private static bool IsDecimal(ReadOnlySpan<char> line, int at) =>
        at > 0 && at + 1 < line.Length && char.IsAsciiDigit(line[at - 1]) && char.IsAsciiDigit(line[at + 1]);

    private static int EndOfLine(string text, int from) => text.IndexOf('\n', from) is >= 0 and int end ? end : text.Length;

    private static List<SheetRow>? Rows(string text, int from, char separator, string path, IntakeLimits limits, FindingList findings)
    {
        List<SheetRow> rows = [];
        List<SheetCell> cells = [];
        long held = 0;
        int line = from > 0 ? 2 : 1;
        int at = from > 0 ? EndOfLine(text, 0) + 1 : 0;
        while (at < text.Length)
        {
            findings.Time.Ask();
            int began = line;
            cells.Clear();
            while (true)
            {
                (string cell, at, int lines) = Cell(text, at, separator);
                line += lines;
                cells.Add(SheetCell.OfText(HalfLetter.Replaced(cell)));
                if (cells.Count > limits.MaxColumns || held + cells.Count > Sheet.MostCells || rows.Count > limits.MaxRows)
                {
                    findings.Add(FindingCode.TooManyRows, path,
                        Invariant($"more than {limits.MaxRows} rows or {limits.MaxColumns} columns"),
                        Invariant($"at most {limits.MaxRows} rows and {limits.MaxColumns} columns"), "split the contribution");
                    return null;
                }
                if (at >= text.Length || text[at] is '\r' or '\n')
                    break;
                at++;
            }
            if (at < text.Length && text[at] == '\r')
                at++;
            if (at < text.Length && text[at] == '\n')
                at++;
            line++;
            int filled = cells.FindLastIndex(cell => cell.Kind != SheetCellKind.Empty) + 1;
            held += filled;
            if (filled > 0 && !(separator == '|' && cells.TrueForAll(IsRule)))
                rows.Add(new SheetRow(began, [.. cells.Take(filled)]));
        }
        return rows;
    }

    // |---|:--:| below the names, as in a wiki
    private static bool IsRule(SheetCell cell) => cell.Text.AsSpan().IndexOfAnyExcept("-: ") < 0;

    // One cell, where it ends, and how many ends of lines are within it.
    private static (string Text, int End, int Lines) Cell(string text, int at, char separator)
    {
        int start = at;
        while (start < text.Length && text[start] == ' ')
            start++;
        if (start < text.Length && text[start] == '"' && Quoted(text, start, separator) is { } quoted)
            return quoted;
        int end = at;
        while (end < text.Length && text[end] is not ('\r' or '\n') && text[end] != separator)
            end++;
        return (text[at..end].Trim(), end, 0);
    }

    // Null where the mark encloses nothing: it must be closed in front of a separator or the end of the line, and not stand alone, as a
    // ditto mark does.
    private static (string Text, int End, int Lines)? Quoted(string text, int start, char separator)
    {
        if (start + 1 >= text.Length || text[start + 1] == separator || text[start + 1] is '\r' or '\n')
            return null;
        int last = Math.Min(text.Length, start + LongestQuoted), lines = 0;
        for (int i = start + 1; i < last; i++)
        {
            if (text[i] == '\n')
                lines++;
            if (text[i] != '"')
                continue;
            if (i + 1 < text.Length && text[i + 1] == '"')
            {
                i++;
                continue;
            }
            int next = i + 1;
            while (next < text.Length && text[next] == ' ')
                next++;
            return next >= text.Length || text[next] is '\r' or '\n' || text[next] == separator
                ? (text[(start + 1)..i].Replace("\"\"", "\"", StringComparison.Ordinal).Trim(), next, lines) : null;
        }
        return null;
    }
}
