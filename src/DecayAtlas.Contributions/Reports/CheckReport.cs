using System.Net;

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

    public string Verdict => IsValid
        ? $"{Source} is a valid contribution."
        : Invariant($"{Source} cannot be accepted yet: {Result.Findings.Count} finding{(Result.Findings.Count == 1 ? "" : "s")}.");

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
        ];
        if (s.Burials > 0 || s.Results == 0)
        {
            lines.Add(("burials", Invariant($"{s.Burials}")));
            lines.Add(("burials that give a decay rate k", Invariant($"{s.BurialsWithRate} of {s.Burials}")));
            lines.Add(("burials that give a stabilisation factor S", Invariant($"{s.BurialsWithStabilisation} of {s.Burials}")));
        }

        if (s.Results > 0)
        {
            lines.Add(("results that stand for burials", Invariant($"{s.Results}, for {s.ResultBurials} burials")));
            lines.Add(("results that give a decay rate k",
                Invariant($"{s.Summarised.WithRate + s.Reported.WithRate} of {s.Results} (summarised {s.Summarised.WithRate} of ")
                + Invariant($"{s.Summarised.Rows}, reported {s.Reported.WithRate} of {s.Reported.Rows})")));
        }

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
        string lines = string.Concat(SummaryLines().Select(line => $"| {line.What} | {ReportText.Markdown(line.Value)} |\n"));
        string findings = Result.Findings.Count == 0 ? ""
            : $"\n## What to mend\n\n{ReportText.Table(Result.Findings)}\n{ReportText.AboutRows}\n";
        string warnings = Result.Warnings.Count == 0 ? ""
            : $"\n## What to look at\n\n{ReportText.AboutWarnings}\n\n{ReportText.Table(Result.Warnings)}";
        return $"""
            # Check of {ReportText.Markdown(Source)}

            {ReportText.Markdown(Verdict)}

            ## What stands in it

            | | |
            | --- | --- |
            {lines}{findings}{warnings}
            """;
    }

    /// <summary>One page, without scripts and without anything that is fetched.</summary>
    public string ToHtml()
    {
        string lines = string.Concat(SummaryLines()
            .Select(line => $"<tr><th scope=\"row\">{Html(line.What)}</th><td>{Html(line.Value)}</td></tr>\n"));
        string findings =
            Table("mend", "What to mend", "Every finding with its place and its remedy", Result.Findings, ReportText.AboutRows);
        string warnings = Table("look", "What to look at", "What looks like a slip", Result.Warnings, ReportText.AboutWarnings);
        return $"""
            <!DOCTYPE html>
            <html lang="en">
            <head>
            <meta charset="utf-8">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
            <title>Check of {Html(Source)}</title>
            <style>
            {Style}
            </style>
            </head>
            <body>
            <main>
            <h1>Check of {Html(Source)}</h1>
            <p>{Html(Verdict)}</p>
            <table>
            <caption>What stands in it</caption>
            <tbody>
            {lines}</tbody>
            </table>
            {findings}{warnings}</main>
            </body>
            </html>

            """;
    }

    private static string Table(string id, string title, string caption, IReadOnlyList<Finding> findings, string about)
    {
        if (findings.Count == 0)
            return "";
        string columns = string.Concat(ReportText.Columns.Select(name => $"<th scope=\"col\">{name}</th>"));
        IEnumerable<IEnumerable<string>> rows = findings.Select((finding, i) => ReportText.Cells(i + 1, finding)
            .Select(cell => $"<td>{Html(SpreadsheetSafe.Text(cell))}</td>"));
        return $"""
            <h2 id="{id}">{title}</h2>
            <div class="scroll" tabindex="0" role="region" aria-labelledby="{id}">
            <table>
            <caption>{caption}</caption>
            <thead><tr>{columns}</tr></thead>
            <tbody>
            {string.Concat(rows.Select(cells => $"<tr>{string.Concat(cells)}</tr>\n"))}</tbody>
            </table>
            </div>
            <p>{Html(about)}</p>

            """;
    }

    private static string Html(string text) => WebUtility.HtmlEncode(ReceivedText.OneLine(text, ' '));
}
