using System.Text;

namespace DecayAtlas.Atlas.Exports;

/// <summary>
/// A table as RFC 4180 has it: UTF-8 without mark, comma, a point in numbers, days as 2024-06-01, true and false, missing as nothing. A
/// text that a spreadsheet would compute has an apostrophe before it.
/// </summary>
public static class CsvTable
{
    internal static void Write(Stream stream, ExportedTable table)
    {
        using StreamWriter writer = new(stream, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), 1 << 16, leaveOpen: true);
        writer.Write(string.Join(',', table.Columns.Select(c => c.Name)));
        writer.Write('\n');
        int columns = table.Columns.Count;
        foreach (ExportedRows rows in table.Parts())
        {
            for (int row = 0; row < rows.Count; row++)
            {
                for (int column = 0; column < columns; column++)
                {
                    if (column > 0)
                        writer.Write(',');
                    Write(writer, rows[column, row]);
                }

                writer.Write('\n');
            }
        }
    }

    /// <summary>One value.</summary>
    public static void Write(TextWriter writer, object? value)
    {
        switch (value)
        {
            case null:
                break;
            case string text:
                WriteText(writer, SpreadsheetSafe.Text(text));
                break;
            case bool truth:
                writer.Write(truth ? "true" : "false");
                break;
            case DateOnly day:
                writer.Write(day.ToString("yyyy-MM-dd", InvariantCulture));
                break;
            default:
                writer.Write(Convert.ToString(value, InvariantCulture));
                break;
        }
    }

    private static void WriteText(TextWriter writer, string text)
    {
        if (text.Length > 0 && text.AsSpan().IndexOfAny("\",\r\n") < 0)
        {
            writer.Write(text);
            return;
        }

        writer.Write('"');
        writer.Write(text.Replace("\"", "\"\"", StringComparison.Ordinal));
        writer.Write('"');
    }
}
