using System.Net;

namespace DecayAtlas.Contributions.Reports;

/// <summary>What <c>check</c> found, as a page to send back to a contributor: Markdown, or HTML that needs nothing from outside. Holds no
/// contact data.</summary>
/// <param name="Today">No day of a contribution can be later.</param>
public sealed record CheckReport(string Source, ReadResult Result, DateOnly Today)
{
    private const string Style = """
        body { font: 1rem/1.5 system-ui, sans-serif; color: #1b1b1b; background: #fff; max-width: 70rem; margin: 2rem auto; padding: 0 1rem }
        table { border-collapse: collapse; width: 100% } caption { text-align: left; font-weight: 600; padding: .5rem 0 }
        th, td { border: 1px solid #767676; padding: .35rem .5rem; text-align: left; vertical-align: top; overflow-wrap: break-word } th { background: #eef2ee }
        .scroll { overflow-x: auto } .scroll:focus { outline: 3px solid #00539f }
        """;

    /// <summary>What is told of something that was set aside, whatever of it is sound.</summary>
    /// <param name="findings">Those that it was set aside for.</param>
    internal static CheckReport OfSetAside(string source, ReadResult result, IReadOnlyList<Finding> findings, DateOnly today) =>
        new(source, result with { Contribution = null, Findings = findings }, today);

    /// <summary>What each burial of the rows without findings gives.</summary>
    public IReadOnlyList<CheckedBurial> Burials { get; } = CheckedBurial.Of(Result.Burials, Result.PlannedDepthCentimetres);

    public CheckSummary? Summary => Result.SoundRows is { } rows ? CheckSummary.Of(rows, Burials) : null;

    /// <summary>What was read, beside what is usual.</summary>
    public IReadOnlyList<PlausibilityLine> Plausibility =>
        Result.SoundRows is { } rows ? Judging.Plausibility.Of(rows, Burials, Today, Result.Expected) : [];

    /// <summary>Whether the sender said that what is unusual is right.</summary>
    public bool IsConfirmed { get; init; }

    /// <summary>What is unusual and not confirmed.</summary>
    public IReadOnlyList<PlausibilityLine> ToConfirm => IsConfirmed ? [] : [.. Plausibility.Where(line => !line.IsUsual)];

    public bool IsValid => Result.Contribution is not null;

    /// <summary>Whether it can be sent as it is: nothing to mend, and nothing unusual that the sender has not confirmed.</summary>
    public bool IsReady => IsValid && ToConfirm.Count == 0;

    public string ToMarkdown(Phrases words)
    {
        CheckTelling telling = CheckTelling.Of(this, words);
        return $"""
            # {ReportText.Markdown(words.Say("answer.check-of", Source))}

            **{ReportText.Markdown(telling.First)}** {ReportText.Markdown(string.Join(" ", telling.Then))}

            {Section(telling.Mend)}{Section(telling.Gate)}{Section(telling.Results)}{Section(telling.Look, words["answer.look.text"])}
            ## {words["answer.stands"]}

            | | |
            | --- | --- |
            {string.Concat(telling.Facts.Select(fact => $"| {fact.What} | {ReportText.Markdown(fact.Value)} |\n"))}
            """;

        static string Section(TellingTable? table, string about = "") => table is null ? ""
            : $"## {ReportText.Markdown(table.Caption)}\n\n{(about.Length > 0 ? about + "\n\n" : "")}{ReportText.Table(table)}\n";
    }

    /// <summary>One page, without scripts and without anything that is fetched.</summary>
    public string ToHtml(Phrases words)
    {
        CheckTelling telling = CheckTelling.Of(this, words);
        string title = Html(words.Say("answer.check-of", Source));
        return $"""
            <!DOCTYPE html>
            <html lang="{words.Code}">
            <head>
            <meta charset="utf-8">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
            <title>{title}</title>
            <style>
            {Style}
            </style>
            </head>
            <body>
            <main>
            <h1>{title}</h1>
            <p><strong>{Html(telling.First)}</strong></p>
            {string.Concat(telling.Then.Select(line => $"<p>{Html(line)}</p>\n"))}{Section("mend", telling.Mend)}{Section("gate",
                telling.Gate)}{Section("results", telling.Results)}{Section("look", telling.Look, words["answer.look.text"])}<table>
            <caption>{Html(words["answer.stands"])}</caption>
            <tbody>
            {string.Concat(telling.Facts.Select(fact =>
                $"<tr><th scope=\"row\">{Html(fact.What)}</th><td>{Html(fact.Value)}</td></tr>\n"))}</tbody>
            </table>
            </main>
            </body>
            </html>

            """;
    }

    private static string Section(string id, TellingTable? table, string about = "")
    {
        if (table is null)
            return "";
        string head = string.Concat(table.Head.Select(name => name.Length == 0 ? "<td></td>" : $"<th scope=\"col\">{Html(name)}</th>"));
        return $"""
            <h2 id="{id}">{Html(table.Caption)}</h2>
            {(about.Length > 0 ? $"<p>{Html(about)}</p>\n" : "")}<div class="scroll" tabindex="0" role="region" aria-labelledby="{id}">
            <table>
            <thead><tr>{head}</tr></thead>
            <tbody>
            {string.Concat(table.Rows.Select(row =>
                $"<tr>{string.Concat(row.Select(cell => $"<td>{Html(SpreadsheetSafe.Text(cell))}</td>"))}</tr>\n"))}</tbody>
            </table>
            </div>

            """;
    }

    private static string Html(string text) => WebUtility.HtmlEncode(ReceivedText.OneLine(text, ' '));
}
