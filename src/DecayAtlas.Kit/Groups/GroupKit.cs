using System.Globalization;

namespace DecayAtlas.Kit.Groups;

/// <summary>What one group of a campaign gets: which bags, in which words, on which paper.</summary>
/// <param name="Fast">The lot of its bags A, by the fields of the table of lots.</param>
/// <param name="Slow">The lot of its bags B.</param>
public sealed record GroupKit(
    Campaign Campaign, CampaignGroup Group, IReadOnlyDictionary<string, string> Fast, IReadOnlyDictionary<string, string> Slow,
    Phrases Words, PaperSize Paper)
{
    private static readonly string[] Roles = ["fast", "slow"];

    // a class of 30 in pairs
    private const int UsualHoles = 15;

    public string Title => Campaign.Title?.In(Words.Code) ?? Campaign.Id;

    public string GroupTitle => Group.Title ?? Group.Id;

    public int Holes => Group.Burials ?? Campaign.BurialsPerGroup ?? UsualHoles;

    public IEnumerable<int> HoleNumbers => Enumerable.Range(Group.FirstBurial, Holes);

    /// <summary>Whether bags are weighed with all that hangs on them.</summary>
    public bool IsGross => Campaign.Bags["mass_basis"] == "gross";

    /// <summary>How deep the protocol says that bags lie, in cm.</summary>
    public double? Depth => Stated("depth_cm");

    /// <summary>What the last digit of the balance stands for by the protocol, in g.</summary>
    public double? BalanceGrams => Stated("balance_resolution_g");

    private double? Stated(string field) =>
        Campaign.Bags.TryGetValue(field, out string? text) ? double.Parse(text, CultureInfo.InvariantCulture) : null;

    public string HandIn => (Group.HandIn ?? Campaign.HandIn)?.In(Words.Code) ?? Words["kit.hand-in"];

    /// <summary>What the curator said in other languages only, by the names of the campaign file: it stands in the kit as it is.</summary>
    public IReadOnlyList<string> Untranslated =>
    [
        .. new (string Name, LocalText?[] Texts)[]
        {
            // a title in one language is a name; one by language is meant to be there in all
            ("title", Campaign.Title is { ByLanguage.Count: > 1 } title ? [title] : []),
            ("hand_in", [Group.HandIn ?? Campaign.HandIn]), ("cautions", [.. Campaign.Cautions, .. Group.Cautions]),
            ("treatments", [.. Campaign.Treatments]), ("experiment", [Campaign.Experiment?.Warm, Campaign.Experiment?.Cold]),
        }.Where(part => part.Texts.Any(text => text is not null && !text.Speaks(Words.Code))).Select(part => part.Name),
    ];

    /// <summary>What the check page of the kit is not to ask; null where none is built in.</summary>
    public BuiltInCampaign? BuiltIn { get; init; }

    public string Number(string invariant) => invariant.Replace(".", Words["number.decimal"], StringComparison.Ordinal);

    /// <summary>What the protocol says, name and value.</summary>
    public IReadOnlyList<(string What, string Said)> Protocol =>
    [
        (Words["kit.protocol.fast"], LotText(Fast)), (Words["kit.protocol.slow"], LotText(Slow)),
        .. Days("kit.protocol.bury", Campaign.Bury), .. Days("kit.protocol.dig", Campaign.DigUp),
        .. Campaign.Bags.TryGetValue("depth_cm", out string? depth) ? [(Words["kit.protocol.depth"], $"{Number(depth)} cm")]
            : Array.Empty<(string, string)>(),
        (Words["kit.protocol.weigh"], Basis), (Words["kit.protocol.before"], DryingInitial),
        (Words["kit.protocol.after"], Drying),
    ];

    /// <summary>What is weighed.</summary>
    public string Basis => Words[IsGross ? "kit.protocol.gross" : "kit.protocol.litter"];

    /// <summary>How bags are dried before the second weighing.</summary>
    public string Drying => Campaign.Bags.TryGetValue("drying_temperature_c", out string? degrees)
        ? Words.Say("kit.protocol.at", Dried("drying"), Number(degrees)) : Dried("drying");

    /// <summary>How they are before the first; the degrees that the campaign gives are of all that is dried in the same way.</summary>
    public string DryingInitial => Campaign.Bags["drying_initial"] == Campaign.Bags["drying"] ? Drying : Dried("drying_initial");

    private string Dried(string field) => Words[$"kit.word.drying.{Campaign.Bags[field]}"];

    /// <summary>The kits of a campaign.</summary>
    /// <param name="group">One group alone, also one that a file without groups does not name.</param>
    /// <param name="language">In place of that of each group.</param>
    /// <param name="file">Stands for the campaign in messages.</param>
    /// <exception cref="ConfigurationException">The campaign does not say enough, or there is no such group or language.</exception>
    public static IReadOnlyList<GroupKit> Of(Campaign campaign, string file, PaperSize paper, string? group, string? language)
    {
        if (group is not null)
            RequireGroup(campaign, file, group, SenderWords.Find(language ?? campaign.Language) ?? SenderWords.Find("en")!);
        CampaignGroup[] groups = campaign.Groups.Count == 0 && group is not null ? [new CampaignGroup(group)]
            : [.. campaign.Groups.Where(g => group is null || g.Id == group)];
        if (groups.Length == 0)
        {
            throw new ConfigurationException(
                $"{file}: found no groups, expected at least one, as - id: mill-school under groups; or name one with --group.");
        }

        return [.. groups.Select(g => Of(campaign, g, file, paper, language ?? g.Language ?? campaign.Language))];
    }

    private static void RequireGroup(Campaign campaign, string file, string group, Phrases words)
    {
        if (campaign.Groups.Count > 0 && campaign.Groups.All(g => g.Id != group))
            throw new ConfigurationException(words.Say("option.group", group, file, string.Join(", ", campaign.Groups.Select(g => g.Id))));
        if (!CampaignReader.IsId(group))
            throw new ConfigurationException(words.Say("option.group-id", $"'{group}'"));
    }

    private static GroupKit Of(Campaign campaign, CampaignGroup group, string file, PaperSize paper, string language)
    {
        Phrases words = Language.Find(language) ?? throw new ConfigurationException(
            $"{file}: found the language {language} for {group.Id}, expected one of {string.Join(", ", SenderWords.Known)}.");
        IReadOnlyDictionary<string, string>[] lots =
        [
            .. Roles.Select(role => campaign.LotOf(group, role) ?? throw new ConfigurationException(
                $"{file}: found several {role} lots and none named for {group.Id}, expected lots: with the two that it gets.")),
        ];
        if (campaign.Bags["mass_basis"] == "gross" && lots.FirstOrDefault(lot => !lot.ContainsKey("tare_g")) is { } open)
        {
            throw new ConfigurationException($"{file}: found no tare_g of the lot {open["lot_id"]}, expected the weight of an empty bag, "
                + "since bags are weighed with all that hangs on them and no k comes of that without it.");
        }

        return new GroupKit(campaign, group, lots[0], lots[1], words, paper);
    }

    private string LotText(IReadOnlyDictionary<string, string> lot) => lot.TryGetValue("litter_mass_nominal_g", out string? mass)
        ? Words.Say("kit.protocol.lot-mass", lot["lot_id"], Number(mass)) : Words.Say("kit.protocol.lot", lot["lot_id"]);

    private IEnumerable<(string, string)> Days(string what, DayRange? days) => days is null ? []
        : [(Words[what], Words.Say("kit.protocol.days", Words.Day(days.From), Words.Day(days.To)))];
}
