namespace DecayAtlas.Kit.Tests;

/// <summary>What the curator wrote, in the language of each kit.</summary>
public class LanguagesOfAKit
{
    [Fact]
    public void A_kit_takes_the_curators_texts_of_its_language_and_names_those_that_are_not_there()
    {
        GroupKit german = ExampleKits.Of("zwillbach-gymnasium", "de"), french = ExampleKits.Of("moss-watchers", "fr");

        Assert.Contains("das Beet vor der Südmauer", ExampleKits.Page("experiment", german), StringComparison.Ordinal);
        Assert.Contains("Am Binsenweg", ExampleKits.Page("cautions", german), StringComparison.Ordinal);
        Assert.DoesNotContain("Rushy Lane", ExampleKits.Page("cautions", german), StringComparison.Ordinal);
        Assert.Empty(german.Untranslated);
        Assert.Equal(["title", "hand_in", "cautions", "treatments", "experiment"], french.Untranslated);
        Assert.Contains("<p class=\"whose\">Was in Quillmoor verrottet</p>", ExampleKits.Page("labels", german), StringComparison.Ordinal);
        Assert.Contains("<p class=\"whose\">What rots in Quillmoor</p>", ExampleKits.Page("labels", french), StringComparison.Ordinal);
        // a title in one language is a name
        Campaign named = ExampleKits.Campaign with { Title = LocalText.Of("Quillmoor", "en") };
        Assert.DoesNotContain("title", GroupKit.Of(named, "f", PaperSize.A4, "moss-watchers", "de").Single().Untranslated);
        Assert.Contains("Rushy Lane", ExampleKits.Page("cautions", french), StringComparison.Ordinal);
    }

    [Fact]
    public void A_treatment_in_the_kits_language_is_sent_as_the_campaigns_word()
    {
        using FilledKit kit = new FilledKit("de").Hole("K5", "gemäht");

        Assert.All(kit.Read().Contribution!.Bags, bag => Assert.Equal("mown", bag.Treatment));
    }

    [Fact]
    public void A_place_keeps_its_name_as_it_was_written_beside_the_id_that_is_made_of_it()
    {
        using FilledKit kit = new FilledKit("de").Place("A5", "Südhang-Nord, obere Wiese").Hole("B5", "Südhang-Nord, obere Wiese"),
            plain = new("de");
        SiteRow site = Assert.Single(kit.Read().Contribution!.Sites);
        Assert.Equal(("Suedhang-Nord-obere-Wiese", "Südhang-Nord, obere Wiese"), (site.SiteId, site.SiteName));
        Assert.Equal(("Bachufer", null), plain.Read().Contribution!.Sites is [var only] ? (only.SiteId, only.SiteName) : default);

        byte[] zip = SentPackage.Of(kit.File, IntakeLimits.Default)!.Value.Zip;
        string sent = Path.Combine(Path.GetDirectoryName(kit.File)!, "sent.zip");
        File.WriteAllBytes(sent, zip);
        SiteRow again = Assert.Single(ContributionReader.Read(sent, IntakeLimits.Default).Contribution!.Sites);
        Assert.Equal("Südhang-Nord, obere Wiese", again.SiteName);
    }

    // row 5 of the sheet about the group is that of the number of its version, as somebody sees it who opens the workbook
    [Fact]
    public void A_changed_kit_under_an_accepted_number_is_told_the_cell_that_says_the_number()
    {
        using FilledKit kit = new FilledKit("de").AboutUs("B3", "Lehrerzimmer"), changed = new FilledKit("de").AboutUs("B3", "Werkraum");
        string folder = Directory.CreateDirectory(Path.Combine(Path.GetDirectoryName(kit.File)!, "inbox")).FullName,
            atlas = Path.Combine(Path.GetDirectoryName(kit.File)!, "atlas"), sent = Path.Combine(folder, "sheet.xlsx");
        kit.Read();
        File.Copy(kit.File, sent);
        Assert.Equal(IntakeOutcome.Accepted, Assert.Single(new Intake(atlas, IntakeLimits.Default).TakeInbox(folder, null)).Outcome);
        changed.Read();
        File.Copy(changed.File, sent, overwrite: true);

        Finding finding = Assert.Single(Assert.Single(new Intake(atlas, IntakeLimits.Default).TakeInbox(folder, null)).Findings);

        Assert.Equal(("revision-repeated", "sheet.xlsx", "Über uns", "B5", null),
            (finding.Code, finding.File, finding.Sheet, finding.Cell, finding.Column));
        string told = FindingWords.Sentence(finding, SenderWords.Find("de")!);
        Assert.Contains("Über uns", told, StringComparison.Ordinal);
        Assert.Contains("eine höhere Fassungsnummer", told, StringComparison.Ordinal);
        Assert.DoesNotContain("package", told, StringComparison.Ordinal);
    }

    [Fact]
    public void The_country_of_the_group_reaches_its_places_and_a_kit_is_sent_whole()
    {
        using FilledKit kit = new FilledKit("de").AboutUs("B3", "Lehrerzimmer").AboutUs("B4", "zimmer@example.org");
        Contribution read = kit.Read().Contribution!;
        Assert.Equal("IE", Assert.Single(read.Sites).CountryCode);

        (string name, byte[] zip) = SentPackage.Of(kit.File, IntakeLimits.Default, revision: 2)!.Value;
        string sent = Path.Combine(Path.GetDirectoryName(kit.File)!, name);
        File.WriteAllBytes(sent, zip);
        Contribution again = ContributionReader.Read(sent, IntakeLimits.Default).Contribution!;

        Assert.Equal(read.Header with { ContentHash = "", Revision = 2 }, again.Header with { ContentHash = "" });
        Assert.Equal(read.Sites.Select(row => row with { Row = 0 }), again.Sites.Select(row => row with { Row = 0 }));
        Assert.Equal(read.Lots.Select(row => row with { Row = 0 }), again.Lots.Select(row => row with { Row = 0 }));
        Assert.Equal(read.Bags.Select(row => row with { Row = 0 }), again.Bags.Select(row => row with { Row = 0 }));
        using System.IO.Compression.ZipArchive archive = new(new MemoryStream(zip));
        using StreamReader descriptor = new(archive.GetEntry("datapackage.json")!.Open());
        Assert.Contains("zimmer@example.org", descriptor.ReadToEnd(), StringComparison.Ordinal);
    }
}
