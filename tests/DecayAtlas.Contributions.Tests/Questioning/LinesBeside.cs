namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Places that a line gives by ranges of holes or bags.</summary>
public class LinesBeside
{
    [Fact]
    public void Of_several_positions_in_a_line_none_is_taken_for_all() =>
        Assert.Null(LineFacts.Of("Hang/Ost: 47,6212 N 15,3310 O (Loch 1-3), 47,6218 N 15,3322 O (Loch 4-6)").Place);

    [Theory]
    [InlineData("Hang/Ost: 47,6212 N 15,3310 O (Loch 1-3), 47,6218 N 15,3322 O (Loch 4-6)", "47,6212 N 15,3310 O")]
    [InlineData("holes 1 to 3: 47.6212, 15.3310; holes 4, 5 and 6: 47.6218, 15.3322", "47.6212, 15.3310")]
    [InlineData("Trous 1 à 3 : 47°37'16\"N 15°19'52\"E, trous 4 à 6 : 47°37'18\"N 15°19'56\"E", "47°37'16\"N 15°19'52\"E")]
    public void Ranges_say_which_position_is_whose(string line, string first)
    {
        RangedPlaces ranged = RangedPlaces.In(line)!;
        Assert.Equal(Concept.Burial, ranged.Of);
        Assert.Equal(first, ranged.Places[0].Place);
        Assert.Equal([1, 2, 3], ranged.Places[0].Numbers.Order());
        Assert.Equal([4, 5, 6], ranged.Places[1].Numbers.Order());
    }

    [Theory]
    [InlineData("47.6212, 15.3310 and 47.6218, 15.3322")]
    [InlineData("47.6212, 15.3310 (holes 1-4), 47.6218, 15.3322 (holes 4-6)")]
    [InlineData("47.6212, 15.3310 (holes 1-3)")]
    public void What_is_not_clear_is_no_range(string line) => Assert.Null(RangedPlaces.In(line));

    private static string Table(string line, bool hasSite) => line + "\n\n" + (hasSite ? "Hole,Place,Litter" : "Hole,Litter")
        + ",Before (g),After (g),Buried,Dug up\n" + string.Concat(Enumerable.Range(1, 6).SelectMany(hole => new[] { "fast", "slow" }
            .Select(litter => (hasSite ? $"{hole},{(hole <= 3 ? "East 1" : "East 2")},{litter}" : $"{hole},{litter}")
                + (litter == "fast" ? $",2.4{hole},1.3{hole}" : $",2.6{hole},2.0{hole}") + ",2025-05-14,2025-08-12\n")));

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Each_hole_lies_at_the_position_of_its_range(bool hasSite)
    {
        string table = Table("\"East: 47.6212 N 15.3310 E (holes 1-3), 47.6218 N 15.3322 E (holes 4-6)\"", hasSite);
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal("lines", question.Id);
        ContributionTables read = AskedSheet.Tables(table, ("lines", "yes"));
        Dictionary<string, SiteRow> sites = read.Sites.ToDictionary(site => site.SiteId);
        Assert.Equal(2, sites.Count);
        Assert.All(read.Bags, bag => Assert.Equal(int.Parse(bag.BurialId, System.Globalization.CultureInfo.InvariantCulture) <= 3
            ? (47.6212, 15.3310) : (47.6218, 15.3322), (sites[bag.SiteId].DecimalLatitude, sites[bag.SiteId].DecimalLongitude)));
    }

    private static string Titled(string first, string second, string? third = null) => string.Concat(new[] { first, second, third }
        .OfType<string>().Select((title, at) => $"\"{title}\"\nHole,Lat,Long,Litter,Before (g),After (g)\n" + string.Concat(
            new[] { at * 2 + 1, at * 2 + 2 }.Select(hole => $"{hole},48.1{at},9.2,fast,2.4{hole},1.3{hole}\n"
                + $"{hole},48.1{at},9.2,slow,2.6{hole},2.0{hole}\n")) + "\n"));

    /// <summary>Each table has the days of its own title: 12 May to 9 August are 89 days, to 11 August 91, counted on a calendar.</summary>
    [Theory]
    [InlineData("Plot one: orchard. Buried 2025-05-12, dug up 2025-08-09", "Plot two: wood. Buried 2025-05-12, dug up 2025-08-11", null)]
    [InlineData("Orchard, buried 12/05/2025, dug up 09/08/2025", "Wood, buried 12/05/2025, dug up 11/08/2025", "dmy")]
    [InlineData("Tabla 1: olivar. Enterrado 12/05/2025, recogido 09/08/2025", "Tabla 2: encinar. Enterrado 12/05/2025, recogido 11/08/2025",
        "dmy")]
    [InlineData("Tafel 1: Wiese. Vergraben 05/12/2025, ausgegraben 08/09/2025", "Tafel 2: Wald. Vergraben 05/12/2025, ausgegraben 08/11/2025",
        "mdy")]
    public void Each_of_two_tables_has_the_days_of_its_own_title(string first, string second, string? order)
    {
        string table = Titled(first, second);
        Inquiry inquiry = AskedSheet.Ask(table);
        Assert.Equal(order is null ? ["lines"] : ["date-order", "lines"], inquiry.Ids().Order(StringComparer.Ordinal));
        string asked = inquiry.Questions.Single(question => question.Id == "lines").Text;
        Assert.All(new[] { first, second }, title => Assert.Contains(title.Split(' ')[^1], asked, StringComparison.Ordinal));
        ContributionTables read = AskedSheet.Tables(table, [("lines", "yes"), .. order is null ? [] : new[] { ("date-order", order) }]);
        Assert.Equal([89, 89, 89, 89, 91, 91, 91, 91], read.Bags.OrderBy(bag => bag.BurialId, StringComparer.Ordinal)
            .Select(bag => bag.RetrievedOn!.Value.DayNumber - bag.BuriedOn.DayNumber));
    }

    [Fact]
    public void Two_lines_over_one_table_that_say_two_days_say_none() => Assert.Contains("retrieved-on", AskedSheet.Ask(
        "\"First half: buried 2025-05-12, dug up 2025-08-09\"\n\"Second half: dug up 2025-08-11\"\n"
        + "Hole,Lat,Long,Litter,Before (g),After (g)\n1,48.1,9.2,fast,2.41,1.31\n1,48.1,9.2,slow,2.61,2.01\n").Ids());
}
