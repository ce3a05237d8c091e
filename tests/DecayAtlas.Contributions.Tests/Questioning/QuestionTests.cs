namespace DecayAtlas.Contributions.Tests.Questioning;

public class QuestionTests
{
    private static Campaign Campaign => AskedSheet.Campaign;

    private const string Head = "Hole,Place,Lat,Long,Litter,Before (g),After (g),Buried,Dug up\n";

    private static Inquiry Ask(string table, Campaign? campaign, params (string Id, string Value)[] answers)
    {
        string file = Path.Combine(Directory.CreateTempSubdirectory("asked-").FullName, "table.csv");
        File.WriteAllText(file, table);
        return AskedSheet.Of(file, "en", answers, campaign);
    }

    private static string Rows(string latitude, string longitude, string buried, string retrieved, string fastAfter = "1.30") => Head
        + string.Concat(Enumerable.Range(1, 3).Select(hole => FormattableString.Invariant(
            $"{hole},meadow,{latitude},{longitude},fast,2.4{hole},{fastAfter},{buried},{retrieved}\n{hole},meadow,{latitude},{longitude},slow,2.6{hole},2.0{hole},{buried},{retrieved}\n")));

    private static string[] Ids(Inquiry inquiry) => [.. inquiry.Questions.Select(question => question.Id)];

    [Fact]
    public void A_plain_table_of_a_campaign_asks_nothing()
    {
        Inquiry inquiry = Ask(Rows("48.1", "9.2", "2025-05-14", "2025-08-12"), Campaign);
        Assert.Empty(Ids(inquiry));
        Assert.Contains("mass_final_g", inquiry.Mapping, StringComparison.Ordinal);
    }

    [Fact]
    public void A_side_of_the_earth_that_is_not_written_is_asked_unless_the_country_has_one_only()
    {
        Assert.Contains("half-by-country", Ask(Rows("48.1", "9.2", "2025-05-14", "2025-08-12"), Campaign).Told.Select(told => told.Code));
        Campaign nowhere = Campaign with { Groups = [new CampaignGroup("hill-school")] };
        Assert.Equal(["half"], Ids(Ask(Rows("48.1", "9.2", "2025-05-14", "2025-08-12"), nowhere)));
        Assert.Contains("\"-9.2\"", Ask(Rows("48.1", "9.2", "2025-05-14", "2025-08-12"), nowhere, ("half", "NW")).Mapping,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Days_that_can_be_read_in_two_ways_are_asked_with_what_the_campaign_makes_likely()
    {
        Inquiry inquiry = Ask(Rows("48.1", "9.2", "06/05/2025", "05/08/2025"), Campaign);
        Question question = Assert.Single(inquiry.Questions);
        Assert.Equal(("date-order", "dmy"), (question.Id, question.Suggested));
        Assert.Contains("date_order: \"mdy\"", Ask(Rows("48.1", "9.2", "06/05/2025", "05/08/2025"), Campaign,
            ("date-order", "mdy")).Mapping,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Days_that_can_be_read_in_one_way_are_told() =>
        Assert.Contains("day-first", Ask(Rows("48.1", "9.2", "14/05/2025", "12/08/2025"), Campaign).Told.Select(told => told.Code));

    [Fact]
    public void Two_words_that_nobody_knows_are_asked_once_with_the_one_that_lost_more_suggested()
    {
        string table = Rows("48.1", "9.2", "2025-05-14", "2025-08-12").Replace("fast", "zig", StringComparison.Ordinal)
            .Replace("slow", "zag", StringComparison.Ordinal);
        Question question = Assert.Single(Ask(table, Campaign).Questions);
        Assert.Equal(("fast-of", "zig"), (question.Id, question.Suggested));
        Assert.Contains("zig: \"slow\"", Ask(table, Campaign, ("fast-of", "zag")).Mapping, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_columns_of_masses_without_telling_names_are_one_question()
    {
        string table = Rows("48.1", "9.2", "2025-05-14", "2025-08-12").Replace("Before (g),After (g)", "A,B", StringComparison.Ordinal);
        Question question = Assert.Single(Ask(table, Campaign).Questions);
        Assert.Equal(("masses", "yes"), (question.Id, question.Suggested));
        Assert.Contains("mass_initial_g: { column: \"A\"", Ask(table, Campaign, ("masses", "yes")).Mapping, StringComparison.Ordinal);
    }

    [Fact]
    public void A_mark_of_which_nobody_knows_what_it_means_is_asked_once() =>
        Assert.Equal(["word:?"], Ids(Ask(Rows("48.1", "9.2", "2025-05-14", "2025-08-12", "?"), Campaign)));

    [Fact]
    public void Masses_that_fit_the_litter_without_its_bag_are_asked()
    {
        string table = Rows("48.1", "9.2", "2025-05-14", "2025-08-12").Replace("2.4", "2.0", StringComparison.Ordinal)
            .Replace("2.6", "2.2", StringComparison.Ordinal);
        Assert.Equal(["basis-odd"], Ids(Ask(table, Campaign)));
        Assert.Contains("mass_basis: { value: \"litter\" }", Ask(table, Campaign, ("basis-odd", "odd")).Mapping, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_campaign_the_lots_are_asked_in_plain_words()
    {
        string[] ids = Ids(Ask(Rows("48.1", "-9.2", "2025-05-14", "2025-08-12"), null));
        Assert.All(["lot:fast", "lot-tare-g:slow", "basis", "drying-initial", "contributor", "licence"], id => Assert.Contains(id, ids));
    }

    [Fact]
    public void The_same_table_and_answers_give_the_same_text()
    {
        string table = Rows("48.1", "9.2", "06/05/2025", "05/08/2025");
        Assert.Equal(Ask(table, Campaign, ("date-order", "dmy")).Mapping, Ask(table, Campaign, ("date-order", "dmy")).Mapping);
    }

    [Fact]
    public void Every_question_has_its_words_in_every_language()
    {
        string[] keys = [.. SenderWords.Find("en")!.All.Keys.Where(key => key.StartsWith("ask.", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)];
        Assert.All(SenderWords.Known, code => Assert.Equal(keys,
            SenderWords.Find(code)!.All.Keys.Where(key => key.StartsWith("ask.", StringComparison.Ordinal)).Order(StringComparer.Ordinal)));
    }
}
