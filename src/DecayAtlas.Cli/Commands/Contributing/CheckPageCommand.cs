using System.ComponentModel;
using System.Text;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Contributing;

/// <summary>Writes the check for browsers as one file to hand out.</summary>
internal sealed class CheckPageCommand(Screen screen) : PlainCommand<CheckPageCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FILE>")]
        [Description("The page to write: a .html file.")]
        public required string File { get; init; }

        [CommandOption("--campaign <FILE>")]
        [Description("A campaign file that is built in, so that senders are not asked what it says.")]
        public string? Campaign { get; init; }

        [CommandOption("--language <CODE>")]
        [Description("The language for browsers that ask for none of those it speaks.")]
        [DefaultValue("en")]
        public required string Language { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (!CheckInOneFile.Languages.Contains(settings.Language))
        {
            throw new ConfigurationException($"--language {settings.Language}: there is no such language; there are "
                + $"{string.Join(", ", CheckInOneFile.Languages)}.");
        }

        Phrases words = SenderWords.Find(settings.Language)!;
        if (!settings.File.EndsWith(".html", StringComparison.OrdinalIgnoreCase))
            throw new ConfigurationException(words.Say("option.page-form", settings.File));

        if (settings.Campaign is { } campaign)
            SpokenLanguage.RequireFile(words, "option.no-campaign", campaign);

        string page = CheckInOneFile.Text(settings.Language, settings.Campaign is { } named
            ? new BuiltInCampaign(Path.GetFileName(named), CampaignReader.ForPages(named)) : null);
        File.WriteAllText(settings.File, page, new UTF8Encoding(false));
        screen.Line(words.Say("option.page-written", settings.File));
        return RecordedRun.Done;
    }
}
