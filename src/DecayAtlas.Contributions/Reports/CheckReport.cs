using System.Globalization;
using System.Net;
using System.Text;

namespace DecayAtlas.Contributions.Reports;

/// <summary>What <c>check</c> found, as a page to send back to a contributor: Markdown, or HTML that needs nothing from outside. Holds no
/// contact data.</summary>
public sealed record CheckReport(string Source, ReadResult Result)
{
    private const string Style = """
        body { font: 1rem/1.5 system-ui, sans-serif; color: #1b1b1b; background: #fff; max-width: 70rem; margin: 2rem auto; padding: 0 1rem }
        table { border-collapse: collapse; width: 100% } caption { text-align: left; font-weight: 600; padding: .5rem 0 }
        th, td { border: 1px solid #767676; padding: .35rem .5rem; text-align: left; vertical-align: top; overflow-wrap: break-word } th { background: #eef2ee }
        .scroll { overflow-x: auto } .scroll:focus { outline: 3px solid #00539f }
        """;

    public CheckSummary? Summary { get; } = Result.SoundRows is { } rows ? CheckSummary.Of(rows) : null;

    public bool IsValid => Result.Contribution is not null;

    /// <summary>What was found, in one sentence.</summary>
    public string Verdict => IsValid
        ? $"{Source} is a valid contribution."
        : string.Create(
            CultureInfo.InvariantCulture, $"{Source} cannot be accepted yet: {Result.Findings.Count} "
            + $"finding{(Result.Findings.Count == 1 ? "" : "s")}.");

    /// <summary>How it was read.</summary>
    public string FormatText => Result.Format switch
    {
        ContributionFormat.Workbook => "a workbook with the tables as sheets",
        ContributionFormat.WideTable => "a wide table with a mapping",
        ContributionFormat.DataPackage => "a data package",
        _ => "nothing that is known",
    };

    /// <summary>Lines of the summary: what it is, and the number or text.</summary>
    public IReadOnlyList<(string What, string Value)> SummaryLines()
    {
        if (Summary is not { } s)
            return [("read as", FormatText)];
        List<(string, string)> lines =
        [
            ("read as", FormatText),
            (IsValid ? "rows" : "rows without findings", Invariant($"{s.Sites} sites, {s.Lots} lots, {s.Bags} bags, {s.Samples} samples")),
            ("burials", Invariant($"{s.Burials}")),
            ("burials that give a decay rate k", Invariant($"{s.BurialsWithRate} of {s.Burials}")),
            ("burials that give a stabilisation factor S", Invariant($"{s.BurialsWithStabilisation} of {s.Burials}")),
        ];
        if (s.WithoutRate.Count > 0)
        {
            lines.Add(
                ("why the others give no k", string.Join(", ",
                    s.WithoutRate.Select(reason => Invariant($"{reason.Reason} ({reason.Burials})")))));
        }

        if (s.FirstBuriedOn is { } first)
            lines.Add(("first burial", Invariant($"{first:yyyy-MM-dd}")));
        if (s.LastRetrievedOn is { } last)
            lines.Add(("last retrieval", Invariant($"{last:yyyy-MM-dd}")));
        return lines;
    }

    public string ToMarkdown()
    {
        StringBuilder text = new();
        text.Append("# Check of ").Append(ReportText.Markdown(Source)).Append("\n\n").Append(ReportText.Markdown(Verdict))
            .Append("\n\n## What stands in it\n\n| | |\n| --- | --- |\n");
        foreach ((string what, string value) in SummaryLines())
            text.Append("| ").Append(what).Append(" | ").Append(ReportText.Markdown(value)).Append(" |\n");
        if (Result.Findings.Count > 0)
        {
            text.Append("\n## What to mend\n\n");
            ReportText.AppendFindings(text, Result.Findings);
            text.Append('\n').Append(ReportText.AboutRows).Append('\n');
        }
        if (Result.Warnings.Count > 0)
        {
            text.Append("\n## What to look at\n\n").Append(ReportText.AboutWarnings).Append("\n\n");
            ReportText.AppendFindings(text, Result.Warnings);
        }
        return text.ToString();
    }

    /// <summary>One page, without scripts and without anything that is fetched.</summary>
    public string ToHtml()
    {
        StringBuilder html = new();
        html.Append(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" "
            + "content=\"width=device-width, initial-scale=1\">\n");
        html.Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n");
        html.Append("<title>Check of ").Append(Html(Source)).Append("</title>\n<style>\n").Append(Style)
            .Append("\n</style>\n</head>\n<body>\n<main>\n");
        html.Append("<h1>Check of ").Append(Html(Source)).Append("</h1>\n<p>").Append(Html(Verdict)).Append("</p>\n");
        html.Append("<table>\n<caption>What stands in it</caption>\n<tbody>\n");
        foreach ((string what, string value) in SummaryLines())
            html.Append("<tr><th scope=\"row\">").Append(Html(what)).Append("</th><td>").Append(Html(value)).Append("</td></tr>\n");
        html.Append("</tbody>\n</table>\n");
        if (Result.Findings.Count > 0)
        {
            AppendFindings(html, "mend", "What to mend", "Every finding with its place and its remedy", Result.Findings,
                ReportText.AboutRows);
        }

        if (Result.Warnings.Count > 0)
            AppendFindings(html, "look", "What to look at", "What looks like a slip", Result.Warnings, ReportText.AboutWarnings);
        html.Append("</main>\n</body>\n</html>\n");
        return html.ToString();
    }

    private static void AppendFindings(StringBuilder html, string id, string title, string caption, IReadOnlyList<Finding> findings,
        string about)
    {
        html.Append("<h2 id=\"").Append(id).Append("\">").Append(title)
            .Append("</h2>\n<div class=\"scroll\" tabindex=\"0\" role=\"region\" aria-labelledby=\"").Append(id)
            .Append("\">\n<table>\n<caption>").Append(caption).Append("</caption>\n<thead><tr>");
        foreach (string name in ReportText.Columns)
            html.Append("<th scope=\"col\">").Append(name).Append("</th>");
        html.Append("</tr></thead>\n<tbody>\n");
        int number = 0;
        foreach (Finding finding in findings)
        {
            html.Append("<tr>");
            foreach (string cell in ReportText.Cells(++number, finding))
                html.Append("<td>").Append(Html(SpreadsheetSafe.Text(cell))).Append("</td>");
            html.Append("</tr>\n");
        }
        html.Append("</tbody>\n</table>\n</div>\n<p>").Append(Html(about)).Append("</p>\n");
    }

    private static string Html(string text) => WebUtility.HtmlEncode(string.Concat(text.Select(c => ReceivedText.IsHostile(c) ? ' ' : c)));

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
