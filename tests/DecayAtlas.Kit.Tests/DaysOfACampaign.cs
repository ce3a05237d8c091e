namespace DecayAtlas.Kit.Tests;

/// <summary>The example's campaign buries from 12 to 23 April 2027 and digs up from 5 to 16 July.</summary>
public class DaysOfACampaign
{
    [Theory]
    [InlineData("2027-04-12", "2027-07-16", true)]
    [InlineData("2027-04-24", "2027-07-10", false)]
    [InlineData("2027-04-14", "2027-07-04", false)]
    public void A_day_beside_them_is_to_be_confirmed(string buried, string dug, bool isUsual)
    {
        using FilledKit kit = new FilledKit("en").Hole("C5", buried).Hole("D5", dug);

        CheckReport report = Check(kit.Read());

        Assert.Equal(isUsual, report.Plausibility.Single(line => line.Code == "campaign-days").IsUsual);
        Assert.Equal(isUsual ? [] : [buried == "2027-04-14" ? "D5" : "C5"],
            report.Result.Warnings.Where(warning => warning.Code == "campaign-days").Select(warning => warning.Cell));
    }

    [Theory]
    [InlineData("en", "a day from 2027-04-12 to 2027-04-23")]
    [InlineData("de", "ein Tag vom 12. April 2027 bis zum 23. April 2027")]
    [InlineData("es", "un día del 12 de abril de 2027 al 23 de abril de 2027")]
    [InlineData("fr", "un jour du 12 avril 2027 au 23 avril 2027")]
    public void It_is_told_once_with_its_cell_in_the_words_of_the_sender(string language, string expected)
    {
        using FilledKit kit = new FilledKit(language).Hole("C5", "2027-05-04");
        Phrases words = SenderWords.Find(language)!;

        string line = Assert.Single(CheckTelling.Of(Check(kit.Read()), words).Look!.Lines);

        Assert.Contains(expected, line, StringComparison.Ordinal);
        Assert.Contains("C5", line, StringComparison.Ordinal);
        if (language != "en")
            Assert.DoesNotContain("2027-05", line, StringComparison.Ordinal);
    }

    [Fact]
    public void A_kit_that_does_not_say_them_is_read_and_the_night_knows_them_by_the_campaign()
    {
        using FilledKit kit = new FilledKit("en", ExampleKits.Campaign with { Bury = null, DigUp = null }).Hole("C5", "2027-05-04");
        ReadResult read = kit.Read();
        string folder = Directory.CreateDirectory(Path.Combine(Path.GetDirectoryName(kit.File)!, "inbox")).FullName;
        File.Copy(kit.File, Path.Combine(folder, "sheet.xlsx"));
        Intake intake = new(Path.Combine(Path.GetDirectoryName(kit.File)!, "atlas"), IntakeLimits.Default, daysOf: campaign =>
            campaign == ExampleKits.Campaign.Id ? new ExpectedDays(ExampleKits.Campaign.Bury, ExampleKits.Campaign.DigUp) : null);

        Assert.Equal(IntakeOutcome.Accepted, Assert.Single(intake.TakeInbox(folder, null)).Outcome);

        Assert.NotNull(read.Contribution);
        Assert.Null(read.Expected);
        // eleven days late, which is within the fourteen that are allowed where nobody was told the days
        Assert.Null(intake.GuessesOf(Assert.Single(intake.AllHeaders())));
    }

    [Fact]
    public void A_month_that_is_another_is_kept_for_the_mail_with_its_cell()
    {
        using FilledKit kit = new FilledKit("en", ExampleKits.Campaign with { Bury = null, DigUp = null }).Hole("C5", "2027-05-14");
        kit.Read();
        string folder = Directory.CreateDirectory(Path.Combine(Path.GetDirectoryName(kit.File)!, "inbox")).FullName;
        File.Copy(kit.File, Path.Combine(folder, "sheet.xlsx"));
        Intake intake = new(Path.Combine(Path.GetDirectoryName(kit.File)!, "atlas"), IntakeLimits.Default,
            daysOf: _ => new ExpectedDays(ExampleKits.Campaign.Bury, ExampleKits.Campaign.DigUp));
        intake.TakeInbox(folder, null);

        Finding kept = Assert.Single(intake.GuessesOf(Assert.Single(intake.AllHeaders()))!.Findings);

        Assert.Equal(("campaign-days", "C5", "2027-05-14"), (kept.Code, kept.Cell, kept.Found));
    }

    private static CheckReport Check(ReadResult read) => new("sheet.xlsx", read, new DateOnly(2028, 1, 1));
}
