namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Tables with a row for each weighing: each bag stands in two rows.</summary>
public class RowsOfWeighings
{
    // bag 1 is fast, 2.40 to 1.30 g; bag 2 slow, 2.60 to 2.00 g; bags 3 and 4 the same with 0.02 g more
    private static readonly (int Bag, string Litter, string Before, string After)[] Bags =
    [
        (1, "fast", "2.40", "1.30"), (2, "slow", "2.60", "2.00"), (3, "fast", "2.42", "1.32"), (4, "slow", "2.62", "2.02"),
    ];

    private static string Table(string head, Func<(int Bag, string Litter, string Before, string After), string[]> rowsOf) =>
        head + "\n" + string.Concat(Bags.SelectMany(rowsOf).Select(row => row + "\n"));

    private static string Worded(string first, string last) => Table("Row,Bag,Hole,Place,Lat,Long,Litter,Weighing,Mass (g),Buried,Dug up",
        bag => [$"{2 * bag.Bag},{bag.Bag},{(bag.Bag + 1) / 2},meadow,48.1,9.2,{bag.Litter},{first},{bag.Before},2025-05-14,2025-08-12",
            $"{2 * bag.Bag + 1},{bag.Bag},{(bag.Bag + 1) / 2},meadow,48.1,9.2,{bag.Litter},{last},{bag.After},2025-05-14,2025-08-12"]);

    private static readonly string ByDay = Table("Bag,Hole,Place,Lat,Long,Litter,Date,Mass (g)", bag =>
        [$"{bag.Bag},{(bag.Bag + 1) / 2},meadow,48.1,9.2,{bag.Litter},14.05.2025,{bag.Before}",
            $"{bag.Bag},{(bag.Bag + 1) / 2},meadow,48.1,9.2,{bag.Litter},12.08.2025,{bag.After}"]);

    private static void AreTheBags(IReadOnlyList<BagRow> read)
    {
        Assert.Equal([2.40, 2.60, 2.42, 2.62], read.Select(bag => bag.MassInitialGrams!.Value));
        Assert.Equal([1.30, 2.00, 1.32, 2.02], read.Select(bag => bag.MassFinalGrams!.Value));
        Assert.Equal(["1", "1", "2", "2"], read.Select(bag => bag.BurialId));
        Assert.All(read, bag => Assert.Equal((new DateOnly(2025, 5, 14), new DateOnly(2025, 8, 12)), (bag.BuriedOn, bag.RetrievedOn)));
    }

    [Theory]
    [InlineData("before", "after")]
    [InlineData("vorher", "nachher")]
    [InlineData("antes de enterrar", "al desenterrar")]
    [InlineData("avant", "après")]
    [InlineData("Einwaage", "Auswaage")]
    public void Rows_that_say_their_weighing_become_a_bag(string first, string last)
    {
        Inquiry asked = AskedSheet.Ask(Worded(first, last));
        Assert.Equal(4, Assert.Single(asked.Told, told => told.Code == "layout-weighings").Count);
        AreTheBags(AskedSheet.Read(Worded(first, last)));
    }

    [Fact]
    public void Rows_that_differ_by_their_day_alone_are_asked_and_so_is_whether_it_is_that_of_burial()
    {
        Assert.Equal(["layout.weighings", "weighing-days"], AskedSheet.Ask(ByDay).Ids());
        AreTheBags(AskedSheet.Read(ByDay, ("layout.weighings", "join"), ("weighing-days", "yes")));
        // weighed before and after, buried and dug up on other days
        Assert.Equal(["buried-on", "retrieved-on"], AskedSheet.Ask(ByDay, ("layout.weighings", "join"), ("weighing-days", "no")).Ids());
    }

    [Fact]
    public void The_order_of_rows_does_not_matter_and_a_bag_without_its_last_weighing_stays_one()
    {
        string[] lines = Worded("before", "after").TrimEnd().Split('\n');
        string turned = string.Join('\n', [lines[0], .. lines[1..].Where(line => !line.Contains("2.02", StringComparison.Ordinal)).Reverse()]);
        BagRow[] read = [.. AskedSheet.Read(turned).OrderBy(bag => bag.BurialId).ThenBy(bag => bag.Role)];
        Assert.Equal([2.40, 2.60, 2.42, 2.62], read.Select(bag => bag.MassInitialGrams!.Value));
        Assert.Equal([1.30, 2.00, 1.32, null], read.Select(bag => bag.MassFinalGrams));
    }

    [Fact]
    public void Rows_of_weighings_without_a_number_of_their_bag_are_told_in_the_first_sentence()
    {
        string[] lines = Worded("before", "after").TrimEnd().Split('\n');
        string without = string.Join('\n', lines.Select(line => line.Split(',')).Select(cells =>
            string.Join(',', [cells[0], "x", "x", .. cells[3..]])));
        Inquiry told = AskedSheet.Ask(without);
        Assert.Empty(told.Questions);
        Assert.StartsWith("a row for each weighing, and nothing that says which two rows are of one bag",
            Assert.Single(told.Findings).Found, StringComparison.Ordinal);
    }

    [Fact]
    public void A_remark_of_one_weighing_stays_with_it()
    {
        string wet = Worded("before", "after").Replace("Dug up\n", "Dug up,Notes\n", StringComparison.Ordinal)
            .Replace("1.30,2025-05-14,2025-08-12", "1.30,2025-05-14,2025-08-12,feucht", StringComparison.Ordinal)
            .Replace("2.40,2025-05-14,2025-08-12", "2.40,2025-05-14,2025-08-12,label torn off", StringComparison.Ordinal);
        Assert.Contains("weighed-wet", AskedSheet.Ask(wet).Ids());
    }

    // a bag a row, buried alone so far: no rows of one bag
    [Fact]
    public void Bags_of_two_days_at_one_place_are_no_weighings_of_one()
    {
        string table = AskedSheet.Head("Before (g),After (g)") + AskedSheet.Bags("1", "2.40,1.30", "2.60,2.00")
            + AskedSheet.Bags("2", "2.41,1.31", "2.61,2.01");
        Assert.DoesNotContain("layout-weighings", AskedSheet.Told(AskedSheet.Ask(table)));
        Assert.Empty(AskedSheet.Ask(table).Ids());
    }
}
