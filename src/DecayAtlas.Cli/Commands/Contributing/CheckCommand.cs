using System.ComponentModel;
using System.Text;
using DecayAtlas.Contributions.Schema;
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

        [CommandOption("--language <CODE>")]
        [Description("The language of what is said, as de; en unless stated.")]
        [DefaultValue("en")]
        public required string Language { get; init; }

        [CommandOption("--confirmed")]
        [Description("You looked at what is unusual, and it is right.")]
        public bool IsConfirmed { get; init; }

        [CommandOption("--json")]
        [Description("Print the result as JSON and nothing else.")]
        public bool Json { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (settings.Report is { } report && !IsMarkdown(report) && !IsHtml(report))
            throw new ConfigurationException($"--report {report}: a report is a .md or a .html file; give it one of these endings.");
        if (settings.Mapping is { } mapping)
            NamedPath.RequireFile(mapping, "mapping", "correct the path, or let decayatlas map-columns write one");
        NamedPath.Require(settings.Path, "contribution");

        if (Directory.Exists(settings.Path) && !File.Exists(Path.Combine(settings.Path, SchemaCatalogue.DescriptorName)))
        {
            throw new ConfigurationException($"{settings.Path} is a folder without {SchemaCatalogue.DescriptorName}; name a folder or .zip "
                + "with one, a workbook, or a table with its mapping.");
        }

        Phrases words = SenderWords.Find(settings.Language) ?? throw new ConfigurationException($"--language {settings.Language}: "
            + $"expected one of {string.Join(", ", SenderWords.Known)}.");

        string name = ReceivedText.Name(Path.GetFileName(Path.TrimEndingDirectorySeparator(settings.Path)));
        CheckReport check = new(name, ContributionReader.Read(settings.Path, IntakeLimits.Default, settings.Mapping),
            DateOnly.FromDateTime(DateTime.UtcNow))
        { IsConfirmed = settings.IsConfirmed };
        if (settings.Json)
            screen.Line(CheckAnswer.Json(settings.Path, check));
        else
            check = CheckScreen.Show(check, words, screen);
        if (settings.Report is { } file)
            File.WriteAllText(file, IsHtml(file) ? check.ToHtml(words) : check.ToMarkdown(words), new UTF8Encoding(false));
        return check.IsReady ? RecordedRun.Done : RecordedRun.NeedsPerson;
    }

    private static bool IsMarkdown(string path) => path.EndsWith(".md", StringComparison.OrdinalIgnoreCase);

    private static bool IsHtml(string path) => path.EndsWith(".html", StringComparison.OrdinalIgnoreCase);
}
