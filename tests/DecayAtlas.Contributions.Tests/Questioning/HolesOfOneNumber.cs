namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Numbers of holes that stand more than once. Which bags lay together is known from how the tables are made: a burial's fast bag
/// weighs 2.4n g and its slow one 2.6n g, n being its own.</summary>
public class HolesOfOneNumber
{
    // fast bags in the order of holes, slow ones turned round: by order every pair would be wrong
    private static string Table(string name, params (string Group, int Hole)[] burials) => $"{name},Hole,Litter,Lat,Long,Before (g),"
        + "After (g),Buried,Dug up\n" + string.Concat(burials.Select((one, n) => Row(one, "fast", $"2.4{n},1.3{n}")))
        + string.Concat(burials.Select((one, n) => Row(one, "slow", $"2.6{n},2.0{n}")).Reverse());

    private static string Row((string Group, int Hole) one, string litter, string masses) =>
        $"{one.Group},{one.Hole},{litter},48.1,9.2,{masses},2025-05-14,2025-08-12\n";

    private static readonly (string, int)[] TwoClasses = [("5a", 1), ("5a", 2), ("5b", 1), ("5b", 2)];

    private static string[] Pairs(string table, params (string, string)[] answers) => [.. AskedSheet.Read(table, answers)
        .GroupBy(bag => bag.BurialId).Select(own => string.Join(" ", own.Select(bag => $"{bag.MassInitialGrams:0.00}")
            .Order(StringComparer.Ordinal))).Order(StringComparer.Ordinal)];

    private static readonly string[] Right = ["2.40 2.60", "2.41 2.61", "2.42 2.62", "2.43 2.63"];

    [Theory]
    [InlineData("Class")]
    [InlineData("Klasse")]
    [InlineData("Team")]
    [InlineData("Garden")]
    [InlineData("School")]
    [InlineData("Block")]
    [InlineData("Habitat")]
    [InlineData("Student")]
    [InlineData("Parcelle")]
    public void A_column_beside_them_tells_holes_apart_and_is_told(string name)
    {
        string table = Table(name, TwoClasses);
        Inquiry inquiry = AskedSheet.Ask(table);
        Assert.Empty(inquiry.Ids());
        Assert.Contains(inquiry.Told, told => told.Code == "burial-ids" && told.Text.Contains(name, StringComparison.Ordinal)
            && told.Text.Contains("Hole", StringComparison.Ordinal));
        Assert.Equal(Right, Pairs(table));
    }

    [Theory]
    [InlineData("Jahr", "2025", "2026")]
    [InlineData("Depth", "8", "12")]
    public void So_does_one_of_numbers(string name, string first, string second) =>
        Assert.Equal(Right, Pairs(Table(name, (first, 1), (first, 2), (second, 1), (second, 2))));

    [Fact]
    public void Two_columns_together_do_where_none_alone_does()
    {
        string table = Table("Block,Row", ("1,A", 1), ("1,B", 1), ("2,A", 1), ("2,B", 1));
        Assert.Equal(Right, Pairs(table));
        Assert.Contains(AskedSheet.Ask(table).Told, told => told.Text.Contains("Block, Row and Hole", StringComparison.Ordinal));
    }

    [Fact]
    public void Two_gardens_are_told_apart_by_their_latitude_and_no_name_tells_it()
    {
        string table = string.Join('\n', Table("x", TwoClasses).Split('\n').Select(line => line[(line.IndexOf(',', StringComparison.Ordinal)
            + 1)..] is var rest && line.StartsWith("5b", StringComparison.Ordinal) ? rest.Replace("48.1", "48.3", StringComparison.Ordinal)
                : rest));
        Assert.Equal(Right, Pairs(table));
        Assert.DoesNotContain(AskedSheet.Read(table), bag => bag.BurialId!.Contains("48", StringComparison.Ordinal));
    }

    [Fact]
    public void A_column_that_is_blank_for_one_of_the_groups_is_asked_about()
    {
        string table = Table("Treatment", ("mown", 1), ("mown", 2), ("", 1), ("", 2));
        Question question = AskedSheet.Ask(table).Questions.Single(asked => asked.Id == "holes-again");
        Assert.Equal("within:Treatment", question.Suggested);
        Assert.DoesNotContain(question.Choices, choice => choice.Value == "by-order");
    }

    [Fact]
    public void Columns_that_pair_bags_in_two_ways_are_both_offered()
    {
        // the class of fast bags is that of their own slow ones; the gardens cross them
        string table = "Class,Garden,Hole,Litter,Lat,Long,Before (g),After (g),Buried,Dug up\n"
            + Row(("5a,north", 1), "fast", "2.40,1.30") + Row(("5b,south", 1), "fast", "2.41,1.31")
            + Row(("5a,south", 1), "slow", "2.60,2.00") + Row(("5b,north", 1), "slow", "2.61,2.01");
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(["within:Class", "within:Garden", "twice", "no-hole"], question.Choices.Select(choice => choice.Value));
        Assert.Equal(["2.40 2.60", "2.41 2.61"], Pairs(table, ("holes-again", "within:Class")));
        Assert.Equal(["2.40 2.61", "2.41 2.60"], Pairs(table, ("holes-again", "within:Garden")));
    }

    [Fact]
    public void Numbers_that_begin_anew_without_a_column_are_asked_about()
    {
        string table = AskedSheet.Head("Before (g),After (g)") + AskedSheet.Bags("1", "2.40,1.30", "2.60,2.00")
            + AskedSheet.Bags("2", "2.41,1.31", "2.61,2.01") + AskedSheet.Bags("2", "2.43,1.33", "2.63,2.03")
            + AskedSheet.Bags("1", "2.42,1.32", "2.62,2.02");
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(("holes-again", "anew"), (question.Id, question.Suggested));
        Assert.Equal(Right, Pairs(table, ("holes-again", "anew")));
    }

    /// <summary>The same bags weighed the same before they were buried; of each the later row is the mended one.</summary>
    [Fact]
    public void Two_bags_that_were_weighed_again_are_asked_about_one_by_one()
    {
        string table = AskedSheet.Head("Before (g),After (g)") + AskedSheet.Bags("1", "2.40,1.90", "2.60,2.00")
            + AskedSheet.Bags("2", "2.41,1.31", "2.61,2.51")
            + "1,meadow,48.1,9.2,fast,2.40,1.30,2025-05-14,2025-08-12\n2,meadow,48.1,9.2,slow,2.61,2.01,2025-05-14,2025-08-12\n";
        Inquiry inquiry = AskedSheet.Ask(table);
        Assert.Equal(2, inquiry.Questions.Count);
        Assert.All(inquiry.Questions, question => Assert.StartsWith("twice:", question.Id, StringComparison.Ordinal));
        IReadOnlyList<BagRow> bags = AskedSheet.Read(table, [.. inquiry.Questions.Select(question =>
            (question.Id, question.Choices[^1].Value))]);
        Assert.Equal(["1 1.30", "1 2.00", "2 1.31", "2 2.01"], bags.Select(bag => $"{bag.BurialId} {bag.MassFinalGrams:0.00}")
            .Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_column_nobody_knows_that_pairs_the_bags_goes_before_their_order()
    {
        string table = Table("x", [.. Enumerable.Range(1, 4).Select(n => ("x", n))])
            .Replace("Hole", "Spade", StringComparison.Ordinal);
        Question question = AskedSheet.Ask(table).Questions.Single(asked => asked.Id == "pairs");
        Assert.Equal("column:Spade", question.Suggested);
        Assert.Equal(Right, Pairs(table, ("pairs", "column:Spade")));
    }
}
