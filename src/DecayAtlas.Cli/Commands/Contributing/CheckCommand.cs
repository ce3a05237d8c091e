using System.ComponentModel;
using System.Text;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Contributing;

/// <summary>Reads one contribution as the intake would, and says what is wrong with it.</summary>
internal sealed class CheckCommand(Screen screen) : PlainCommand<CheckCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<PATH>")]
        [Description(
            "A folder or .zip with datapackage.json, an .xlsx with the tables as sheets, or a wide table with its mapping beside it.")]
        public required string Path { get; init; }

        [CommandOption("--mapping <FILE>")]
        [Description("The mapping of a wide table, where it is not NAME.mapping.yaml beside it.")]
        public string? Mapping { get; init; }

        [CommandOption("--report <FILE>")]
        [Description("Also write a report to send back: FILE.md or FILE.html.")]
        public string? Report { get; init; }

        [CommandOption("--json")]
        [Description("Print the result as JSON and nothing else.")]
        public bool Json { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (settings.Report is { } report && !IsMarkdown(report) && !IsHtml(report))
            throw new ConfigurationException($"--report {report}: a report is a .md or a .html file; give it one of these endings.");
        if (settings.Mapping is { } mapping)
            NamedPath.RequireFile(mapping, "mapping", "correct the path, or let decayatlas map-columns propose a mapping");
        NamedPath.Require(settings.Path, "contribution");

        string name = ReceivedText.Name(Path.GetFileName(Path.TrimEndingDirectorySeparator(settings.Path)));
        CheckReport check = new(name, ContributionReader.Read(settings.Path, IntakeLimits.Default, settings.Mapping));
        if (settings.Json)
        {
            screen.Json(new
            {
                path = settings.Path,
                valid = check.IsValid,
                format = check.Result.Format,
                content_hash = check.Result.ContentHash,
                summary = check.Summary,
                findings = check.Result.Findings,
                warnings = check.Result.Warnings,
            });
        }
        else
        {
            screen.Lines(check.Result.Findings);
            screen.Lines(check.Result.Warnings.Select(warning => $"Look at this, though it keeps nothing out: {warning}"));
            screen.Lines(check.SummaryLines().Select(line => $"  {line.What}: {line.Value}"));
            screen.Line(check.Verdict);
        }
        if (settings.Report is { } file)
            File.WriteAllText(file, IsHtml(file) ? check.ToHtml() : check.ToMarkdown(), new UTF8Encoding(false));
        return check.IsValid ? RecordedRun.Done : RecordedRun.NeedsPerson;
    }

    private static bool IsMarkdown(string path) => path.EndsWith(".md", StringComparison.OrdinalIgnoreCase);

    private static bool IsHtml(string path) => path.EndsWith(".html", StringComparison.OrdinalIgnoreCase);
}
