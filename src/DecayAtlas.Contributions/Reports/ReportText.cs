using System.Globalization;
using System.Text;

namespace DecayAtlas.Contributions.Reports;

/// <summary>Findings as a table of a report.</summary>
internal static class ReportText
{
    public const string AboutRows = "A row is the number of the line in the file or of the row of the sheet; the header usually is row 1.";

    public static IReadOnlyList<string> Columns { get; } = ["#", "file", "sheet", "row", "column", "found", "expected", "how to mend"];

    public static IEnumerable<string> Cells(int number, Finding finding) =>
    [
        number.ToString(CultureInfo.InvariantCulture),
        finding.File,
        finding.Sheet ?? "",
        finding.Cell ?? finding.Row?.ToString(CultureInfo.InvariantCulture) ?? "",
        finding.Field is null ? finding.Column ?? "" : finding.Column is null ? finding.Field : $"{finding.Column} ({finding.Field})",
        finding.Found,
        finding.Expected,
        finding.Mend,
    ];

    public const string AboutWarnings =
        "These do not keep the contribution out, but what they name will give no decay rate k as it stands.";

    public static void AppendFindings(StringBuilder text, IReadOnlyList<Finding> findings)
    {
        text.Append("| ").Append(string.Join(" | ", Columns)).Append(" |\n| ---: | --- | --- | ---: | --- | --- | --- | --- |\n");
        int number = 0;
        foreach (Finding finding in findings)
        {
            text.Append("| ").Append(string.Join(" | ", Cells(++number, finding).Select(cell => Markdown(SpreadsheetSafe.Text(cell)))))
                .Append(" |\n");
        }
    }

    /// <summary>Received text must not become markup in the report.</summary>
    public static string Markdown(string text)
    {
        StringBuilder escaped = new(text.Length + 8);
        foreach (char c in text)
        {
            if (ReceivedText.IsHostile(c))
                escaped.Append(' ');
            else if (c is '<' or '>' or '&')
                escaped.Append(c switch { '<' => "&lt;", '>' => "&gt;", _ => "&amp;" });
            else if (c is '|' or '\\' or '`' or '*' or '_' or '[' or ']' or '#' or '~')
                escaped.Append('\\').Append(c);
            else
                escaped.Append(c);
        }
        return escaped.ToString();
    }
}
