using System.IO.Compression;
using System.Xml;
using SpreadCheetah;
using SpreadCheetah.Styling;
using SpreadCheetah.Worksheets;

namespace DecayAtlas.Atlas.Exports;

/// <summary>
/// The tables as sheets of one workbook, written forward, so that a row is let go as soon as it is written. Text stands in the cells as
/// text: none of it is ever a formula.
/// </summary>
internal static class TableBook
{
    /// <summary>Rows that a sheet holds below its head.</summary>
    public const int MostRows = 1_048_575;

    private const int MostLetters = 32_767;

    // nothing that knows a time
    private static readonly SpreadCheetahOptions Options = new()
    {
        DocumentProperties = null,
        PreserveStringWhitespace = true,
        CompressionLevel = SpreadCheetahCompressionLevel.Fastest,
    };

    /// <summary>The tables that a sheet holds.</summary>
    public static IEnumerable<ExportedTable> Held(IEnumerable<ExportedTable> tables) => tables.Where(t => t.Rows <= MostRows);

    public static void Write(Stream stream, string releaseId, IReadOnlyList<ExportedTable> tables)
    {
        // the library dates the entries of its archive
        using FileStream dated = new(Path.GetTempFileName(), FileMode.Open, FileAccess.ReadWrite, FileShare.None, 1 << 16,
            FileOptions.DeleteOnClose);
        WriteDated(dated, releaseId, tables).GetAwaiter().GetResult();
        dated.Position = 0;
        using ZipArchive book = new(dated, ZipArchiveMode.Read);
        using TimelessZip zip = new(stream);
        foreach (ZipArchiveEntry entry in book.Entries)
        {
            zip.Add(entry.FullName, target =>
            {
                using Stream content = entry.Open();
                content.CopyTo(target);
            });
        }
    }

    private static async Task WriteDated(Stream stream, string releaseId, IReadOnlyList<ExportedTable> tables)
    {
        await using Spreadsheet book = await Spreadsheet.CreateNewAsync(stream, Options).ConfigureAwait(false);
        Style bold = new(), dated = new() { Format = NumberFormat.Custom("yyyy\\-mm\\-dd") };
        bold.Font.Bold = true;
        (StyleId head, StyleId day) = (book.AddStyle(bold), book.AddStyle(dated));
        await AddSheet("contents", ["table", "rows", "what a row is", "release " + releaseId], tables.Select(t => new object?[]
        {
            t.Name, t.Rows, t.Table.Description,
            t.Rows <= MostRows ? null : "more rows than a sheet holds, and so no sheet; it is whole in " + ReleaseExports.CsvOf(t.Name),
        })).ConfigureAwait(false);
        await AddSheet("columns", ["table", "column", "type", "unit", "meaning"], tables.SelectMany(
            t => t.Columns.Select(c => new object?[] { t.Name, c.Name, c.Type, c.Unit, c.Description }))).ConfigureAwait(false);
        foreach (ExportedTable table in Held(tables))
            await AddSheet(table.Name, [.. table.Columns.Select(c => c.Name)], RowsOf(table)).ConfigureAwait(false);
        await book.FinishAsync().ConfigureAwait(false);

        async Task AddSheet(string name, string[] columns, IEnumerable<object?[]> rows)
        {
            WorksheetOptions options = new() { FrozenRows = 1 };
            for (int i = 1; i <= columns.Length; i++)
                options.Column(i).Width = 18;
            await book.StartWorksheetAsync(name, options).ConfigureAwait(false);
            StyledCell[] cells = [.. columns.Select(c => new StyledCell(c, head))];
            await book.AddRowAsync(cells).ConfigureAwait(false);
            foreach (object?[] row in rows)
            {
                for (int i = 0; i < cells.Length; i++)
                    cells[i] = Cell(row[i], day);
                await book.AddRowAsync(cells).ConfigureAwait(false);
            }
        }
    }

    /// <summary>One array of cells, filled anew for each row.</summary>
    private static IEnumerable<object?[]> RowsOf(ExportedTable table)
    {
        object?[] cells = new object?[table.Columns.Count];
        foreach (ExportedRows rows in table.Parts())
        {
            for (int row = 0; row < rows.Count; row++)
            {
                for (int column = 0; column < cells.Length; column++)
                    cells[column] = rows[column, row];
                yield return cells;
            }
        }
    }

    private static StyledCell Cell(object? value, StyleId day) => value switch
    {
        null => default,
        bool truth => new(truth, null),
        int whole => new(whole, null),
        DateOnly date => new(date.ToDateTime(TimeOnly.MinValue), day),
        ExportedNumber number when double.IsFinite(number.Value) => new(number.Rounded, null),
        // a sheet has no number for what is not finite
        _ => new(Writable(Convert.ToString(value, InvariantCulture)!), null),
    };

    /// <summary>What a cell can hold: so many letters, and those alone that XML has.</summary>
    private static string Writable(string text)
    {
        if (text.Length > MostLetters)
            text = text[..(MostLetters - 1)] + "…";
        return text.All(XmlConvert.IsXmlChar) ? text
            : string.Concat(text.EnumerateRunes().Select(r => r.IsBmp && !XmlConvert.IsXmlChar((char)r.Value) ? "\uFFFD" : r.ToString()));
    }
}
