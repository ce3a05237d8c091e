namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>A row with two bags that are told apart by a letter in the names of columns, as on the paper of a kit.</summary>
public class LettersOfBags
{
    // four holes in two places, two rows each: by halves the places part the rows as two litters would
    private static string Table(string heads) => $"Loch;Ort;Breite;Länge;vergraben;ausgegraben;{heads};Bemerkung\n"
        + "1;Hecke;49,1310;11,5720;14.05.2025;07.08.2025;2,40;1,30;2,60;2,00;\n"
        + "2;Hecke;49,1310;11,5720;14.05.2025;07.08.2025;2,41;1,31;2,61;2,01;\n"
        + "3;Acker;49,1350;11,5790;14.05.2025;07.08.2025;2,42;1,32;2,62;2,02;\n"
        + "4;Acker;49,1350;11,5790;14.05.2025;07.08.2025;2,43;1,33;2,63;2,03;\n";

    // as the table says it, cell by cell
    private static readonly string[] Truth =
    [
        "1 fast 2.40 1.30", "1 slow 2.60 2.00", "2 fast 2.41 1.31", "2 slow 2.61 2.01",
        "3 fast 2.42 1.32", "3 slow 2.62 2.02", "4 fast 2.43 1.33", "4 slow 2.63 2.03",
    ];

    private static string[] Bags(ContributionTables tables) => [.. tables.Bags.Select(bag =>
        $"{bag.BurialId} {(tables.Lots.First(lot => lot.LotId == bag.LotId).Role == LitterRole.Fast ? "fast" : "slow")} "
        + $"{bag.MassInitialGrams:0.00} {bag.MassFinalGrams:0.00}").Order(StringComparer.Ordinal)];

    [Theory]
    [InlineData("Beutel A vorher, g;Beutel A nachher, g;Beutel B vorher, g;Beutel B nachher, g")]
    [InlineData("A vorher (g);A nachher (g);B vorher (g);B nachher (g)")]
    [InlineData("bolsa A antes;bolsa A después;bolsa B antes;bolsa B después")]
    [InlineData("sac A avant (g);sac A après (g);sac B avant (g);sac B après (g)")]
    [InlineData("bag A before;bag A after;bag B before;bag B after")]
    public void In_a_campaign_a_is_the_fast_litter_as_in_its_kits(string heads)
    {
        Inquiry inquiry = AskedSheet.Ask(Table(heads));
        Assert.Empty(inquiry.Ids());
        Assert.Contains("letters", AskedSheet.Told(inquiry));
        Assert.Equal(Truth, Bags(AskedSheet.Tables(Table(heads))));
    }

    [Fact]
    public void Numbers_of_bags_are_asked_and_may_be_turned()
    {
        string heads = Table("Beutel 1 vorher;Beutel 1 nachher;Beutel 2 vorher;Beutel 2 nachher");
        Question question = Assert.Single(AskedSheet.Ask(heads).Questions);
        Assert.Equal("letters", question.Id);
        Assert.Null(question.Suggested);
        Assert.Equal(Truth, Bags(AskedSheet.Tables(heads, ("letters", "1"))));
        Assert.Contains("1 fast 2.60 2.00", Bags(AskedSheet.Tables(heads, ("letters", "2"))));
    }

    /// <summary>Colours tell bags apart, and only their sender knows which litter is in which.</summary>
    [Theory]
    [InlineData("azul antes (g);azul después (g);blanca antes (g);blanca después (g)", "azul", "azul", "blanca")]
    [InlineData("roter Beutel vorher;roter Beutel nachher;grüner Beutel vorher;grüner Beutel nachher", "roter", "roter", "gruner")]
    [InlineData("sachet bleu avant;sachet bleu après;sachet jaune avant;sachet jaune après", "bleu", "bleu", "jaune")]
    [InlineData("Red before, g;Red after, g;White before, g;White after, g", "Red", "red", "white")]
    public void Bags_named_by_colour_are_asked_which_is_the_fast_one(string heads, string shown, string first, string second)
    {
        Question question = Assert.Single(AskedSheet.Ask(Table(heads)).Questions);
        Assert.Equal(("letters", null), (question.Id, question.Suggested));
        Assert.Equal([first, second, "-"], question.Choices.Select(choice => choice.Value));
        Assert.Contains($"“{shown}”", question.Text, StringComparison.Ordinal);
        Assert.Equal(Truth, Bags(AskedSheet.Tables(Table(heads), ("letters", first))));
        Assert.Contains("1 fast 2.60 2.00", Bags(AskedSheet.Tables(Table(heads), ("letters", second))));
    }

    [Fact]
    public void Without_a_campaign_the_letters_are_asked()
    {
        string heads = Table("Beutel A vorher, g;Beutel A nachher, g;Beutel B vorher, g;Beutel B nachher, g");
        Assert.Contains("letters", AskedSheet.Ask(heads, null, []).Ids());
        Told told = Assert.Single(AskedSheet.Ask(heads, null, [("letters", "b")]).Told, told => told.Code == "letters");
        Assert.StartsWith("“B” in the names of columns is the fast litter", told.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Places_are_never_taken_for_litters()
    {
        // a bag a row, and nothing that says which litter it holds
        string table = "Loch;Ort;Breite;Länge;vergraben;ausgegraben;vorher (g);nachher (g)\n"
            + string.Concat(Enumerable.Range(0, 4).Select(i => FormattableString.Invariant(
                $"{i};{(i < 2 ? "Hecke;49,1310;11,5720" : "Acker;49,1350;11,5790")};14.05.2025;07.08.2025;2,4{i};1,3{i}\n")));
        Inquiry inquiry = AskedSheet.Ask(table);
        Assert.DoesNotContain(inquiry.Questions, question => question.Choices.Any(choice => choice.Value is "Ort" or "Hecke"));
        Assert.Null(inquiry.Mapping);
    }

    [Fact]
    public void A_column_of_masses_that_is_not_needed_is_asked_about()
    {
        string table = "Loch,Ort,Lat,Long,Streu,vorher Masse (g),nachher Masse (g),vorher,vergraben,ausgegraben\n"
            + "1,Hecke,48.1,9.2,schnell,2.40,1.30,2.55,2025-05-14,2025-08-07\n1,Hecke,48.1,9.2,langsam,2.60,2.00,2.75,2025-05-14,2025-08-07\n";
        Assert.Equal(["mass-unread:vorher"], AskedSheet.Ask(table).Ids());
        Assert.NotNull(AskedSheet.Ask(table, ("mass-unread:vorher", "leave")).Mapping);
        Inquiry refused = AskedSheet.Ask(table, ("mass-unread:vorher", "needed"));
        Assert.Null(refused.Mapping);
        Assert.Contains("more columns of masses", Assert.Single(refused.Findings).Found, StringComparison.Ordinal);
    }

    [Fact]
    public void A_table_takes_the_place_of_nothing_else_that_the_group_sent()
    {
        string table = Table("Beutel A vorher, g;Beutel A nachher, g;Beutel B vorher, g;Beutel B nachher, g");
        Assert.Contains("name: field-2025-hill-school-table\n", Plain(AskedSheet.Ask(table)), StringComparison.Ordinal);
        Assert.Equal(["mends"], AskedSheet.Ask(table, ("revision", "3")).Ids());
        Assert.Contains("name: field-2025-hill-school-table\n", Plain(AskedSheet.Ask(table, ("revision", "3"), ("mends", "table"))),
            StringComparison.Ordinal);
        // a table of another name takes the place of the one that it mends
        Assert.Equal(["mends-file"], AskedSheet.Ask(table, ("revision", "3"), ("mends", "other")).Ids());
        Assert.Contains("name: field-2025-hill-school-first-bags\n", Plain(AskedSheet.Ask(table, ("revision", "3"), ("mends", "other"),
            ("mends-file", "First bags.csv"))), StringComparison.Ordinal);
        Assert.Contains("name: field-2025-hill-school\n", Plain(AskedSheet.Ask(table, ("revision", "3"), ("mends", "kit"))),
            StringComparison.Ordinal);

        static string Plain(Inquiry inquiry) => inquiry.Mapping!.Replace("\"", "", StringComparison.Ordinal);
    }
}
