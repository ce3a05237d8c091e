using System.Text;

namespace DecayAtlas.Contributions.Tests;

/// <summary>What mends something that was accepted before comes in under a higher revision, by the way that the quarantine names.</summary>
public sealed class Corrections : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-corrections-").FullName;

    private string Inbox => Path.Combine(_folder, "inbox");

    private string Atlas => Path.Combine(_folder, "atlas");

    public Corrections() => Directory.CreateDirectory(Inbox);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void An_own_table_that_mends_an_accepted_one_is_told_how_to_count_up_and_then_replaces_it()
    {
        string table = Path.Combine(Inbox, "ours.csv"), mapping = Path.Combine(Inbox, "ours.mapping.yaml");
        File.Copy(Path.Combine(Tables, "results.csv"), table);
        File.Copy(Path.Combine(Tables, "results.mapping.yaml"), mapping);
        IntakeResult first = Assert.Single(Take());
        Assert.Equal(IntakeOutcome.Accepted, first.Outcome);

        // a corrected weighing in the sender's own table, and nothing else
        string text = File.ReadAllText(table);
        string weight = text.Split('\n')[1].Split(text.Contains(';', StringComparison.Ordinal) ? ';' : ',')
            .First(cell => double.TryParse(cell.Replace(',', '.'), System.Globalization.CultureInfo.InvariantCulture, out double g)
                && g is > 0.5 and < 5);
        File.WriteAllText(table, Replaced(text, weight, weight + "1"), new UTF8Encoding(false));
        IntakeResult refused = Assert.Single(Take());
        Finding finding = Assert.Single(refused.Findings);
        Assert.Equal((IntakeOutcome.Quarantined, "revision-repeated", "ours.mapping.yaml", "package.revision"),
            (refused.Outcome, finding.Code, finding.File, finding.Column));
        Assert.Contains("map-columns ours.csv --revision 2", finding.Mend, StringComparison.Ordinal);
        Assert.Contains("This mends what I sent before", finding.Mend, StringComparison.Ordinal);
        string report = File.ReadAllText(Path.Combine(Atlas, "quarantine", refused.ContentHash, "report.md"));
        Assert.Contains("--revision 2", report, StringComparison.Ordinal);

        string before = File.ReadAllText(mapping);
        File.WriteAllText(mapping, RevisedMapping.Of("ours.mapping.yaml", before, 2), new UTF8Encoding(false));
        Assert.Single(before.Split('\n').Except(File.ReadAllText(mapping).Split('\n')));   // its other lines are as they were
        IntakeResult mended = Assert.Single(Take());
        Assert.Equal(IntakeOutcome.Accepted, mended.Outcome);
        Intake intake = new(Atlas, IntakeLimits.Default);
        Assert.Equal((2, mended.ContentHash), intake.ActiveHeaders().Select(h => (h.Revision, h.ContentHash)).Single());
        Assert.Empty(intake.StillOpen());
    }

    [Theory]
    [InlineData("results.csv")]
    [InlineData("package")]
    public void What_is_saved_to_send_as_a_correction_carries_the_higher_revision(string what)
    {
        string path = what == "package" ? Example.Folder : Path.Combine(Tables, what);
        (string name, byte[] zip) = SentPackage.Of(path, IntakeLimits.Default)!.Value;
        File.WriteAllBytes(Path.Combine(Inbox, name), zip);
        Assert.Equal(IntakeOutcome.Accepted, Assert.Single(Take()).Outcome);

        File.WriteAllBytes(Path.Combine(Inbox, name), SentPackage.Of(path, IntakeLimits.Default, revision: 2)!.Value.Zip);

        IntakeResult mended = Assert.Single(Take());
        Assert.True(mended.Outcome == IntakeOutcome.Accepted, string.Join("\n", mended.Findings));
        Assert.Equal(2, new Intake(Atlas, IntakeLimits.Default).ActiveHeaders().Single().Revision);
    }

    [Theory]
    [InlineData("package: { name: a-b, revision: 1, contributor: a }\n", "package: { name: a-b, revision: \"7\", contributor: a }\n")]
    [InlineData("package: { name: a-b, contributor: a }\n", "package: { revision: \"7\", name: a-b, contributor: a }\n")]
    [InlineData("package:\n  name: a-b\n  'revision': '1'   # first\n", "package:\n  name: a-b\n  'revision': \"7\"   # first\n")]
    [InlineData("package:\r\n  name: a-b\r\n", "package:\r\n  revision: \"7\"\r\n  name: a-b\r\n")]
    public void A_mapping_is_counted_up_wherever_its_revision_stands(string before, string after) =>
        Assert.Equal(after, RevisedMapping.Of("m.yaml", before, 7));

    [Theory]
    [InlineData("version: 1\n")]
    [InlineData("package: &p { name: a }\nother: [\n")]
    public void What_is_no_mapping_is_told_in_one_sentence(string text) =>
        Assert.Single(Assert.Throws<ConfigurationException>(() => RevisedMapping.Of("m.yaml", text, 2)).Message.Split('\n'));

    [Theory]
    [InlineData(null, "1")]
    [InlineData("3", "3")]
    [InlineData("0", "1")]
    [InlineData("10000", "1")]
    public void A_mapping_of_answers_has_the_revision_that_was_asked_for(string? asked, string revision)
    {
        string table = Path.Combine(_folder, "plain.csv");
        File.WriteAllText(table, "Bag,Place,Lat,Lon,Litter,Before g,After g,Buried,Dug\nP1,Bog,53.3,-7.5,fast,3.84,1.92,2025-04-14,"
            + "2025-07-10\nP2,Bog,53.3,-7.5,slow,4.74,3.90,2025-04-14,2025-07-10\n");
        Campaign campaign = CampaignReader.Read(Path.Combine(AppContext.BaseDirectory, "example-campaign", "campaign.yaml"));
        Dictionary<string, string> answers = [];
        if (asked is not null)
            answers["revision"] = asked;
        Inquiry inquiry = Ask();
        for (int i = 0; i < 20 && inquiry.Questions.Count > 0; i++)
        {
            foreach (Question question in inquiry.Questions)
                answers[question.Id] = question.Suggested ?? (question.Kind == QuestionKind.Choice ? question.Choices[0].Value : "1");
            inquiry = Ask();
        }

        Assert.Equal(revision, YamlDocument.Parse("m", () => new MemoryStream(Encoding.UTF8.GetBytes(inquiry.Mapping!)))
            .Root["package"]!["revision"]!.ToString());

        Inquiry Ask() => SheetInquiry.Of(table, campaign, answers, SenderWords.Find("en")!, IntakeLimits.Default, Example.Today);
    }

    [Fact]
    public void A_zip_that_lies_alone_in_a_folder_of_the_inbox_is_taken_as_the_zip()
    {
        (string name, byte[] zip) = SentPackage.Of(Example.Folder, IntakeLimits.Default)!.Value;
        string folder = Directory.CreateDirectory(Path.Combine(Inbox, "from moss watchers")).FullName;
        using (System.IO.Compression.ZipArchive made = new(File.Create(Path.Combine(folder, name)),
            System.IO.Compression.ZipArchiveMode.Create))
        {
            foreach (string file in Directory.GetFiles(Example.Folder))
                System.IO.Compression.ZipFileExtensions.CreateEntryFromFile(made, file, Path.GetFileName(file));
        }
        File.WriteAllText(Path.Combine(folder, ".DS_Store"), "left behind");

        IntakeResult taken = Assert.Single(Take());

        Assert.Equal((IntakeOutcome.Accepted, "from moss watchers"), (taken.Outcome, taken.Source));
        Assert.Equal(taken.ContentHash, ContributionReader.Read(folder, IntakeLimits.Default).ContentHash);
        Intake intake = new(Atlas, IntakeLimits.Default);
        Assert.Equal(8, intake.Read(intake.ActiveHeaders().Single()).Bags.Count);
        Assert.Equal(IntakeOutcome.AlreadyKnown, Assert.Single(Take()).Outcome);
        // with another file beside it nobody knows which of them is meant
        File.WriteAllText(Path.Combine(folder, "more.csv"), "a,b\n1,2\n");
        Assert.Equal(IntakeOutcome.Quarantined, Assert.Single(Take()).Outcome);
    }

    private IReadOnlyList<IntakeResult> Take() => new Intake(Atlas, IntakeLimits.Default).TakeInbox(Inbox, null);

    private static string Replaced(string text, string old, string @new)
    {
        int at = text.IndexOf(old, text.IndexOf('\n', StringComparison.Ordinal), StringComparison.Ordinal);
        return text[..at] + @new + text[(at + old.Length)..];
    }

    private static string Tables => Path.Combine(AppContext.BaseDirectory, "example-table");
}
