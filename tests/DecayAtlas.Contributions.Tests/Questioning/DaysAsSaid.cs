namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Days and durations as cells and names of columns say them. What day each bag was dug up is worked out by the
/// calendar.</summary>
public class DaysAsSaid
{
    private static string Days(IEnumerable<BagRow> bags) => string.Join(" ", bags.Select(bag =>
        $"{bag.BuriedOn:MM-dd}>{bag.RetrievedOn:MM-dd}").Distinct());

    private static string Table(string head, string days) => $"Hole,Litter,Lat,Long,Before (g),After (g),{head}\n"
        + string.Concat(Enumerable.Range(1, 3).Select(n =>
            $"{n},fast,48.1,9.2,2.4{n},1.3{n},{days}\n{n},slow,48.1,9.2,2.6{n},2.0{n},{days}\n"));

    /// <summary>12 weeks and 3 days are 12 x 7 + 3 = 87 days: from 14 May 17 to the end of May, 30 of June, 31 of July, 9 of August.
    /// </summary>
    [Theory]
    [InlineData("Duration", "12 weeks and 3 days")]
    [InlineData("Dauer", "12 Wochen und 3 Tage")]
    [InlineData("Duración", "12 semanas y 3 días")]
    [InlineData("Durée", "12 semaines et 3 jours")]
    [InlineData("Duration", "12 weeks 3 days")]
    public void Durations_in_weeks_and_days_are_both(string name, string duration) =>
        Assert.Equal("05-14>08-09", Days(AskedSheet.Read(Table($"Buried,{name}", $"2025-05-14,{duration}"))));

    [Fact]
    public void A_duration_in_other_words_asks_for_the_day() => Assert.Contains("retrieved-on",
        AskedSheet.Ask(Table("Buried,Duration", "2025-05-14,until the holidays")).Ids());

    /// <summary>13 weeks are 91 days: 17 in May, 30, 31, and 13 of August.</summary>
    [Theory]
    [InlineData("Weeks in the soil")]
    [InlineData("Wochen im Boden")]
    [InlineData("Semanas en el suelo")]
    [InlineData("Semaines dans le sol")]
    public void Weeks_in_the_soil_are_no_mass(string name) =>
        Assert.Equal("05-14>08-13", Days(AskedSheet.Read(Table($"Buried,{name}", "2025-05-14,13"))));

    /// <summary>The campaign buries from 20 April to 10 June and digs up from 20 July to 20 September: 01/05 is within these days in May
    /// alone, 08/12 in August alone.</summary>
    [Fact]
    public void Two_columns_of_days_may_have_an_order_each()
    {
        string table = Table("Buried,Dug up", "01/05/2025,08/12/2025");
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(("date-order", "each"), (question.Id, question.Suggested));
        Assert.Equal("05-01>08-12", Days(AskedSheet.Read(table, ("date-order", "each"))));
    }

    /// <summary>Day 134 of a common year is 14 May, day 224 is 12 August.</summary>
    [Fact]
    public void The_year_of_days_of_the_year_may_stand_in_the_names_of_columns()
    {
        string table = Table("Buried (day of year 2025),Dug up (day of year 2025)", "134,224");
        Inquiry inquiry = AskedSheet.Ask(table);
        Assert.Empty(inquiry.Ids());
        Assert.Contains("date-year-of-name", AskedSheet.Told(inquiry));
        Assert.Equal("05-14>08-12", Days(AskedSheet.Read(table)));
    }
}
