using System.Text;
using nietras.SeparatedValues;

namespace DecayAtlas.Contributions.Wide;

/// <summary>Reads a wide CSV file in the encoding and with the separator that its mapping states, as one sheet of text cells.</summary>
internal static class WideCsv
{
    private static readonly Windows1252 Western = new();

    public static Sheet? Read(PackageFile file, WideForm form, IntakeLimits limits, FindingList findings) =>
        Text(file, form.Encoding, limits, findings) is { } text ? Rows(text, file.Path, form.Separator, limits, findings) : null;

    /// <summary>The file as text. A byte order mark counts more than what is stated, as it is part of the file.</summary>
    public static string? Text(PackageFile file, string? stated, IntakeLimits limits, FindingList findings)
    {
        if (file.Bytes > limits.MaxSpreadsheetBytes)
        {
            findings.Add(FindingCode.FileTooLarge, file.Path, Invariant($"{file.Bytes} bytes"),
                Invariant($"at most {limits.MaxSpreadsheetBytes} bytes for a wide table"),
                "send a data package, or split it into several contributions");
            return null;
        }
        using MemoryStream held = file.Load();
        ReadOnlySpan<byte> bytes = held.GetBuffer().AsSpan(0, (int)held.Length);
        (Encoding encoding, int mark) = EncodingOf(bytes, stated);
        string text;
        try
        {
            text = encoding.GetString(bytes[mark..]);
        }
        catch (ArgumentException fault)
        {
            int? line = fault is DecoderFallbackException { Index: >= 0 } bad
                ? bytes[..Math.Min(bytes.Length, bad.Index + mark)].Count((byte)'\n') + 1 : null;
            findings.Add(new Finding(FindingCode.EncodingUnstated, file.Path, line,
                null, stated is null or "utf-8" ? "bytes that are not UTF-8" : "bytes that are not " + stated,
                "a table in UTF-8, or in the encoding that the mapping states",
                "state encoding: windows-1252 or utf-16 under file: in the mapping, or save the table as UTF-8"));
            return null;
        }
        if (text.Contains('\0', StringComparison.Ordinal))
        {
            findings.Add(FindingCode.EncodingNotUtf8, file.Path, "UTF-16 or binary data", "a table of text",
                "state encoding: utf-16 in the mapping if the file is, or save the table as UTF-8");
            return null;
        }
        return text;
    }

    private static (Encoding Encoding, int Mark) EncodingOf(ReadOnlySpan<byte> bytes, string? stated)
    {
        if (bytes.StartsWith<byte>([0xEF, 0xBB, 0xBF]))
            return (new UTF8Encoding(false, throwOnInvalidBytes: true), 3);
        if (bytes.StartsWith<byte>([0xFF, 0xFE]))
            return (new UnicodeEncoding(bigEndian: false, false, throwOnInvalidBytes: true), 2);
        if (bytes.StartsWith<byte>([0xFE, 0xFF]))
            return (new UnicodeEncoding(bigEndian: true, false, throwOnInvalidBytes: true), 2);
        return (stated switch
        {
            "utf-16" => new UnicodeEncoding(bigEndian: false, false, throwOnInvalidBytes: true),
            "windows-1252" => Western,
            _ => new UTF8Encoding(false, throwOnInvalidBytes: true),
        }, 0);
    }

    public static Sheet? Rows(string text, string file, char separator, IntakeLimits limits, FindingList findings)
    {
        if (text.AsSpan().Count('"') % 2 != 0)
        {
            findings.Add(CsvFault.OddQuotes(file));
            return null;
        }
        List<SheetRow> rows = [];
        try
        {
            using SepReader reader = Sep.New(separator).Reader(options => options with { HasHeader = false, DisableColCountCheck = true })
                .FromText(text);
            long held = 0;
            foreach (SepReader.Row row in reader)
            {
                findings.Time.Ask();
                held += row.ColCount;
                if (row.ColCount > limits.MaxColumns || held > Sheet.MostCells || rows.Count - 1 > limits.MaxRows)
                {
                    findings.Add(FindingCode.TooManyRows, file,
                        Invariant($"more than {limits.MaxRows} rows or {limits.MaxColumns} columns"),
                        Invariant($"at most {limits.MaxRows} rows and {limits.MaxColumns} columns"), "split the contribution");
                    return null;
                }
                // Sep counts the first row as if it began where it ends.
                int line = row.RowIndex == 0 ? 1 : row.LineNumberFrom;
                SheetCell[] cells = new SheetCell[row.ColCount];
                for (int i = 0; i < cells.Length; i++)
                {
                    if (Unquoted(row[i].Span) is not { } cell)
                    {
                        findings.Add(new Finding(FindingCode.CsvBroken, file, line,
                            null, $"a quotation mark within the text {FindingText.Quote(row[i].Span)}",
                            "quotation marks round the whole text, and those inside it written twice",
                            "save the table again as CSV from a spreadsheet program, which does so by itself"));
                        return null;
                    }
                    cells[i] = SheetCell.OfText(cell);
                }
                SheetRow made = new(line, cells);
                if (!made.IsBlank)
                    rows.Add(made);
            }
        }
        catch (Exception fault) when (CsvFault.Is(fault))
        {
            findings.Add(CsvFault.Unreadable(file));
            return null;
        }
        return new Sheet(file, null, rows);
    }

    // The text of a cell (RFC 4180, section 2); null for a quotation mark where none may stand, as in an unquoted 47°18'36"N, which would
    // otherwise swallow the separators behind it.
    private static string? Unquoted(ReadOnlySpan<char> cell)
    {
        if (!cell.Contains('"'))
            return cell.ToString();
        if (cell.Length < 2 || cell[0] != '"' || cell[^1] != '"')
            return null;
        string inside = cell[1..^1].ToString();
        return inside.Replace("\"\"", "", StringComparison.Ordinal).Contains('"', StringComparison.Ordinal) ? null
            : inside.Replace("\"\"", "\"", StringComparison.Ordinal);
    }
}
