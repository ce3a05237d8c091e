using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace DecayAtlas.Kit.Tests;

public partial class WhatAKitSays
{
    public static TheoryData<string> Languages => new(SenderWords.Known);

    [Theory, MemberData(nameof(Languages))]
    public void Every_page_is_well_formed_in_every_language_and_holds_no_key_and_no_hole(string language)
    {
        GroupKit kit = ExampleKits.Of("quillmoor-upper-school", language);
        foreach (string file in KitPage.All.Select(page => page.File))
        {
            string page = System.Text.Encoding.UTF8.GetString(KitFolder.Content(kit, file));

            XDocument read = XDocument.Parse(Void().Replace(page.Replace("<!DOCTYPE html>", "", StringComparison.Ordinal), "<$1 />"));
            Assert.Equal(language, read.Root!.Attribute("lang")!.Value);
            Assert.Single(read.Descendants("h1"));
            Assert.DoesNotMatch(@"\{\d\}|kit\.[a-z]", read.Root.Element("body")!.Value);
            Assert.All(read.Descendants("a").Select(a => a.Attribute("href")!.Value), link => Assert.Contains(link, KitFolder.Files));
        }
    }

    [Fact]
    public void Cautions_stand_first_and_hold_those_of_the_curator()
    {
        string start = ExampleKits.Page("start"), cautions = ExampleKits.Page("cautions");

        Assert.True(start.IndexOf("cautions.html\"><b>", StringComparison.Ordinal)
            < start.IndexOf("labels.html\"><b>", StringComparison.Ordinal));
        Assert.Contains("Rushy Lane", cautions, StringComparison.Ordinal);
        Assert.Contains("plant-health permit", cautions, StringComparison.Ordinal);
        Assert.Contains("Local rules", cautions, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("burial")]
    [InlineData("digging")]
    public void What_a_curator_adds_goes_along_to_the_field(string page) =>
        Assert.Contains("Rushy Lane", ExampleKits.Page(page), StringComparison.Ordinal);

    // the tare of a lot is that of an empty bag as it is handed out: half a gram of label would pass for litter
    [Theory, MemberData(nameof(Languages))]
    public void A_label_goes_on_after_the_first_weighing_and_hangs_on_nothing_that_is_weighed(string language)
    {
        GroupKit kit = ExampleKits.Of("moss-watchers", language);
        string label = language switch { "en" => "label", "de" => "Etikett", "es" => "etiqueta", _ => "étiquette" };
        string[] weighed =
        [
            kit.Basis, kit.Words["kit.note.before.gross"], kit.Words["kit.note.after.gross"], kit.Words["kit.weighing.label"],
            kit.Words["kit.weighing.3"], kit.Words["kit.digging.4"],
        ];

        string start = ExampleKits.Page("start", kit);
        Assert.True(start.IndexOf("weighing.html\"><b>", StringComparison.Ordinal)
            < start.IndexOf("labels.html\"><b>", StringComparison.Ordinal));
        Assert.All(weighed, said => Assert.Contains(label, said, StringComparison.OrdinalIgnoreCase));
    }

    // as the workbook has it: who hides a place must be able to say so where it is written down
    [Fact]
    public void The_sheet_of_places_asks_whether_to_hide_them() =>
        Assert.Contains("Hide the exact place?", ExampleKits.Page("burial"), StringComparison.Ordinal);

    [Fact]
    public void What_a_curator_wrote_is_text_and_no_markup()
    {
        Campaign campaign = ExampleKits.Campaign with
        {
            Title = LocalText.Of("<script>alert(1)</script>", "en"),
            HandIn = LocalText.Of("a & b \"<img src=x>\"", "en"),
        };
        GroupKit kit = GroupKit.Of(campaign, "f", PaperSize.A4, "moss-watchers", null).Single();

        Assert.All(new[] { "start", "labels", "experiment" }, page =>
        {
            Assert.DoesNotContain("<script", ExampleKits.Page(page, kit), StringComparison.Ordinal);
            Assert.DoesNotContain("<img src=x", ExampleKits.Page(page, kit), StringComparison.Ordinal);
        });
    }

    [Fact]
    public void The_same_campaign_gives_the_same_bytes()
    {
        foreach (string file in KitFolder.Files)
            Assert.Equal(KitFolder.Content(ExampleKits.Of(), file), KitFolder.Content(ExampleKits.Of(), file));
    }

    [Theory]
    [InlineData("nobody", "--group nobody: found no such group in campaign.yaml, expected one of quillmoor-upper-school")]
    public void A_group_that_is_not_there_is_told(string group, string told) => Assert.StartsWith(told,
        Assert.Throws<ConfigurationException>(
            () => GroupKit.Of(ExampleKits.Campaign, "campaign.yaml", PaperSize.A4, group, null)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_campaign_whose_kit_could_give_no_rate_is_refused()
    {
        Campaign campaign = ExampleKits.Campaign with
        {
            Lots = [.. ExampleKits.Campaign.Lots.Select(lot => lot.Where(entry => entry.Key != "tare_g").ToDictionary())],
        };

        Assert.Contains("found no tare_g of the lot Tamarack-4", Assert.Throws<ConfigurationException>(
            () => GroupKit.Of(campaign, "campaign.yaml", PaperSize.A4, null, null)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_without_groups_makes_a_kit_for_a_named_one()
    {
        Campaign campaign = ExampleKits.Campaign with { Groups = [] };

        Assert.Equal("mill-school", GroupKit.Of(campaign, "f", PaperSize.Letter, "mill-school", null).Single().Group.Id);
        Assert.Throws<ConfigurationException>(() => GroupKit.Of(campaign, "f", PaperSize.A4, null, null));
        Assert.Throws<ConfigurationException>(() => GroupKit.Of(campaign, "f", PaperSize.A4, "../mill", null));
    }

    [GeneratedRegex(@"<((?:meta|link|img)\b[^>]*)>")]
    private static partial Regex Void();
}
