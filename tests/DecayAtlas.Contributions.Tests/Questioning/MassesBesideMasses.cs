namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Columns of masses beside those before and after, and masses between signs. Truth by hand, under the campaign's empty bag of
/// 0.40 g.</summary>
public class MassesBesideMasses
{
    private static (double?, double?, MassBasis?)[] Masses(string table, params (string, string)[] answers) =>
        [.. AskedSheet.Read(table, answers).OrderBy(bag => bag.BurialId).ThenBy(bag => bag.Role)
            .Select(bag => (Rounded(bag.MassInitialGrams), Rounded(bag.MassFinalGrams), bag.MassBasis))];

    private static double? Rounded(double? grams) => grams is { } known ? Math.Round(known, 6) : null;

    private static string Beside(string name) => AskedSheet.Head($"Before (g),After (g),{name}")
        + AskedSheet.Bags("1", "2.50,1.40,0.51", "2.72,2.12,0.52") + AskedSheet.Bags("2", "2.51,1.41,0.50", "2.71,2.11,0.50");

    // bags of their own mass: 2.50 - 0.51, 1.40 - 0.51
    [Theory]
    [InlineData("Mesh bag (g)")]
    [InlineData("Bag alone (g)")]
    [InlineData("Pouch (g)")]
    [InlineData("Hülle (g)")]
    [InlineData("Netz (g)")]
    [InlineData("Malla (g)")]
    [InlineData("Filet (g)")]
    public void An_empty_bag_under_another_name_is_asked_about(string name)
    {
        Question question = Assert.Single(AskedSheet.Ask(Beside(name)).Questions);
        Assert.Equal(("mass-beside:" + name, "bag"), (question.Id, question.Suggested));
        Assert.Equal([(1.99, 0.89, MassBasis.Litter), (2.20, 1.60, MassBasis.Litter), (2.01, 0.91, MassBasis.Litter),
            (2.21, 1.61, MassBasis.Litter)], Masses(Beside(name), (question.Id, "bag")));
    }

    // 1.40 - 0.51 and 2.12 - 0.52; 2.50 - 0.51 and 2.72 - 0.52
    [Theory]
    [InlineData("Clip (g)", "last", 2.50, 0.89, 2.72, 1.60)]
    [InlineData("Balance error (g)", "last", 2.50, 0.89, 2.72, 1.60)]
    [InlineData("Klammer (g)", "first", 1.99, 1.40, 2.20, 2.12)]
    [InlineData("Bandeja (g)", "both", 1.99, 0.89, 2.20, 1.60)]
    [InlineData("Barquette (g)", "none", 2.50, 1.40, 2.72, 2.12)]
    public void What_was_weighed_with_the_litter_is_taken_off_where_it_was(string name, string answer, double first, double last,
        double slowFirst, double slowLast)
    {
        Question question = Assert.Single(AskedSheet.Ask(Beside(name)).Questions);
        Assert.Equal(("mass-beside:" + name, null), (question.Id, question.Suggested));
        Assert.Equal([(first, last, MassBasis.Gross), (slowFirst, slowLast, MassBasis.Gross)],
            Masses(Beside(name), (question.Id, answer)).Take(2));
    }

    [Theory]
    [InlineData("Clip")]
    [InlineData("Depth (cm)")]
    [InlineData("Soil sample (g)", "25.1")]
    public void A_column_without_a_unit_of_mass_or_heavier_than_the_bags_is_none(string name, string value = "1.5") =>
        Assert.DoesNotContain("mass-beside:" + name, AskedSheet.Ask(AskedSheet.Head($"Before (g),After (g),{name}")
            + AskedSheet.Bags("1", $"2.40,1.30,{value}", $"2.60,2.00,{value}")).Ids());

    [Theory]
    [InlineData("(1.31)")]
    [InlineData("1.31²")]
    [InlineData("[1.31]")]
    public void A_mass_between_signs_may_be_the_mass(string cell)
    {
        string table = AskedSheet.Head("Before (g),After (g)") + AskedSheet.Bags("1", "2.40,1.30", "2.60,2.00")
            + AskedSheet.Bags("2", $"2.41,{cell}", "2.61,2.01");
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(("word:" + cell, "the mass is 1.31 g"), (question.Id, question.Choices[0].Text));
        Assert.Equal([1.30, 2.00, 1.31, 2.01], Masses(table, (question.Id, "number")).Select(bag => bag.Item2));
        Assert.Equal([1.30, 2.00, null, 2.01], Masses(table, (question.Id, "empty")).Select(bag => bag.Item2));
    }
}
