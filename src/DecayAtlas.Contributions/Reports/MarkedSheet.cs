using System.Globalization;

namespace DecayAtlas.Contributions.Reports;

/// <param name="Column">0-based; null for the row as a whole.</param>
/// <param name="Finding">Its place in the list of findings and warnings, from 0.</param>
public sealed record CellMark(int? Column, int Finding);

public sealed record MarkedLine(int Row, IReadOnlyList<string> Cells, IReadOnlyList<CellMark> Marks);

/// <summary>The piece of the sender's own table that findings are about: its head and the rows they name.</summary>
/// <param name="Sheet">Null where the file has none.</param>
/// <param name="Letters">Of the columns, where the file is a workbook.</param>
public sealed record MarkedSheet(string File, string? Sheet, IReadOnlyList<string> Letters, IReadOnlyList<MarkedLine> Lines)
{
    /// <summary>More rows than these are no look but a table.</summary>
    public const int MostLines = 40;

    private const int MostColumns = 60, LongestHead = 40;

    /// <param name="sheets">All that the contribution holds.</param>
    /// <param name="findings">With warnings behind them.</param>
    /// <param name="words">As which numbers and days of a workbook are shown; a table of text is shown as it was typed.</param>
    internal static IReadOnlyList<MarkedSheet> Of(IReadOnlyList<Sheet> sheets, IReadOnlyList<Finding> findings, Phrases words) =>
    [
        .. from finding in findings.Index()
           where finding.Item.Row is not null
           from sheet in sheets.Where(s => IsAbout(finding.Item, s)).Take(1)
           group finding by sheet into seen
           select Of(seen.Key, [.. seen], words),
    ];

    private static bool IsAbout(Finding finding, Sheet sheet) =>
        sheet.File == finding.File && (finding.Sheet is null || sheet.Name == finding.Sheet);

    private static MarkedSheet Of(Sheet sheet, (int Index, Finding Item)[] findings, Phrases words)
    {
        Dictionary<int, List<CellMark>> marks = [];
        HashSet<int> heads = [];
        foreach ((int index, Finding finding) in findings)
        {
            (int? column, int? head) = ColumnOf(sheet, finding);
            if (head is { } row)
                heads.Add(row);
            int line = finding.Row!.Value;
            if (marks.TryGetValue(line, out List<CellMark>? own))
                own.Add(new(column, index));
            else if (marks.Count < MostLines)
                marks[line] = [new(column, index)];
        }
        if (heads.Count == 0 && sheet.Rows.Count > 0)
            heads.Add(sheet.Rows[0].Row);
        SheetRow[] shown = [.. sheet.Rows.Where(row => heads.Contains(row.Row) || marks.ContainsKey(row.Row))];
        int width = Math.Min(MostColumns, shown.Select(row => row.Cells.Length).DefaultIfEmpty(0).Max());
        return new MarkedSheet(sheet.File, sheet.Name,
            sheet.Name is null ? [] : [.. Enumerable.Range(0, width).Select(CellReference.Letters)],
            [.. shown.Select(row => new MarkedLine(row.Row,
                [.. Enumerable.Range(0, width).Select(i => ReceivedText.OneLine(
                    sheet.Name is null ? row[i].Text : Shown(row[i], words), ' '))],
                marks.GetValueOrDefault(row.Row) ?? []))]);
    }

    // a workbook holds a number, and the language of its reader says how it looks
    private static string Shown(SheetCell cell, Phrases words) => cell.Kind switch
    {
        SheetCellKind.Number => words.Written(cell.Text),
        SheetCellKind.Date when DateOnly.TryParseExact(cell.Text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None,
            out DateOnly day) => words.ShortDay(day),
        _ => cell.Text,
    };

    /// <summary>The column of a finding and the row of its name.</summary>
    private static (int? Column, int? HeadRow) ColumnOf(Sheet sheet, Finding finding)
    {
        foreach (SheetRow row in sheet.Rows.TakeWhile(row => row.Row <= LongestHead))
        {
            int at = finding.Column is null ? -1
                : Array.FindIndex(row.Cells, cell => string.Equals(cell.Text.Trim(), finding.Column.Trim(), StringComparison.Ordinal));
            if (at >= 0)
                return (at, row.Row);
        }
        return finding.Cell is { } cell && CellReference.TryParse(cell, out int column, out _) ? (column, null) : (null, null);
    }
}
