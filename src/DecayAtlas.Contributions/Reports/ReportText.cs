using System.Globalization;

namespace DecayAtlas.Contributions.Reports;

internal static class ReportText
{
    public static IReadOnlyList<string> Columns { get; } = ["#", "file", "sheet", "row", "column", "found", "expected", "how to mend"];

    public static IEnumerable<string> Cells(int number, Finding finding) =>
    [
        number.ToString(CultureInfo.InvariantCulture),
        finding.File,
        finding.Sheet ?? "",
        finding.Cell ?? finding.Row?.ToString(CultureInfo.InvariantCulture) ?? "",
        finding.Field is null || finding is { IsToldOfKit: true, Column: not null } ? finding.Column ?? ""
            : finding.Column is null ? finding.Field : $"{finding.Column} ({finding.Field})",
        finding.Found,
        finding.Expected,
        finding.Mend,
    ];

    public static string Table(IEnumerable<Finding> findings) => Table(findings, Columns);

    private static string Table(IEnumerable<Finding> findings, IEnumerable<string> head) =>
        $"| {string.Join(" | ", head)} |\n| ---: | --- | --- | ---: | --- | --- | --- | --- |\n" + string.Concat(findings.Select(
            (finding, i) => $"| {string.Join(" | ", Cells(i + 1, finding).Select(cell => Markdown(SpreadsheetSafe.Text(cell))))} |\n"));

    /// <summary>For the sender, in the words of a language.</summary>
    public static string Table(IReadOnlyList<Finding> findings, Phrases words)
    {
        string[] own = ["file", "sheet", "row", "column"], shared = ["found", "expected", "mend"];
        string[] head = ["#", .. own.Select(name => words["waiting.report." + name]), .. shared.Select(name => words["waiting." + name])];
        return Table(words.Code == "en" ? findings : FindingWords.Said(findings, words), head);
    }

    public static string Table(TellingTable table) =>
        $"| {string.Join(" | ", table.Head)} |\n|{string.Concat(table.Head.Select(_ => " --- |"))}\n" + string.Concat(table.Rows.Select(
            row => $"| {string.Join(" | ", row.Select(cell => Markdown(SpreadsheetSafe.Text(cell))))} |\n"));

    /// <summary>Received text must not become markup in the report.</summary>
    public static string Markdown(string text) => string.Concat(text.Select(c => c switch
    {
        _ when ReceivedText.IsHostile(c) => " ",
        '<' => "&lt;",
        '>' => "&gt;",
        '&' => "&amp;",
        '|' or '\\' or '`' or '*' or '_' or '[' or ']' or '#' or '~' => "\\" + c,
        _ => c.ToString(),
    }));
}
