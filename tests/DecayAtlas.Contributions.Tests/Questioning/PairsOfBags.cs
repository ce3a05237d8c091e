namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Which bags shared a hole, where no column says it.</summary>
public class PairsOfBags
{
    private static string Table(params string[] bags) => "Bag,Place,Lat,Long,Litter,Before (g),After (g),Buried,Dug up\n"
        + string.Concat(bags.Select((bag, i) => bag.Split('|') is var parts && parts[1] == "fast"
            ? $"{parts[0]},meadow,48.1,9.2,fast,2.4{i},1.3{i},2025-05-14,2025-08-12\n"
            : $"{parts[0]},meadow,48.1,9.2,slow,2.6{i},2.0{i},2025-05-14,2025-08-12\n"));

    private static string[][] Pairs(IReadOnlyList<BagRow> bags) => [.. bags.GroupBy(bag => bag.BurialId)
        .Select(own => own.Select(bag => $"{bag.MassInitialGrams:0.00}").Order(StringComparer.Ordinal).ToArray())];

    // the second fast bag is missing: by order 3A would lie with 2B
    [Theory]
    [InlineData("1A|fast", "1B|slow", "2B|slow", "3A|fast", "3B|slow")]
    [InlineData("A1|fast", "A2|slow", "B2|slow", "C1|fast", "C2|slow")]
    [InlineData("12 fast|fast", "12 slow|slow", "13 slow|slow", "14 fast|fast", "14 slow|slow")]
    [InlineData("S-1|fast", "L-1|slow", "L-2|slow", "S-3|fast", "L-3|slow")]
    [InlineData("11|fast", "12|slow", "22|slow", "31|fast", "32|slow")]
    public void Numbers_of_bags_say_it_though_one_is_missing(params string[] bags)
    {
        Question question = Assert.Single(AskedSheet.Ask(Table(bags)).Questions);
        Assert.Equal(("pairs", "by-number", "unknown"), (question.Id, question.Choices[0].Value, question.Choices[1].Value));
        Assert.Equal([["2.40", "2.61"], ["2.62"], ["2.43", "2.64"]], Pairs(AskedSheet.Read(Table(bags), ("pairs", "by-number"))));
    }

    [Fact]
    public void Rows_that_stand_side_by_side_are_offered_where_one_is_missing()
    {
        string table = Table("7|fast", "19|slow", "3|slow", "12|fast", "5|slow");
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(("pairs", "next"), (question.Id, question.Choices[0].Value));
        Assert.Equal([["2.40", "2.61"], ["2.62"], ["2.43", "2.64"]], Pairs(AskedSheet.Read(table, ("pairs", "next"))));
    }

    [Fact]
    public void Order_is_not_offered_where_a_bag_is_missing()
    {
        Inquiry inquiry = AskedSheet.Ask(Table("7|fast", "12|fast", "19|slow", "3|slow", "5|slow"));
        Assert.Empty(inquiry.Questions);
        Assert.Contains("lay together", Assert.Single(inquiry.Findings).Found, StringComparison.Ordinal);
    }

    [Fact]
    public void Order_is_offered_where_none_is_missing()
    {
        string table = Table("7|fast", "12|fast", "4|fast", "19|slow", "3|slow", "5|slow");
        Assert.Equal("by-order", Assert.Single(AskedSheet.Ask(table).Questions).Choices[0].Value);
        Assert.Equal([["2.40", "2.63"], ["2.41", "2.64"], ["2.42", "2.65"]], Pairs(AskedSheet.Read(table, ("pairs", "by-order"))));
    }

    /// <summary>Holes 1 and 2 of a first digging, and 1 and 2 of a second: the first of them without its slow bag.</summary>
    [Fact]
    public void Numbers_that_begin_anew_with_each_digging_pair_bags_of_one_day()
    {
        string first = AskedSheet.Bags("1", "2.41,1.61", "2.61,2.21") + AskedSheet.Bags("2", "2.42,1.62", "2.62,2.22"),
            second = (AskedSheet.Bags("1", "2.43,1.33", "2.63,2.03") + AskedSheet.Bags("2", "2.44,1.34", "2.64,2.04"))
                .Replace("2025-08-12", "2025-09-02", StringComparison.Ordinal);
        string table = AskedSheet.Head("Before (g),After (g)") + string.Join('\n', (first + second).Split('\n')
            .Where(line => !line.Contains("2.61,2.21", StringComparison.Ordinal)));
        IReadOnlyList<BagRow> bags = AskedSheet.Read(table);
        Assert.Equal([(2.41, null), (2.42, 2.62), (2.43, 2.63), (2.44, 2.64)], bags.GroupBy(bag => bag.BurialId).Select(burial =>
            (burial.Single(bag => bag.Role == LitterRole.Fast).MassInitialGrams!.Value,
                burial.SingleOrDefault(bag => bag.Role == LitterRole.Slow)?.MassInitialGrams)));
    }
}
