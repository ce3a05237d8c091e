namespace DecayAtlas.Kit.Tests;

/// <summary>Kits of the shipped example of a campaign.</summary>
internal static class ExampleKits
{
    public static string File { get; } = Path.Combine(AppContext.BaseDirectory, "example-campaign", "campaign.yaml");

    public static Campaign Campaign { get; } = CampaignReader.Read(File);

    public static GroupKit Of(string group = "moss-watchers", string language = "en", PaperSize? paper = null) =>
        GroupKit.Of(Campaign, File, paper ?? PaperSize.A4, group, language).Single();

    public static string Page(string name, GroupKit? kit = null) =>
        System.Text.Encoding.UTF8.GetString(KitFolder.Content(kit ?? Of(), name + ".html"));
}
