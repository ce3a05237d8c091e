namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Masses with the bag in some rows and without it in others, beside a column of the empty bag. Truth by hand: of 2.00 g of the
/// fast litter 1.00 g are left, of 2.20 g of the slow 1.65 g; the bags are added where a row has one.</summary>
public class BagsInSomeRows
{
    private const string Head = "Hole,Place,Lat,Long,Buried,Dug up,Fast before (g),Fast after (g),Slow before (g),Slow after (g),"
        + "Empty bag (g)";

    private static string Row(int hole, string fast, string slow, string bag) =>
        $"\n{hole},meadow,48.1,9.2,2025-05-14,2025-08-12,{fast},{slow},{bag}";

    private static (double, double)[] Left(IEnumerable<BagRow> bags, double ofLot) => [.. bags.OrderBy(bag => bag.BurialId)
        .ThenBy(bag => bag.Role).Select(bag => (bag, Tare: bag.MassBasis == MassBasis.Gross ? ofLot : 0)).Select(own =>
            (Math.Round(own.bag.MassInitialGrams!.Value - own.Tare, 9), Math.Round(own.bag.MassFinalGrams!.Value - own.Tare, 9)))];

    private static readonly (double, double)[] Truth = [(2, 1), (2.2, 1.65), (2, 1), (2.2, 1.65), (2, 1), (2.2, 1.65)];

    /// <summary>The bag of each row is its own where the sheet says so: 0.38 g and 0.43 g; else that of the lot, 0.4 g.</summary>
    [Theory]
    [InlineData("0.40", "2.40,1.40", "2.60,2.05", "0.40", "2.40,1.40", "2.60,2.05", "")]
    [InlineData("0.38", "2.38,1.38", "2.58,2.03", "0.43", "2.43,1.43", "2.63,2.08", "already off")]
    public void The_rows_with_an_empty_bag_are_asked_about_in_one_question(string bag, string fast, string slow, string otherBag,
        string otherFast, string otherSlow, string none)
    {
        string table = Head + Row(1, fast, slow, bag) + Row(2, otherFast, otherSlow, otherBag) + Row(3, "2.00,1.00", "2.20,1.65", none);
        // two of them are the same to the last digit
        (string, string) both = ("copied", "both");
        Assert.Equal(["basis-tare"], AskedSheet.Ask(table, both).Ids());
        Assert.Equal("rows", AskedSheet.Ask(table, both).Questions[0].Suggested);
        Assert.Equal(Truth, Left(AskedSheet.Read(table, both, ("basis-tare", "rows")), 0.4));
    }

    // by what its litter should weigh, the bag of the third row was on the balance too
    [Fact]
    public void An_empty_bag_that_was_not_weighed_is_that_of_the_lot()
    {
        string table = Head + Row(1, "2.38,1.38", "2.58,2.03", "0.38") + Row(2, "2.46,1.46", "2.66,2.11", "0.46")
            + Row(3, "2.40,1.40", "2.60,2.05", "");
        Assert.Empty(AskedSheet.Ask(table).Ids());
        Assert.Equal(Truth, Left(AskedSheet.Read(table), 0.4));
    }

    // of lots that do not say what their bags should hold, only the sender knows
    [Fact]
    public void Without_what_bags_should_weigh_nothing_is_suggested()
    {
        Campaign campaign = AskedSheet.Campaign with
        {
            Lots = [.. AskedSheet.Campaign.Lots.Select(lot => lot.Where(field => field.Key != "litter_mass_nominal_g").ToDictionary())],
        };
        string table = Head + Row(1, "2.38,1.38", "2.58,2.03", "0.38") + Row(2, "2.46,1.46", "2.66,2.11", "0.46")
            + Row(3, "2.40,1.40", "2.60,2.05", "");
        Question question = Assert.Single(AskedSheet.Ask(table, campaign, []).Questions);
        Assert.Equal(("basis-tare", null), (question.Id, question.Suggested));
        string mapping = AskedSheet.Ask(table, campaign, [("basis-tare", "gross")]).Mapping!;
        Assert.Equal(Truth, Left(AskedSheet.Read(AskedSheet.FileOf(table), mapping).SoundRows!.Bags, 0.4));
    }

    // gross in two rows, net in the third, whose empty bag was weighed all the same
    [Theory]
    [InlineData("gross", "net")]
    [InlineData("brutto", "netto")]
    [InlineData("avec sachet", "sans sachet")]
    public void A_column_that_says_it_is_read_with_the_bag_of_each_row(string with, string without)
    {
        string table = Head + ",Weighed" + Row(1, "2.38,1.38", "2.58,2.03", $"0.38,{with}") + Row(2, "2.46,1.46", "2.66,2.11",
            $"0.46,{with}") + Row(3, "2.00,1.00", "2.20,1.65", $"0.41,{without}");
        Assert.Empty(AskedSheet.Ask(table).Ids());
        Assert.Equal(Truth, Left(AskedSheet.Read(table), 0.4));
    }

    // a row for each weighing, and in each of them the bag
    [Fact]
    public void The_empty_bag_beside_each_weighing_is_one_of_the_bag()
    {
        const string Days = "2025-05-14", Last = "2025-08-12";
        string table = "Hole,Place,Lat,Long,Litter,When,Day,With bag (g),Empty bag (g)" + string.Concat(new[] { (1, 0.38), (2, 0.43) }
            .SelectMany(bag => new[] { ("fast", 2.0, 1.0), ("slow", 2.2, 1.65) }.SelectMany(own => new[]
            {
                FormattableString.Invariant($"\n{bag.Item1},meadow,48.1,9.2,{own.Item1},before,{Days},{own.Item2 + bag.Item2},{bag.Item2}"),
                FormattableString.Invariant($"\n{bag.Item1},meadow,48.1,9.2,{own.Item1},after,{Last},{own.Item3 + bag.Item2},{bag.Item2}"),
            })));
        Assert.Equal(["weighing-days"], AskedSheet.Ask(table).Ids());
        Assert.Equal(Truth[..4], Left(AskedSheet.Read(table, ("weighing-days", "yes")), 0.4));
    }
}
