using nietras.SeparatedValues;

namespace DecayAtlas.Contributions.Tables;

/// <summary>Streams one table of a data package: finds its separator and header, and hands each row to the check.</summary>
internal static class TableReader
{
    private const int PooledTextLength = 64;
    private const int LongestHeader = 1 << 16;

    public static void Read(TextReader text, TableCheck table)
    {
        if (Separator(text, table.Schema, table.File, table.Findings, out TextReader whole) is not { } separator)
            return;
        try
        {
            using SepReader reader = Sep.New(separator).Reader(options => options with
            {
                HasHeader = false,
                Unescape = true,
                DisableColCountCheck = true,
                CreateToString = SepToString.PoolPerCol(maximumStringLength: PooledTextLength),
            }).From(whole);
            Read(reader, table);
        }
        catch (Exception fault) when (CsvFault.Is(fault))
        {
            table.Findings.Add(CsvFault.Unreadable(table.File));
        }
    }

    private static void Read(SepReader reader, TableCheck table)
    {
        foreach (SepReader.Row row in reader)
        {
            if (IsBlank(row))
                continue;
            if (!table.HasHeader)
            {
                if (row.ColCount > table.Limits.MaxColumns)
                {
                    table.Findings.Add(FindingCode.CsvBroken, table.File, Invariant($"a header of {row.ColCount} columns"),
                        $"a header with the columns of {table.Schema.Name}", CsvFault.LookForQuote);
                    return;
                }
                List<string> columns = [];
                for (int i = 0; i < row.ColCount; i++)
                    columns.Add(row[i].ToString());
                table.Begin(TableHeader.Match(table.Schema, table.File, columns, table.Findings));
                continue;
            }
            if (!table.Add(new CsvCells(row, table.File)))
                return;
        }
        table.End();
    }

    // An empty line, or the row of bare commas that spreadsheets leave at the end.
    private static bool IsBlank(SepReader.Row row)
    {
        for (int i = 0; i < row.ColCount; i++)
        {
            if (!row[i].Span.IsEmpty)
                return false;
        }
        return true;
    }

    // The separator of the header, or null when there is no header to speak of. A wrong one is told once and then used, so that everything
    // else can be told too.
    private static char? Separator(TextReader text, TableSchema schema, string file, FindingList findings, out TextReader whole)
    {
        char[] buffer = new char[LongestHeader];
        int read = text.ReadBlock(buffer);
        whole = new PrefixedReader(new string(buffer, 0, read), text);
        ReadOnlySpan<char> header = buffer.AsSpan(0, read);
        int end = header.IndexOfAny('\n', '\r');
        if (end < 0 && read == LongestHeader)
        {
            findings.Add(FindingCode.CsvBroken, file, Invariant($"a first line of more than {LongestHeader} characters"),
                "a header with the columns of " + schema.Name, "save the table as CSV with one line a row");
            return null;
        }
        header = end < 0 ? header : header[..end];
        char separator = header.Contains(',') ? ',' : header.Contains(';') ? ';' : header.Contains('\t') ? '\t' : ',';
        if (separator != ',')
        {
            findings.Add(new Finding(FindingCode.DelimiterNotComma, file, 1,
                null, separator == ';' ? "columns separated by semicolons" : "columns separated by tabs",
                "columns separated by commas", "save the table as 'CSV, comma separated', with a decimal point"));
        }

        return separator;
    }
}
