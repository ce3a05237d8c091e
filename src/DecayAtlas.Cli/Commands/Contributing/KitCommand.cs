using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Contributing;

/// <summary>Makes what the groups of a campaign print and fill in.</summary>
internal sealed class KitCommand(Screen screen) : PlainCommand<KitCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FILE>")]
        [Description("A campaign file (schemas/campaign-v1.schema.json).")]
        public required string File { get; init; }

        [CommandOption("--output <FOLDER>")]
        [Description("Where a folder for each group is made. What is there is not overwritten.")]
        [DefaultValue("kits")]
        public string Output { get; init; } = "kits";

        [CommandOption("--group <ID>")]
        [Description("One group alone; where the file names no groups, the id of any.")]
        public string? Group { get; init; }

        [CommandOption("--paper <PAPER>")]
        [Description("What is printed on: a4 or letter.")]
        [DefaultValue("a4")]
        public string Paper { get; init; } = "a4";

        [CommandOption("--language <CODE>")]
        [Description("The language of all kits, in place of that of each group: de, en, es or fr.")]
        public string? Language { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        Phrases words = SpokenLanguage.Of(settings.Language);
        SpokenLanguage.RequireFile(words, "option.no-campaign", settings.File);
        Campaign campaign = CampaignReader.Read(settings.File);
        // who reads this wrote the campaign file
        words = SenderWords.Find(settings.Language ?? campaign.Language) ?? words;
        PaperSize paper = PaperSize.Find(settings.Paper)
            ?? throw SpokenLanguage.Refused(words, "--paper", settings.Paper, PaperSize.Known);
        GroupKit[] kits =
        [
            .. GroupKit.Of(campaign, settings.File, paper, settings.Group, settings.Language)
                .Select(kit => kit with
                {
                    BuiltIn = new(Path.GetFileName(settings.File), CampaignReader.ForPages(settings.File, kit.Group.Id)),
                }),
        ];
        string[] unstated =
        [
            .. kits.SelectMany(kit => kit.Campaign.Lots)
                .Where(lot => !lot.ContainsKey("hydrolysable_basis") || !lot.ContainsKey("hydrolysable_parts"))
                .Select(lot => lot["lot_id"]).Distinct(StringComparer.Ordinal),
        ];
        if (unstated.Length > 0)
            screen.Line(words.Say("option.kit-chemistry", settings.File, string.Join(", ", unstated)));
        foreach ((GroupKit kit, string folder) in kits.Zip(KitFolder.Write(kits, settings.Output)))
        {
            screen.Line(words.Say("option.kit-made", kit.Holes, folder, 2 * kit.Holes));
            if (kit.Untranslated.Count > 0)
            {
                screen.Line(words.Say("option.kit-untranslated", folder, string.Join(", ", kit.Untranslated), settings.File, kit.Words.Code,
                    campaign.Language));
            }
        }
        return RecordedRun.Done;
    }
}
