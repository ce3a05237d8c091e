namespace DecayAtlas.Pipeline.Configuration;

/// <summary>The campaign files that a configuration names.</summary>
internal static class CampaignFiles
{
    /// <exception cref="ConfigurationException">One of them is not usable, or two are of one campaign.</exception>
    public static IReadOnlyList<Campaign> Read(IReadOnlyList<string> paths)
    {
        List<Campaign> campaigns = [];
        foreach (string path in paths)
        {
            Campaign campaign = CampaignReader.Read(path);
            if (campaigns.Any(other => other.Id == campaign.Id))
            {
                throw new ConfigurationException($"{path}: campaign: found {campaign.Id}, which another of the campaign files has; give "
                    + "each campaign one file.");
            }

            campaigns.Add(campaign);
        }

        return campaigns;
    }

    /// <summary>The group of an id, in the campaign of an id or, where that is not known, in any.</summary>
    public static (Campaign Campaign, CampaignGroup Group)? GroupOf(
        IReadOnlyList<Campaign> campaigns, string? contributorId, string? campaignId = null)
    {
        foreach (Campaign campaign in campaigns.Where(c => campaignId is null || c.Id == campaignId))
        {
            if (campaign.Groups.FirstOrDefault(g => g.Id == contributorId) is { } group)
                return (campaign, group);
        }

        return null;
    }

    /// <summary>The days of a campaign; null where no file says them. Those who dig were told them, so that none beside them is passed
    /// over.</summary>
    public static ExpectedDays? DaysOf(IReadOnlyList<Campaign> campaigns, string campaignId) =>
        campaigns.FirstOrDefault(campaign => campaign.Id == campaignId) is { } known && (known.Bury ?? known.DigUp) is not null
            ? new ExpectedDays(known.Bury, known.DigUp) { SlackDays = 0 } : null;

    public static string? TitleOfGroup(IReadOnlyList<Campaign> campaigns, string? contributorId) =>
        GroupOf(campaigns, contributorId)?.Group.Title;

    /// <summary>What a group is called with its campaign, in the words of a language; null where no campaign file names it.</summary>
    public static string? Called(PipelineConfiguration configuration, string? contributorId, string? campaignId, Phrases words) =>
        (GroupOf(configuration.Campaigns, contributorId, campaignId) ?? GroupOf(configuration.Campaigns, contributorId))
            is not { Group.Title: { } group } known ? null
            : known.Campaign.Title?.In(words.Code) is { } campaign ? words.Say("waiting.called", group, campaign) : group;

    public static Addressee AddresseeOf(PipelineConfiguration configuration, string? contributorId, string? campaignId)
    {
        Phrases words = WordsOf(configuration, contributorId, campaignId, SenderWords.Find)!;
        return new Addressee(words, Called(configuration, contributorId, campaignId, words));
    }

    /// <summary>The words in which a group is spoken to: of its own language, of its campaign's, of the pages' first.</summary>
    /// <param name="find">The words of a language by its code; null where there are none.</param>
    public static T? WordsOf<T>(PipelineConfiguration configuration, string? contributorId, string? campaignId, Func<string, T?> find)
        where T : Phrases
    {
        (Campaign Campaign, CampaignGroup Group)? known = GroupOf(configuration.Campaigns, contributorId, campaignId)
            ?? GroupOf(configuration.Campaigns, contributorId);
        string? asked = known?.Group.Language ?? known?.Campaign.Language
            ?? configuration.Campaigns.FirstOrDefault(campaign => campaign.Id == campaignId)?.Language;
        string front = configuration.Pages?.Languages is [var first, ..] ? first : "en";
        return (asked is null ? null : find(asked)) ?? find(front) ?? find("en");
    }
}
