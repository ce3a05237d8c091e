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
        Phrases words = SpokenLanguage.Of(settings.Language);
        if (settings.Report is { } report && !IsMarkdown(report) && !IsHtml(report))
            throw new ConfigurationException(words.Say("option.report", report));
        if (settings.Mapping is { } mapping)
            SpokenLanguage.RequireFile(words, "option.no-mapping", mapping);
        if (!Directory.Exists(settings.Path))
            SpokenLanguage.RequireFile(words, "option.no-contribution", settings.Path);
        else if (!File.Exists(Path.Combine(settings.Path, SchemaCatalogue.DescriptorName)))
            throw new ConfigurationException(words.Say("option.bare-folder", settings.Path, SchemaCatalogue.DescriptorName));

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
