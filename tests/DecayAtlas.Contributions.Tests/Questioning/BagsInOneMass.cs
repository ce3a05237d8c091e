namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Sheets in which one mass of each bag is with the bag and the other is not. Truth by hand: by the campaign an empty bag weighs
/// 0.40 g and is filled with 2.0 g of the fast litter or 2.2 g of the slow.</summary>
public class BagsInOneMass
{
    private static (double?, double?, MassBasis?)[] Masses(IEnumerable<BagRow> bags) => [.. bags.OrderBy(bag => bag.BurialId)
        .ThenBy(bag => bag.Role).Select(bag => (Rounded(bag.MassInitialGrams), Rounded(bag.MassFinalGrams), bag.MassBasis))];

    private static double? Rounded(double? grams) => grams is { } known ? Math.Round(known, 6) : null;

    // 2.40 g less the bag are 2.00 g; what is left of them, 0.90 g, was weighed alone
    private static string FirstWith(string first, string last) => AskedSheet.Head($"\"{first}\",\"{last}\"")
        + AskedSheet.Bags("1", "2.40,0.90", "2.60,1.60") + AskedSheet.Bags("2", "2.41,0.91", "2.61,1.61");

    private static readonly (double?, double?, MassBasis?)[] Alone =
    [
        (2.00, 0.90, MassBasis.Litter), (2.20, 1.60, MassBasis.Litter), (2.01, 0.91, MassBasis.Litter), (2.21, 1.61, MassBasis.Litter),
    ];

    [Theory]
    [InlineData("Before (bag + litter, g)", "After (litter only, g)")]
    [InlineData("Full bag before (g)", "Content after, brushed out (g)")]
    [InlineData("Filled bag before (g)", "Litter alone, after (g)")]
    [InlineData("Before, bag included (g)", "After, taken out of the bag (g)")]
    [InlineData("Gewicht vorher, Beutel mitgewogen (g)", "Gewicht nachher, nur die Streu (g)")]
    [InlineData("voller Beutel vorher (g)", "Inhalt nachher (g)")]
    [InlineData("Beutel und Streu vorher (g)", "Streu allein nachher (g)")]
    [InlineData("bolsa llena, antes (g)", "contenido de la bolsa, después (g)")]
    [InlineData("Peso inicial, bolsa incluida (g)", "Peso final, sólo la hojarasca (g)")]
    [InlineData("Masse avant, sachet compris (g)", "Masse après, litière seule (g)")]
    [InlineData("Sachet plein avant (g)", "Contenu du sachet après (g)")]
    [InlineData("Sachet et litière avant (g)", "Après, hors du sachet (g)")]
    public void A_name_that_says_whether_the_bag_is_in_a_mass_is_followed(string first, string last)
    {
        string table = FirstWith(first, last);
        Assert.Empty(AskedSheet.Ask(table).Ids());
        Assert.Equal(Alone, Masses(AskedSheet.Read(table)));
    }

    // what the campaign says of all is not taken for a mass beside one that was weighed another way
    [Theory]
    [InlineData("Before (g)", "After (litter only, g)")]
    [InlineData("Vorher (g)", "nachher nur Streu (g)")]
    [InlineData("Antes (g)", "Después: contenido (g)")]
    [InlineData("Avant (g)", "Après, feuilles seules (g)")]
    [InlineData("Before (g)", "After, taken out of bag (g)")]
    public void A_mass_whose_name_is_silent_beside_one_that_is_not_is_asked_about(string first, string last)
    {
        string table = FirstWith(first, last);
        Assert.Equal(["basis-silent"], AskedSheet.Ask(table).Ids());
        Assert.Equal(Alone, Masses(AskedSheet.Read(table, ("basis-silent", "gross"))));
    }

    [Theory]
    [InlineData("Bag before (g)", "Litter after (g)")]
    [InlineData("Beutel vorher (g)", "Streu nachher (g)")]
    [InlineData("Bolsa antes (g)", "Hojarasca después (g)")]
    [InlineData("Sachet avant (g)", "Litière après (g)")]
    public void Names_of_which_one_speaks_of_the_bag_and_one_of_the_litter_are_asked_about(string first, string last)
    {
        string table = FirstWith(first, last);
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(("basis-named", "gross-litter"), (question.Id, question.Suggested));
        Assert.Equal(Alone, Masses(AskedSheet.Read(table, ("basis-named", "gross-litter"))));
    }

    [Theory]
    [InlineData("Litter bag before (g)", "gross")]
    [InlineData("Bag no. before (g)", "gross")]
    [InlineData("Litter weight (g)", "litter")]
    [InlineData("Before (g)", null)]
    public void A_bag_of_litter_is_a_bag(string name, string? named)
    {
        Assert.Equal(named, BagOrLitter.NamedIn(name));
        Assert.Null(BagOrLitter.BasisOf(name));
    }

    [Theory]
    [InlineData("Water content after (%)")]
    [InlineData("contenido de agua (%)")]
    [InlineData("Bag dug out (g)")]
    [InlineData("Bag number")]
    [InlineData("Beutel aus Wiese (g)")]
    public void A_name_that_speaks_of_something_else_says_nothing_of_the_bag(string name) => Assert.Null(BagOrLitter.BasisOf(name));

    // filled with 2.0 and 2.2 g that were weighed alone; after digging up the whole bag is weighed: 1.30 - 0.40 = 0.90
    private const string FilledByWeight = "1,meadow,48.1,9.2,fast,2.00,1.30,2025-05-14,2025-08-12\n"
        + "1,meadow,48.1,9.2,slow,2.20,2.00,2025-05-14,2025-08-12\n2,meadow,48.1,9.2,fast,2.01,1.31,2025-05-14,2025-08-12\n"
        + "2,meadow,48.1,9.2,slow,2.21,2.01,2025-05-14,2025-08-12\n";

    [Fact]
    public void First_masses_of_litter_alone_say_nothing_of_the_last_ones()
    {
        string table = AskedSheet.Head("Before (g),After (g)") + FilledByWeight;
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal("basis-odd", question.Id);
        Assert.Null(question.Suggested);
        Assert.Equal(["as-stated", "odd", "odd-first"], question.Choices.Select(choice => choice.Value));
        Assert.Equal(Alone, Masses(AskedSheet.Read(table, ("basis-odd", "odd-first"))));
    }

    // 2.20 g of litter alone cannot be 2.45 g later: that is the bag
    [Fact]
    public void A_last_mass_above_the_first_suggests_that_the_bag_is_in_it()
    {
        string table = AskedSheet.Head("Before (g),After (g)") + FilledByWeight.Replace("2.21,2.01", "2.21,2.45", StringComparison.Ordinal);
        Assert.Equal("odd-first", AskedSheet.Ask(table).Questions.Single(question => question.Id == "basis-odd").Suggested);
    }

    [Fact]
    public void Of_some_rows_the_first_masses_alone_may_be_without_the_bag()
    {
        string table = AskedSheet.Head("Before (g),After (g)") + FilledByWeight
            + AskedSheet.Bags("3", "2.40,1.32", "2.60,2.02");
        (double?, double?, MassBasis?)[] read = Masses(AskedSheet.Read(table, ("basis-odd", "odd-first")));
        Assert.Equal([.. Alone, (2.40, 1.32, MassBasis.Gross), (2.60, 2.02, MassBasis.Gross)], read);
    }

    [Fact]
    public void In_a_row_of_two_bags_too()
    {
        const string Table = "Hole,Place,Lat,Long,Fast before (g),Fast after (g),Slow before (g),Slow after (g),Buried,Dug up\n"
            + "1,meadow,48.1,9.2,2.00,1.30,2.20,2.00,2025-05-14,2025-08-12\n2,meadow,48.1,9.2,2.01,1.31,2.21,2.01,2025-05-14,2025-08-12\n";
        Assert.Equal(Alone, Masses(AskedSheet.Read(Table, ("basis-odd", "odd-first"))));
        const string Mixed = Table + "3,meadow,48.1,9.2,2.40,1.32,2.60,2.02,2025-05-14,2025-08-12\n";
        Assert.Equal([.. Alone, (2.40, 1.32, MassBasis.Gross), (2.60, 2.02, MassBasis.Gross)],
            Masses(AskedSheet.Read(Mixed, ("basis-odd", "odd-first"))));
    }

    // what is left, in grams, is the mass after; what was lost is taken off the mass before
    [Theory]
    [InlineData("Left over (g)", "1.30", "2.00")]
    [InlineData("Litter left (g)", "1.30", "2.00")]
    [InlineData("Remaining (g)", "1.30", "2.00")]
    [InlineData("übrig (g)", "1.30", "2.00")]
    [InlineData("restante (g)", "1.30", "2.00")]
    [InlineData("Reste (g)", "1.30", "2.00")]
    [InlineData("Lost (g)", "1.10", "0.60")]
    [InlineData("Verlust (g)", "1.10", "0.60")]
    [InlineData("Pérdida (g)", "1.10", "0.60")]
    [InlineData("Perte (g)", "1.10", "0.60")]
    public void What_is_left_is_the_mass_after_and_what_is_lost_is_taken_off(string name, string fast, string slow)
    {
        string table = AskedSheet.Head($"Before (g),{name}") + AskedSheet.Bags("1", $"2.40,{fast}", $"2.60,{slow}");
        Assert.Empty(AskedSheet.Ask(table).Ids());
        Assert.Equal([(2.40, 1.30, MassBasis.Gross), (2.60, 2.00, MassBasis.Gross)], Masses(AskedSheet.Read(table)));
    }

    // which of the two a number without a unit is is asked, and the answer is kept to
    [Fact]
    public void What_is_left_and_said_to_be_in_grams_only_by_an_answer_is_the_mass_after_too()
    {
        string table = AskedSheet.Head("Before (g),What is left") + AskedSheet.Bags("1", "2.40,1.30", "2.60,2.00");
        Assert.Equal([(2.40, 1.30, MassBasis.Gross), (2.60, 2.00, MassBasis.Gross)],
            Masses(AskedSheet.Read(table, ("share-unit:What is left", "g"))));
    }
}
