namespace DecayAtlas.Contributions.Tests;

public class CampaignTests
{
    private static readonly string Example = Path.Combine(AppContext.BaseDirectory, "example-campaign", "campaign.yaml");

    [Fact]
    public void The_example_is_read_as_it_is_written()
    {
        Campaign campaign = CampaignReader.Read(Example);

        Assert.Equal(("quillmoor-spring-2027", "quillmoor-buried-pairs-1", "en", 6),
            (campaign.Id, campaign.Protocol, campaign.Language, campaign.BurialsPerGroup));
        Assert.Equal(new DayRange(new(2027, 4, 12), new(2027, 4, 23)), campaign.Bury);
        Assert.Equal(new DayRange(new(2027, 7, 5), new(2027, 7, 16)), campaign.DigUp);
        Assert.Equal(["Tamarack-4", "Bulrush-2"], campaign.Lots.Select(lot => lot["lot_id"]));
        Assert.Equal("0.64", campaign.Lots[0]["tare_g"]);
        Assert.Equal(("gross", "oven", "yes", "12"), (campaign.Bags["mass_basis"], campaign.Bags["drying"],
            campaign.Bags["unused_material"], campaign.Bags["depth_cm"]));
        Assert.Equal("lost", campaign.Words["washed out"]);
        Assert.Equal((3.0, 0.25), (campaign.Experiment!.DegreesApart, campaign.Experiment.ScatterOfLnK));
        Assert.Equal(["quillmoor-upper-school", "zwillbach-gymnasium", "moss-watchers"], campaign.Groups.Select(group => group.Id));
        Assert.Equal((15, 1, 101), (campaign.Groups[0].Burials, campaign.Groups[0].FirstBurial, campaign.Groups[2].FirstBurial));
        Assert.Equal("Bulrush-2", campaign.LotOf(campaign.Groups[0], "slow")!["lot_id"]);
    }

    [Theory]
    [InlineData("campaign: quillmoor-spring-2027", "campaign: Quill Moor", ":4: campaign: found \"Quill Moor\"; expected: the campaign id")]
    [InlineData("bury: { from: 2027-04-12", "bury: { from: 2027-02-30", ":11: bury.from: found 2027-02-30, expected a day that exists")]
    [InlineData("to: 2027-04-23 }", "to: 2027-04-02 }", ":11: bury.to: found 2027-04-02, which is before 2027-04-12")]
    [InlineData("dig_up: { from: 2027-07-05", "dig_up: { from: 2027-04-20", ":12: dig_up.from: found 2027-04-20, expected a day after")]
    [InlineData("    role: slow", "    role: fast", ":16: lots: found no slow lot, expected at least one fast and one slow lot.")]
    [InlineData("lot_id: Bulrush-2", "lot_id: Tamarack-4", ":30: lots.1.lot_id: found the lot Tamarack-4 twice, expected each lot once.")]
    [InlineData("    tare_g: 0.64", "    tara_g: 0.64", "tara_g, expected a field of the table of lots (tare_g, if that was meant).")]
    [InlineData("    ash_fraction: 0.06", "    ash_fraction: 6", ":23: lots.0.ash_fraction: found 6, expected a number from 0 to 0.999")]
    [InlineData("    hydrolysable_fraction_sd: 0.02\n", "", ":17: lots.0: found no hydrolysable_fraction_sd, expected a number")]
    [InlineData("mass_basis: gross", "mass_basis: grams", "mass_basis: found 'grams', expected one of gross, litter; choose")]
    [InlineData("  drying: oven\n", "", "bags: Required properties [\"drying\"] are not present")]
    [InlineData("unused_material: yes", "unused_material: true", "bags.unused_material: found true; expected: yes for litter as supplied")]
    [InlineData("bog: wetland", "bog: wetlnd", "words.bog: found wetlnd, expected a word of the schema or of the vocabularies; write wetland")]
    [InlineData("{ id: moss-watchers", "{ id: Zwillbach-Gymnasium", "found the group Zwillbach-Gymnasium twice, capitals aside")]
    [InlineData("country_code: AT", "country_code: Austria", "groups.1.country_code: found \"Austria\"; expected: the country")]
    [InlineData("burials: 15", "burials: 0", "groups.0.burials: found 0; expected: how many burials")]
    [InlineData("first_burial: 101", "lots: [Tamarack-4, Bulrush-9]", "groups.2.lots.1: found Bulrush-9, expected the id of a lot of this file.")]
    [InlineData("degrees_apart: 3 ", "degrees_apart: -3 ", "experiment.degrees_apart: found -3; expected: how many degrees")]
    [InlineData("hand_in: Send", "handin: Send", "handin is not a key of this format")]
    [InlineData("{ en: mown, de: gemäht }", "{ en: mown, German: gemäht }", "found German, expected the code of a language, as de")]
    [InlineData("{ en: mown, de: gemäht }", "{}", "treatments.0: found a mapping; expected: a treatment")]
    [InlineData("{ en: irrigated, de: bewässert }", "mown", "treatments.1: found the treatment mown twice, expected each treatment once.")]
    public void A_mistake_is_told_in_one_sentence_with_its_line(string found, string put, string told)
    {
        string text = File.ReadAllText(Example);
        Assert.Contains(found, text, StringComparison.Ordinal);
        byte[] changed = System.Text.Encoding.UTF8.GetBytes(text.Replace(found, put, StringComparison.Ordinal));

        ConfigurationException fault = Assert.Throws<ConfigurationException>(
            () => CampaignReader.Read("campaign.yaml", () => new MemoryStream(changed)));

        Assert.Matches(@"^campaign\.yaml:\d+: ", fault.Message);
        Assert.Contains(told, fault.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', fault.Message);
    }

    [Fact]
    public void A_text_is_one_for_all_or_one_for_each_language()
    {
        Campaign campaign = CampaignReader.Read(Example);

        Assert.Equal(("mown", "gemäht", "mown"),
            (campaign.Treatments[0].Plain, campaign.Treatments[0].In("de"), campaign.Treatments[0].In("fr")));
        Assert.Equal("das Beet hinter dem Schuppen", campaign.Experiment!.Cold.In("de"));
        Assert.Equal((true, false), (campaign.HandIn!.Speaks("en"), campaign.HandIn.Speaks("de")));
        // a group's own text is in the group's language
        Assert.Equal((false, true), (campaign.Groups[1].HandIn!.Speaks("en"), campaign.Groups[1].HandIn!.Speaks("de")));
    }

    [Fact]
    public void Pages_get_what_a_check_needs_and_no_remark_way_to_hand_in_or_caution()
    {
        string plain = CampaignReader.ForPages(Example);

        Assert.All(new[] { "curator by e-mail", "Kampagnenleitung", "Rushy Lane", "Binsenweg", "sheets that came with them", "#" },
            text => Assert.DoesNotContain(text, plain, StringComparison.Ordinal));
        Campaign read = CampaignReader.Read("embedded", () => new MemoryStream(System.Text.Encoding.UTF8.GetBytes(plain)));
        Campaign whole = CampaignReader.Read(Example);
        Assert.Equal(whole.Groups.Select(group => (group.Id, group.CountryCode, group.Burials)),
            read.Groups.Select(group => (group.Id, group.CountryCode, group.Burials)));
        Assert.Equal(whole.Lots.SelectMany(lot => lot), read.Lots.SelectMany(lot => lot));
        Assert.Equal((null, 0, 0), (read.HandIn, read.Cautions.Count, read.Groups.Sum(group => group.Cautions.Count)));
    }

    // the check page of a kit lies with its group, and has no need to ask who that is
    [Theory]
    [InlineData("moss-watchers", "The Moss Watchers")]
    [InlineData("nobody-listed", null)]
    public void A_page_for_one_group_knows_that_group_alone(string id, string? title)
    {
        string plain = CampaignReader.ForPages(Example, id);
        Campaign read = CampaignReader.Read("embedded", () => new MemoryStream(System.Text.Encoding.UTF8.GetBytes(plain)));

        CampaignGroup own = Assert.Single(read.Groups);
        Assert.Equal((id, title), (own.Id, own.Title));
    }

    [Fact]
    public void A_file_that_is_none_is_told_before_anything_of_it_goes_into_pages()
    {
        string path = Path.GetTempFileName();
        File.WriteAllText(path, File.ReadAllText(Example).Replace("    role: slow", "    role: fast", StringComparison.Ordinal));

        Assert.Contains("found no slow lot", Assert.Throws<ConfigurationException>(() => CampaignReader.ForPages(path)).Message,
            StringComparison.Ordinal);
        File.Delete(path);
    }

    [Fact]
    public void A_group_that_names_no_lot_of_several_has_none()
    {
        string text = File.ReadAllText(Example).Replace("lots:\n", """
            lots:
              - { lot_id: Tamarack-5, role: fast, hydrolysable_fraction: 0.7, hydrolysable_fraction_sd: 0.02 }

            """, StringComparison.Ordinal).Replace("first_burial: 101", "lots: [Tamarack-5, Bulrush-2]", StringComparison.Ordinal);

        Campaign campaign = CampaignReader.Read("campaign.yaml", () => new MemoryStream(System.Text.Encoding.UTF8.GetBytes(text)));

        Assert.Null(campaign.LotOf(campaign.Groups[0], "fast"));
        Assert.Equal("Tamarack-5", campaign.LotOf(campaign.Groups[2], "fast")!["lot_id"]);
    }
}
