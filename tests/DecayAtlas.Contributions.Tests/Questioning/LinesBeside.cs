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
}
