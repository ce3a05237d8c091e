namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Sheets that no answer led through, or that were read as they do not say. What each bag weighed is known from how they are
/// made.</summary>
public class WaysThrough
{
    private static string Table(string head, string days) => $"Hole,Litter,Lat,Long,Before (g),After (g),{head}\n"
        + string.Concat(Enumerable.Range(1, 3).Select(n =>
            $"{n},fast,48.1,9.2,2.4{n},1.3{n},{days}\n{n},slow,48.1,9.2,2.6{n},2.0{n},{days}\n"));

    [Theory]
    [InlineData("eingefüllt (g)", "Beutel ausgegraben und getrocknet (g)", new string[0])]
    [InlineData("Filled bag (g)", "Bag weight after drying (g)", new[] { "basis-silent" })]
    public void A_bag_dug_up_and_dried_is_the_mass_after(string before, string after, string[] asked)
    {
        string table = Table("Buried,Dug up", "2025-05-14,2025-08-12").Replace("Before (g),After (g)", $"{before},{after}",
            StringComparison.Ordinal);
        Assert.DoesNotContain("no-final", AskedSheet.Ask(table).Ids());
        Assert.Equal([1.31, 1.32, 1.33, 2.01, 2.02, 2.03], AskedSheet.Read(table, [.. asked.Select(id => (id, "gross"))])
            .Select(bag => bag.MassFinalGrams!.Value).Order());
    }

    [Fact]
    public void Why_no_bag_has_a_last_mass_is_asked_once_no_column_is_one()
    {
        string table = Table("Buried,Dug up", "2025-05-14,2025-08-12").Replace("After (g)", "Remaining mass (g)", StringComparison.Ordinal);
        Assert.DoesNotContain("no-final", AskedSheet.Ask(table).Ids());
        Assert.Equal(6, AskedSheet.Read(table, [.. AskedSheet.Ask(table).Questions.Select(asked => (asked.Id, asked.Suggested!))])
            .Count(bag => bag.MassFinalGrams is not null));
    }

    [Fact]
    public void A_litter_of_ones_own_is_left_out_and_told()
    {
        string table = Table("Buried,Dug up", "2025-05-14,2025-08-12")
            + "1,own straw,48.1,9.2,2.50,1.90,2025-05-14,2025-08-12\n2,own straw,48.1,9.2,2.50,1.90,2025-05-14,2025-08-12\n";
        Question question = AskedSheet.Ask(table).Questions.Single(asked => asked.Id == "role-word:own straw");
        Assert.Equal(("-", "fast slow -"), (question.Suggested, string.Join(" ", question.Choices.Select(choice => choice.Value))));
        Inquiry inquiry = AskedSheet.Ask(table, (question.Id, "-"));
        Assert.Equal(2, inquiry.Told.Single(told => told.Code == "other-litter").Count);
        Assert.Equal(6, AskedSheet.Read(table, (question.Id, "-")).Count);
    }

    [Fact]
    public void A_mass_merged_over_two_bags_is_none_of_theirs()
    {
        object?[] Row(int hole, string litter, double before, double? after) =>
            [(double)hole, litter, before, after, "2025-05-14", "2025-08-12", 48.1, 9.2];
        byte[] book = new XlsxMaker().Sheet("bags", [["Hole", "Litter", "Before (g)", "After (g)", "Buried", "Dug up", "Lat N", "Long E"],
            Row(1, "fast", 2.41, 1.31), Row(1, "slow", 2.61, null), Row(2, "fast", 2.42, 1.32), Row(2, "slow", 2.62, 2.02)])
            .Merge("bags", "D2:D3").ToBytes();
        Question question = Assert.Single(AskedSheet.Of(book, "en").Questions);
        Assert.Equal("leave", question.Suggested);
        Inquiry inquiry = AskedSheet.Of(book, "en", (question.Id, "leave"));
        Assert.Contains("layout-merged-masses-left", AskedSheet.Told(inquiry));
        Assert.Equal([null, null, 1.32, 2.02], AskedSheet.Read(book, "table.xlsx", "en", (question.Id, "leave")).SoundRows!.Bags
            .OrderBy(bag => bag.BurialId, StringComparer.Ordinal).Select(bag => bag.MassFinalGrams));
    }

    [Theory]
    [InlineData("")]
    [InlineData("<v></v>")]
    [InlineData("<v/>")]
    public void Formulas_that_were_never_calculated_are_told_as_that(string value)
    {
        RawCell formula = new("<c r=\"{at}\"><f>1.31+0</f>" + value + "</c>");
        byte[] book = new XlsxMaker().Sheet("bags", [["Hole", "Litter", "Before (g)", "After (g)", "Buried", "Dug up", "Lat N", "Long E"],
            [1.0, "fast", 2.41, formula, "2025-05-14", "2025-08-12", 48.1, 9.2],
            [1.0, "slow", 2.61, formula, "2025-05-14", "2025-08-12", 48.1, 9.2]]).ToBytes();
        Finding finding = Assert.Single(AskedSheet.Of(book, "en").Findings);
        Assert.Contains("formulas", finding.Found, StringComparison.Ordinal);
        Assert.Contains("save it again", finding.Mend, StringComparison.Ordinal);
    }

    [Fact]
    public void A_table_on_its_side_may_have_a_blank_corner()
    {
        byte[] book = new XlsxMaker().Sheet("bags", [[null, "Rep 1", "Rep 2", "Rep 3"],
            ["Fast – initial (g)", 2.41, 2.42, 2.43], ["Fast – final (g)", 1.31, 1.32, 1.33],
            ["Slow – initial (g)", 2.61, 2.62, 2.63], ["Slow – final (g)", 2.01, 2.02, 2.03],
            ["Buried", "2025-05-14", "2025-05-14", "2025-05-14"], ["Dug up", "2025-08-12", "2025-08-12", "2025-08-12"],
            ["Lat", 48.1, 48.1, 48.1], ["Lon", 9.2, 9.2, 9.2]]).ToBytes();
        Inquiry inquiry = AskedSheet.Of(book, "en");
        Assert.Empty(inquiry.Findings);
        Assert.Equal(["1.31 2.01", "1.32 2.02", "1.33 2.03"], AskedSheet.Read(book, "table.xlsx", "en",
            [.. inquiry.Questions.Select(asked => (asked.Id, asked.Suggested!))]).SoundRows!.Bags.GroupBy(bag => bag.BurialId)
            .Select(own => string.Join(" ", own.Select(bag => $"{bag.MassFinalGrams:0.00}").Order(StringComparer.Ordinal))));
    }

    [Fact]
    public void A_laboratory_that_calls_bags_samples_is_joined_by_their_numbers()
    {
        object?[][] filling = [["Bag no", "Hole", "Litter", "Before (g)", "Buried", "Lat N", "Long E"],
            .. Enumerable.Range(1, 6).Select(bag => new object?[] { (double)bag, (double)((bag + 1) / 2), bag % 2 == 1 ? "fast" : "slow",
                (bag % 2 == 1 ? 2.4 : 2.6) + bag / 100.0, "2025-05-14", 48.1, 9.2 })];
        object?[][] lab = [["Sample", "Dry mass after (g)", "Dug up"],
            .. new[] { 3, 6, 5, 1, 2, 4 }.Select(bag => new object?[] { $"0{bag}", (bag % 2 == 1 ? 1.3 : 2) + bag / 100.0, "2025-08-12" })];
        byte[] book = new XlsxMaker().Sheet("Filling", filling).Sheet("Lab", lab).ToBytes();
        Question question = AskedSheet.Of(book, "en").Questions.Single(asked => asked.Id.StartsWith("layout.", StringComparison.Ordinal));
        Assert.Equal("layout.key-by-values:Bag no / Sample", question.Id);
        (string, string)[] answers = [.. AskedSheet.Of(book, "en", (question.Id, "join")).Questions.Select(asked =>
            (asked.Id, asked.Suggested!)), (question.Id, "join")];
        Assert.Equal(["1 1.31", "1 2.02", "2 1.33", "2 2.04", "3 1.35", "3 2.06"], AskedSheet.Read(book, "table.xlsx", "en", answers)
            .SoundRows!.Bags.Select(bag => $"{bag.BurialId} {bag.MassFinalGrams:0.00}").Order(StringComparer.Ordinal));
    }
}
