namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>What sheets say of the bag on the balance, of its empty mass, and of water and soil in what was weighed. Truth by hand:
/// an empty bag weighs 0.40 g by the campaign.</summary>
public class BagsOnTheBalance
{
    private static (double?, double?, MassBasis?)[] Masses(IEnumerable<BagRow> bags) => [.. bags.OrderBy(bag => bag.BurialId)
        .ThenBy(bag => bag.Role).Select(bag => (Rounded(bag.MassInitialGrams), Rounded(bag.MassFinalGrams), bag.MassBasis))];

    private static double? Rounded(double? grams) => grams is { } known ? Math.Round(known, 6) : null;

    private static Campaign Within(string tolerance) => AskedSheet.Campaign with
    {
        Lots = [.. AskedSheet.Campaign.Lots.Select(lot => new Dictionary<string, string>(lot) { ["litter_mass_tolerance_g"] = tolerance })],
    };

    private static string Plain(string first, string slowFirst, string second, string slowSecond) => AskedSheet.Head("Before (g),After (g)")
        + AskedSheet.Bags("1", first, slowFirst) + AskedSheet.Bags("2", second, slowSecond);

    // 2.11 - 0.40 = 1.71 lies within 2.0 ± 0.3; 2.05 - 0.40 = 1.65 does not, while 2.05 itself does
    [Theory]
    [InlineData("2.11", null)]
    [InlineData("2.05", "basis-odd")]
    public void A_mass_within_what_the_campaign_allows_is_not_asked_about(string mass, string? asked)
    {
        Inquiry inquiry = AskedSheet.Ask(Plain($"{mass},1.20", "2.60,2.00", "2.41,1.31", "2.61,2.01"), Within("0.3"), []);
        Assert.Equal(asked, inquiry.Ids().SingleOrDefault());
        if (asked is not null)
        {
            Assert.Equal(["as-stated", "odd", "odd-first", "all", "all-first"],
                inquiry.Questions[0].Choices.Select(choice => choice.Value));
        }
    }

    // (1.30 + 1.34) / 2 and (1.31 + 1.33) / 2 by hand; where the second balance was not used the first counts
    [Theory]
    [InlineData("Before (g),After balance 1 (g),After balance 2 (g)")]
    [InlineData("Einwaage (g),Auswaage 1. Tag (g),Auswaage 2. Tag (g)")]
    public void Two_weighings_after_digging_up_may_count_with_their_mean(string masses)
    {
        string table = AskedSheet.Head(masses) + AskedSheet.Bags("1", "2.40,1.30,1.34", "2.60,2.00,")
            + AskedSheet.Bags("2", "2.41,1.31,1.33", "2.61,,2.05");
        Question asked = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(("column:mass-final", 3), (asked.Id, asked.Choices.Count));
        Assert.Equal([1.32, 2.00, 1.32, 2.05], AskedSheet.Read(table, (asked.Id, "mean-of-two")).Select(bag =>
            Rounded(bag.MassFinalGrams)!.Value));
        Assert.Contains("mean-of-two", AskedSheet.Told(AskedSheet.Ask(table, (asked.Id, "mean-of-two"))));
    }

    // each lies within the tolerance, with the bag and without, but four that are all 0.29 g too light together do not
    [Fact]
    public void Masses_that_fit_the_other_way_only_together_are_asked_about_together()
    {
        string table = Plain("2.11,1.00", "2.31,1.70", "2.12,1.01", "2.32,1.71");
        Assert.Equal(["basis-mean"], AskedSheet.Ask(table, Within("0.3"), []).Ids());
        Assert.Contains("mass_basis: { value: \"litter\" }", AskedSheet.Ask(table, Within("0.3"), [("basis-mean", "other")]).Mapping,
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("All weights are net (bag deducted)")]
    [InlineData("All masses in this table are without the bag.")]
    [InlineData("Hinweis: Alle Gewichte netto (Beutel abgezogen).")]
    [InlineData("Alle Massen sind Nettogewichte")]
    [InlineData("Todos los pesos son netos (bolsa descontada)")]
    [InlineData("Nota: peso neto en todas las filas")]
    [InlineData("Toutes les masses sans le sachet")]
    [InlineData("Tous les poids sont nets (sachet déduit)")]
    public void A_line_that_says_net_of_all_is_believed(string line)
    {
        string table = $"\"{line}\"\n\n" + Plain("2.00,0.90", "2.20,1.60", "2.01,0.91", "2.21,1.61");
        Inquiry inquiry = AskedSheet.Ask(table);
        Assert.Empty(inquiry.Ids());
        Assert.Contains("basis-lines-litter", AskedSheet.Told(inquiry));
        Assert.Equal([(2.00, 0.90, MassBasis.Litter), (2.20, 1.60, MassBasis.Litter), (2.01, 0.91, MassBasis.Litter),
            (2.21, 1.61, MassBasis.Litter)], Masses(AskedSheet.Read(table)));
    }

    [Theory]
    [InlineData("Weights net")]
    [InlineData("Gewichte netto")]
    [InlineData("peso neto")]
    [InlineData("poids nets, sachet déduit")]
    public void A_line_that_says_net_and_not_of_what_is_shown(string line)
    {
        Question question = Assert.Single(AskedSheet.Ask($"\"{line}\"\n\n"
            + Plain("2.00,0.90", "2.20,1.60", "2.01,0.91", "2.21,1.61")).Questions);
        Assert.Equal(("basis-lines", "litter"), (question.Id, question.Suggested));
    }

    [Theory]
    [InlineData("Bag with a hole")]
    [InlineData("Beutel mit Loch")]
    [InlineData("net torn, weight not sure")]
    public void A_bag_with_something_else_was_not_weighed_so(string remark) => Assert.Null(BasisWords.Of(remark));

    private static string Noted(string note, string after, string slowAfter) => AskedSheet.Head("Before (g),After (g),Remark")
        + AskedSheet.Bags("1", "2.40,1.30,", "2.60,2.00,") + AskedSheet.Bags("2", $"2.41,{after},{note}", $"2.61,{slowAfter},{note}")
        + AskedSheet.Bags("3", "2.42,1.32,", "2.62,2.02,");

    // of hole 2 the bag is in the first masses alone: 2.41 - 0.40 and 2.61 - 0.40
    private static readonly (double?, double?, MassBasis?)[] OnlyLastWithout =
    [
        (2.40, 1.30, MassBasis.Gross), (2.60, 2.00, MassBasis.Gross), (2.01, 0.91, MassBasis.Litter), (2.21, 1.61, MassBasis.Litter),
        (2.42, 1.32, MassBasis.Gross), (2.62, 2.02, MassBasis.Gross),
    ];

    [Theory]
    [InlineData("final weighed without bag")]
    [InlineData("nachher ohne Beutel gewogen")]
    [InlineData("peso final sin la bolsa")]
    [InlineData("après : pesé sans sachet")]
    public void A_remark_on_one_weighing_is_not_of_the_other_nor_of_other_rows(string note)
    {
        string table = Noted(note, "0.91", "1.61");
        Assert.Empty(AskedSheet.Ask(table).Ids());
        IReadOnlyList<BagRow> bags = AskedSheet.Read(table);
        Assert.Equal(OnlyLastWithout, Masses(bags));
        // what is uncertain of the empty bag goes with the mass that it was taken off
        Assert.All(bags, bag => Assert.Equal((bag.BurialId == "2", false), (bag.MassInitialSdGrams is > 0, bag.MassFinalSdGrams is > 0)));
    }

    // 2.41 g are those of a bag with its litter, 2.01 g of the litter alone
    [Theory]
    [InlineData("without bag")]
    [InlineData("ohne Beutel")]
    [InlineData("sin bolsa")]
    [InlineData("sans sachet")]
    public void A_remark_that_names_no_weighing_is_of_both_unless_the_first_mass_says_otherwise(string note)
    {
        string table = Noted(note, "0.91", "1.61"), both = table.Replace("2.41", "2.01", StringComparison.Ordinal).Replace("2.61", "2.21",
            StringComparison.Ordinal);
        Assert.Equal(["basis-of:" + note], AskedSheet.Ask(table).Ids());
        Assert.Equal(OnlyLastWithout, Masses(AskedSheet.Read(table, ("basis-of:" + note, "last"))));
        Assert.Empty(AskedSheet.Ask(both).Ids());
        Assert.Equal(OnlyLastWithout, Masses(AskedSheet.Read(both)));
    }

    // fillings of 2.0 +- 0.4 g beside an empty bag of 0.40 g: 2.20 g may be either
    [Fact]
    public void A_remark_that_names_no_weighing_is_asked_about_where_the_first_mass_may_be_either() => Assert.Equal(
        ["basis-of:without bag"], AskedSheet.Ask(Noted("without bag", "0.91", "1.61").Replace("2.41", "2.20", StringComparison.Ordinal)
            .Replace("2.61", "2.40", StringComparison.Ordinal), Within("0.4"), []).Ids());

    // the slow litter of hole 2 is heavier after than before
    [Fact]
    public void Masses_in_the_column_of_each_other_are_no_other_way_of_weighing() => Assert.DoesNotContain("basis-odd", AskedSheet.Ask(
        Plain("2.40,1.30", "2.60,2.00", "2.41,1.31", "2.21,2.61"), Within("0.3"), []).Ids());

    [Fact]
    public void A_remark_that_names_both_ways_is_asked_about()
    {
        const string Note = "without bag weight? no - with bag";
        Assert.Equal(["basis-word:" + Note], AskedSheet.Ask(Noted(Note, "1.31", "2.01")).Ids());
        Assert.All(AskedSheet.Read(Noted(Note, "1.31", "2.01"), ("basis-word:" + Note, "gross")),
            bag => Assert.Equal(MassBasis.Gross, bag.MassBasis));
    }

    [Theory]
    [InlineData("* weighed without the bag", true)]
    [InlineData("* ohne Beutel gewogen", true)]
    [InlineData("* sin la bolsa", true)]
    [InlineData("* après, sans le sachet", false)]
    public void A_star_is_of_the_masses_that_have_it(string line, bool isAsked)
    {
        string table = Noted("", "0.91*", "1.61*") + $"\n\"{line}\"\n";
        Inquiry inquiry = AskedSheet.Ask(table);
        Assert.Equal(isAsked ? ["basis-cell:After (g)"] : [], inquiry.Ids());
        if (isAsked)
            Assert.Equal(["0.91*", "1.61*"], inquiry.Questions[0].Seen.Select(cell => cell.Text));
        Assert.Equal(OnlyLastWithout, Masses(AskedSheet.Read(table, isAsked ? [("basis-cell:After (g)", "one")] : [])));
    }

    [Theory]
    [InlineData("Bags with string and label: 0.60 g each (weighed 20 empty ones)")]
    [InlineData("Beutel mit Faden und Etikett: je 0,60 g")]
    [InlineData("Bolsas con hilo y etiqueta: 0,60 g cada una")]
    [InlineData("Sachets avec ficelle et étiquette : 0,60 g chacun")]
    public void What_a_bag_weighs_by_the_sheet_is_asked_beside_the_campaign(string line)
    {
        string table = $"\"{line}\"\n" + Plain("2.60,1.50", "2.80,2.20", "2.61,1.51", "2.81,2.21");
        Assert.Equal(["tare:F", "tare:S"], AskedSheet.Ask(table).Ids().Order(StringComparer.Ordinal));
        Assert.All(AskedSheet.Tables(table, ("tare:F", "sheet"), ("tare:S", "sheet")).Lots, lot => Assert.Equal(0.6, lot.TareGrams));
    }

    // 8.7 parts of water beside 100 of dry litter are 8.7 / 108.7 of all; of 100 moist parts they are 0.087
    [Theory]
    [InlineData("Wassergehalt vorher (% der Trockenmasse)", 0.080037)]
    [InlineData("Water content before (% of dry mass)", 0.080037)]
    [InlineData("Contenido de agua antes (% de la masa seca)", 0.080037)]
    [InlineData("Teneur en eau avant (% de la masse sèche)", 0.080037)]
    [InlineData("Wassergehalt vorher (% der Frischmasse)", 0.087)]
    [InlineData("Water content before (% of fresh mass)", 0.087)]
    [InlineData("Contenido de agua antes (% de la masa fresca)", 0.087)]
    [InlineData("Teneur en eau avant (% de la masse fraîche)", 0.087)]
    public void Water_is_a_share_of_what_its_name_says(string name, double share)
    {
        string table = AskedSheet.Head($"Air-dry before (g),{name},After (g)") + AskedSheet.Bags("1", "2.40,8.7,1.30", "2.60,8.7,2.00")
            + AskedSheet.Bags("2", "2.41,8.7,1.31", "2.61,8.7,2.01");
        Assert.Empty(AskedSheet.Ask(table).Ids());
        Assert.All(AskedSheet.Read(table), bag => Assert.Equal(share, bag.MoistureInitialFraction!.Value, 6));
    }

    [Fact]
    public void Water_whose_name_does_not_say_it_may_be_of_the_dry_litter()
    {
        const string Name = "Water content before (%)";
        string table = AskedSheet.Head($"Air-dry before (g),{Name},After (g)") + AskedSheet.Bags("1", "2.40,25,1.30", "2.60,25,2.00");
        Assert.All(AskedSheet.Read(table, ("moisture:" + Name, "percent-dry")), bag => Assert.Equal(0.2, bag.MoistureInitialFraction));
    }

    [Theory]
    [InlineData("soil sticking (g)", "off", 1.30)]
    [InlineData("anhaftende Erde (g)", "off", 1.30)]
    [InlineData("tierra adherida (g)", "off", 1.30)]
    [InlineData("terre collée (g)", "leave", 1.45)]
    public void Soil_that_stuck_is_taken_off_where_it_was_weighed(string name, string answer, double last)
    {
        string table = AskedSheet.Head($"Before (g),After (g),{name}") + AskedSheet.Bags("1", "2.40,1.45,0.15", "2.60,2.15,0.15")
            + AskedSheet.Bags("2", "2.41,1.45,0.15", "2.61,2.16,");
        Assert.Equal(["adhering-soil:" + name], AskedSheet.Ask(table).Ids());
        Assert.Equal(Enumerable.Repeat<double?>(last, 2), Masses(AskedSheet.Read(table, ("adhering-soil:" + name, answer)))
            .Where((_, i) => i % 2 == 0).Select(bag => bag.Item2));
    }
}
