namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Masses as people write them down, each beside the numbers that the sheet says, worked out by hand.</summary>
public class MassesAsWritten
{
    private static readonly string Plain = AskedSheet.Head("Before (g),After (g)")
        + AskedSheet.Bags("1", "2.41,1.30", "2.61,2.01") + AskedSheet.Bags("2", "2.42,1.31", "2.62,2.02")
        + AskedSheet.Bags("3", "2.43,1.32", "2.63,2.03") + AskedSheet.Bags("4", "2.44,1.33", "2.64,2.04");

    private static string With(string cell, string written) => Plain.Replace(cell, written, StringComparison.Ordinal);

    private static BagRow Fast(IReadOnlyList<BagRow> bags, int hole) =>
        bags.Single(bag => bag.BurialId == $"{hole}" && bag.Role == LitterRole.Fast);

    [Fact]
    public void Each_mass_is_read_by_its_own_header_and_the_bag_is_taken_off_the_one_that_holds_it()
    {
        string table = AskedSheet.Head("Before with bag (g),After without bag (g)")
            + AskedSheet.Bags("1", "2.40,1.30", "2.60,1.65") + AskedSheet.Bags("2", "2.44,1.02", "2.56,1.70");
        Assert.Contains("tare-of-lot", AskedSheet.Told(AskedSheet.Ask(table)));
        ContributionTables read = AskedSheet.Tables(table);
        Assert.All(read.Bags, bag => Assert.Equal(MassBasis.Litter, bag.MassBasis));
        // 2.40 - 0.4 of the lot
        Assert.Equal((2.00, 1.30), (Fast(read.Bags, 1).MassInitialGrams!.Value, Fast(read.Bags, 1).MassFinalGrams!.Value));
        // the lot says no scatter of its empty bags: 0.02 g is assumed of one bag and 0.005 g of their mean, together √(0.0004 + 0.000025)
        Assert.Equal(0.020616, Fast(read.Bags, 1).MassInitialSdGrams!.Value, 6);
        Assert.Null(Fast(read.Bags, 1).MassFinalSdGrams);
        // 1.30/2.00, 1.02/2.04
        Assert.Equal([0.65, 0.50], CheckedBurial.Of(BurialRows.Of(read.Bags, read.Lots))
            .Select(burial => Math.Round(burial.FastRemaining!.Value, 9)));
    }

    [Fact]
    public void The_other_way_round_the_bag_is_taken_off_the_last_mass()
    {
        string table = AskedSheet.Head("net before (g),gross after (g)")
            + AskedSheet.Bags("1", "2.00,1.70", "2.20,2.05") + AskedSheet.Bags("2", "2.04,1.42", "2.16,2.10");
        IReadOnlyList<BagRow> bags = AskedSheet.Read(table);
        Assert.Equal((2.00, 1.30), (Fast(bags, 1).MassInitialGrams!.Value, Fast(bags, 1).MassFinalGrams!.Value));
        Assert.Null(Fast(bags, 1).MassInitialSdGrams);
        Assert.Equal(0.020616, Fast(bags, 1).MassFinalSdGrams!.Value, 6);
    }

    [Theory]
    [InlineData("gross", "Gross", 2.40)]
    [InlineData("litter", "Litter", 2.00)]
    public void A_header_that_says_nothing_beside_one_that_does_is_asked(string answer, string basis, double first)
    {
        string table = AskedSheet.Head("Before with bag (g),After (g)")
            + AskedSheet.Bags("1", "2.40,1.30", "2.60,1.65") + AskedSheet.Bags("2", "2.44,1.02", "2.56,1.70");
        Assert.Equal(["basis-silent"], AskedSheet.Ids(AskedSheet.Ask(table)));
        BagRow bag = Fast(AskedSheet.Read(table, ("basis-silent", answer)), 1);
        Assert.Equal((basis, first), (bag.MassBasis.ToString(), bag.MassInitialGrams!.Value));
    }

    [Fact]
    public void A_tare_of_each_bag_is_taken_off_its_own_masses_and_an_empty_one_falls_to_the_lot()
    {
        string table = AskedSheet.Head("Empty bag (g),Before (g),After (g)")
            + AskedSheet.Bags("1", "0.35,2.40,1.30", "0.42,2.60,1.99") + AskedSheet.Bags("2", ",2.44,1.42", "0.41,2.56,2.10");
        Assert.Contains("tare-own", AskedSheet.Told(AskedSheet.Ask(table)));
        IReadOnlyList<BagRow> bags = AskedSheet.Read(table);
        Assert.All(bags, bag => Assert.Equal(MassBasis.Litter, bag.MassBasis));
        Assert.Equal((2.05, 0.95), (Fast(bags, 1).MassInitialGrams!.Value, Fast(bags, 1).MassFinalGrams!.Value));
        Assert.Equal((2.04, 1.02), (Fast(bags, 2).MassInitialGrams!.Value, Fast(bags, 2).MassFinalGrams!.Value));
    }

    [Fact]
    public void The_error_of_a_tare_of_each_bag_is_that_of_one_reading()
    {
        string table = AskedSheet.Head("Empty bag (g),Before (g),After (g)")
            + AskedSheet.Bags("1", "0.35,2.40,1.30", "0.42,2.60,1.99") + AskedSheet.Bags("2", "0.38,2.44,1.42", "0.41,2.56,2.10");
        // 0.01 g/√12
        Assert.All(AskedSheet.Read(table), bag => Assert.Equal((0.002887, 0.002887),
            (bag.MassInitialSdGrams!.Value, bag.MassFinalSdGrams!.Value)));
    }

    [Fact]
    public void A_tare_that_says_the_lot_s_again_changes_nothing_and_is_told()
    {
        string table = AskedSheet.Head("Empty bag (g),Before (g),After (g)")
            + AskedSheet.Bags("1", "0.4,2.40,1.30", "0.4,2.60,1.99") + AskedSheet.Bags("2", "0.40,2.44,1.42", "0.4,2.56,2.10");
        Assert.Contains(AskedSheet.Ask(table).Told, told => told.Code == "columns-not-read"
            && told.Text.Contains("Empty bag (g)", StringComparison.Ordinal));
        Assert.All(AskedSheet.Read(table), bag => Assert.Equal(MassBasis.Gross, bag.MassBasis));
    }

    [Theory]
    [InlineData("1.31 (1.21)", "1.31", "1.21")]
    [InlineData("1.31 corrected 1.21", "1.31", "1.21")]
    [InlineData("1.31/1.21", "1.31", "1.21")]
    [InlineData("1.31 -> 1.21", "1.31", "1.21")]
    [InlineData("\"1,31 statt 1,21\"", "1.31", "1.21")]
    [InlineData("1.31 (not 1.21)", "1.31", "1.21")]
    public void Two_numbers_in_a_cell_are_one_question_about_it(string cell, string first, string second)
    {
        string table = With("1.31", cell);
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal("several:4:After (g)", question.Id);
        Assert.Equal([$"{first} g", $"{second} g"], question.Choices.Take(2).Select(choice => choice.Text));
        Assert.Equal(1.21, Fast(AskedSheet.Read(table, (question.Id, "2")), 2).MassFinalGrams);
        Assert.Null(Fast(AskedSheet.Read(table, (question.Id, "none")), 2).MassFinalGrams);
        // the others stay as they are
        Assert.Equal(1.32, Fast(AskedSheet.Read(table, (question.Id, "2")), 3).MassFinalGrams);
    }

    [Fact]
    public void A_first_mass_with_two_numbers_is_asked_as_well()
    {
        string table = With("2.42", "2.42 (2.24)");
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(2.24, Fast(AskedSheet.Read(table, (question.Id, "2")), 2).MassInitialGrams);
    }

    [Theory]
    [InlineData("1.31 ± 0.01")]
    [InlineData("1.31 g")]
    [InlineData("1.31 (torn)")]
    public void One_number_with_its_error_unit_or_remark_is_one(string cell) =>
        Assert.Equal(1.31, Fast(AskedSheet.Read(With("1.31", cell)), 2).MassFinalGrams);

    [Fact]
    public void A_habit_of_two_numbers_is_asked_once()
    {
        string table = AskedSheet.Head("Before (g),After (g)") + string.Concat(Enumerable.Range(1, 4).Select(hole => AskedSheet.Bags(
            $"{hole}", $"2.4{hole},1.3{hole} (1.2{hole})", $"2.6{hole},2.0{hole} (1.9{hole})")));
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        IReadOnlyList<BagRow> bags = AskedSheet.Read(table, (question.Id, "2"));
        Assert.Equal([1.21, 1.91, 1.22, 1.92, 1.23, 1.93, 1.24, 1.94], bags.Select(bag => bag.MassFinalGrams!.Value));
    }

    [Fact]
    public void A_slip_of_one_bag_is_mended_though_another_has_the_same_mass()
    {
        // hole 2: 13.2 is a comma that slipped; the slow bag of hole 3, air and all, weighs as much
        string table = With("2.42,1.31", "2.42,13.2").Replace("2.63,2.03", "14.1,13.2", StringComparison.Ordinal);
        Question question = AskedSheet.Ask(table).Questions.Single(q => q.Id.StartsWith("odd-mass:", StringComparison.Ordinal));
        Assert.Equal(("odd-mass:4:After (g)", "1.32"), (question.Id, question.Suggested));
        string file = AskedSheet.FileOf(table);
        string mapping = AskedSheet.Ask(table, (question.Id, "1.32"), ("basis-odd", "as-stated")).Mapping!;
        IReadOnlyList<BagRow> bags = AskedSheet.Read(file, mapping).SoundRows!.Bags;
        Assert.Equal(1.32, Fast(bags, 2).MassFinalGrams);
        Assert.Equal(13.2, bags.Single(bag => bag.BurialId == "3" && bag.Role == LitterRole.Slow).MassFinalGrams);
    }

    [Fact]
    public void A_number_is_typed_with_the_decimal_sign_of_the_sheet_or_the_other()
    {
        string table = With("1.31", "13.1");
        string mapping = AskedSheet.Ask(table, ("odd-mass:4:After (g)", "1.31")).Mapping!;
        Assert.Equal(mapping, AskedSheet.Ask(table, ("odd-mass:4:After (g)", "1,31")).Mapping);
        Assert.Contains("\"1.313\"", AskedSheet.Of(table, "de", ("odd-mass:4:After (g)", "1,313")).Mapping, StringComparison.Ordinal);
        // in English a thousand and three hundred may be meant
        Assert.Null(AskedSheet.Ask(table, ("odd-mass:4:After (g)", "1,313")).Mapping);
    }

    [Fact]
    public void An_answer_about_a_row_does_not_hold_for_a_table_that_says_something_else_there()
    {
        string table = With("1.31", "13.1");
        string mapping = AskedSheet.Ask(table, ("odd-mass:4:After (g)", "1.31")).Mapping!;
        Finding changed = Assert.Single(AskedSheet.Read(AskedSheet.FileOf(With("1.31", "1.29")), mapping).Findings);
        Assert.Equal((FindingCode.MappingBroken, 4, "After (g)"), (changed.Code, changed.Row, changed.Column));
        string[] lines = table.Split('\n');
        string shorter = string.Join('\n', lines.Take(3)) + "\n";
        Assert.Equal(FindingCode.MappingBroken, Assert.Single(AskedSheet.Read(AskedSheet.FileOf(shorter), mapping).Findings).Code);
    }

    [Fact]
    public void Masses_that_do_not_fit_the_bag_are_named_row_by_row()
    {
        // holes 1 and 2 without the bag; the fast bag of hole 2 reads as the slow one of hole 4, which is with it
        string table = AskedSheet.Head("Before (g),After (g)")
            + AskedSheet.Bags("1", "2.01,0.90", "2.21,1.61") + AskedSheet.Bags("2", "2.02,0.91", "2.22,1.62")
            + AskedSheet.Bags("3", "2.43,1.32", "2.63,2.03") + AskedSheet.Bags("4", "2.44,1.33", "2.64,2.04")
            + AskedSheet.Bags("5", "2.22,1.32", "2.63,2.03");
        string[] ids = AskedSheet.Ids(AskedSheet.Ask(table));
        Assert.Equal(["basis-odd"], ids);
        IReadOnlyList<BagRow> bags = AskedSheet.Read(table, ("basis-odd", "odd"));
        Assert.Equal(["1", "1", "2", "2"], bags.Where(bag => bag.MassBasis == MassBasis.Litter).Select(bag => bag.BurialId));
    }

    [Fact]
    public void One_mass_for_all_bags_makes_that_mass_uncertain_and_not_the_balance()
    {
        string table = AskedSheet.Head("Mean before (g),After (g)") + string.Concat(Enumerable.Range(1, 4).Select(hole => AskedSheet.Bags(
            $"{hole}", $"2.40,1.3{hole}", $"2.60,2.0{hole}")));
        Assert.Equal(["one-mass"], AskedSheet.Ids(AskedSheet.Ask(table)));
        // 2 % of the heavier, 2.60 g
        Assert.All(AskedSheet.Read(table, ("one-mass", "mean")), bag => Assert.Equal((0.052, null, null),
            (bag.MassInitialSdGrams!.Value, bag.MassFinalSdGrams, bag.BalanceResolutionGrams)));
    }

    [Fact]
    public void What_the_names_of_masses_say_of_drying_goes_before_the_campaign()
    {
        string table = Plain.Replace("Before (g)", "Before air-dry (g)", StringComparison.Ordinal);
        Assert.Contains("drying-by-name", AskedSheet.Told(AskedSheet.Ask(table)));
        Assert.All(AskedSheet.Read(table), bag => Assert.Equal((Drying.Air, Drying.Oven), (bag.DryingInitial, bag.Drying)));
    }

    [Theory]
    [InlineData("both", "Air", "Air")]
    [InlineData("first", "Air", "Oven")]
    [InlineData("last", "Oven", "Air")]
    public void A_column_of_drying_is_asked_of_which_weighing_it_speaks(string answer, string first, string last)
    {
        string table = AskedSheet.Head("Dried,Before (g),After (g)") + AskedSheet.Bags("1", "air,2.41,1.30", "air,2.61,2.01")
            + AskedSheet.Bags("2", "air,2.42,1.31", "air,2.62,2.02");
        Assert.Equal(["drying-column"], AskedSheet.Ids(AskedSheet.Ask(table)));
        Assert.All(AskedSheet.Read(table, ("drying-column", answer)), bag =>
            Assert.Equal((first, last), (bag.DryingInitial.ToString(), bag.Drying.ToString())));
    }

    [Fact]
    public void Two_columns_of_drying_are_each_of_their_weighing()
    {
        string table = AskedSheet.Head("Dried before,Before (g),Dried after,After (g)")
            + AskedSheet.Bags("1", "oven,2.41,air,1.30", "oven,2.61,air,2.01") + AskedSheet.Bags("2", "oven,2.42,air,1.31", "oven,2.62,air,2.02");
        Assert.All(AskedSheet.Read(table), bag => Assert.Equal((Drying.Oven, Drying.Air), (bag.DryingInitial, bag.Drying)));
    }

    [Fact]
    public void Ash_is_asked_and_read_as_a_share()
    {
        string table = AskedSheet.Head("Before (g),After (g),Ash after (%)") + AskedSheet.Bags("1", "2.41,1.30,12.5", "2.61,2.01,8")
            + AskedSheet.Bags("2", "2.42,1.31,13", "2.62,2.02,9");
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(("ash:Ash after (%)", "percent"), (question.Id, question.Suggested));
        Assert.Equal(0.125, Fast(AskedSheet.Read(table, (question.Id, "percent")), 1).AshFraction!.Value, 12);
        Assert.Contains(AskedSheet.Ask(table, (question.Id, "other")).Told, told => told.Code == "columns-not-read"
            && told.Text.Contains("Ash after (%)", StringComparison.Ordinal));
    }

    // without the bag of 0.4 g the fast litter of hole 1 weighs 0.90 g, of which 0.09 g are ash, the slow 1.60 g with 0.08 g
    [Theory]
    [InlineData("Ash (g)", "0.09", "0.08")]
    [InlineData("Asche (mg)", "90", "80")]
    public void Ash_in_grams_is_no_fraction_and_is_read_beside_the_litter_that_was_dug_up(string head, string fast, string slow)
    {
        string table = AskedSheet.Head($"Before (g),After (g),{head}") + AskedSheet.Bags("1", $"2.40,1.30,{fast}", $"2.60,2.00,{slow}")
            + AskedSheet.Bags("2", "2.42,1.31,", "2.62,2.02,-");
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal("ash:" + head, question.Id);
        Assert.Equal(["mass", "other"], question.Choices.Select(choice => choice.Value));
        Assert.Equal([0.1, 0.05, null, null], AskedSheet.Read(table, (question.Id, "mass")).Select(bag => bag.AshFraction));
    }

    [Fact]
    public void Ash_of_a_part_that_was_burnt_is_its_share_of_that_part()
    {
        string table = AskedSheet.Head("Before (g),After (g),Burnt for ash (g),Ash (g)")
            + AskedSheet.Bags("1", "2.40,1.30,0.50,0.06", "2.60,2.00,0.40,0.03")
            + AskedSheet.Bags("2", "2.42,1.31,0.52,0.13", "2.62,2.02,0.48,0.06");
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(["of:Burnt for ash (g)", "mass", "other"], question.Choices.Select(choice => choice.Value));
        Inquiry read = AskedSheet.Ask(table, (question.Id, "of:Burnt for ash (g)"));
        Assert.DoesNotContain("columns-not-read", AskedSheet.Told(read));
        Assert.Equal([0.12, 0.075, 0.25, 0.125], AskedSheet.Read(table, (question.Id, "of:Burnt for ash (g)"))
            .Select(bag => bag.AshFraction!.Value));
    }

    [Theory]
    [InlineData("torn: 1.50", BagCondition.Torn)]
    [InlineData("gerissen 1,50 g", BagCondition.Torn)]
    [InlineData("con raíces: 1,50", BagCondition.Roots)]
    [InlineData("percé, troué: 1,50", BagCondition.Torn)]
    public void A_mass_behind_what_became_of_its_bag_is_kept(string written, BagCondition condition)
    {
        string table = AskedSheet.Head("Before (g),After (g)") + AskedSheet.Bags("1", "2.40,1.30", "2.60,2.00")
            + AskedSheet.Bags("2", $"2.41,\"{written}\"", "2.61,2.01");
        BagRow bag = Fast(AskedSheet.Read(table), 2);
        Assert.Equal((1.50, condition), (bag.MassFinalGrams!.Value, bag.Condition!.Value));
    }

    [Fact]
    public void A_number_without_a_unit_may_be_ash_in_any_of_three_ways()
    {
        string table = AskedSheet.Head("Before (g),After (g),Ash") + AskedSheet.Bags("1", "2.40,1.30,0.09", "2.60,2.00,0.08")
            + AskedSheet.Bags("2", "2.42,1.31,0.1", "2.62,2.02,0.09");
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(["percent", "fraction", "mass", "other"], question.Choices.Select(choice => choice.Value));
        Assert.Null(question.Suggested);
        Assert.Equal([0.0009, 0.09, 0.1], new[] { "percent", "fraction", "mass" }
            .Select(answer => Fast(AskedSheet.Read(table, (question.Id, answer)), 1).AshFraction!.Value));
    }

    [Fact]
    public void Masses_without_their_ash_are_not_read_as_dry_ones()
    {
        string table = Plain.Replace("After (g)", "Ash-free after (g)", StringComparison.Ordinal);
        Assert.Equal(["ash-free"], AskedSheet.Ids(AskedSheet.Ask(table)));
        Inquiry refused = AskedSheet.Ask(table, ("ash-free", "yes"));
        Assert.Null(refused.Mapping);
        Assert.Single(refused.Findings);
    }

    [Fact]
    public void Grams_and_milligrams_in_one_column_are_asked_and_each_comes_out_in_grams()
    {
        string table = AskedSheet.Head("Before,After") + AskedSheet.Bags("1", "2.41,1.30", "2.61,2.01")
            + AskedSheet.Bags("2", "2420,1310", "2620,2020") + AskedSheet.Bags("3", "2.43,1.32", "2.63,2.03");
        Inquiry asked = AskedSheet.Ask(table);
        Assert.Equal(["number:Before", "number:After"], asked.Ids());
        Assert.Equal(["in g, and those of 2420 and more in mg", "in g, and those of 1310 and more in mg"],
            asked.Questions.Select(question => question.Choices.Single(choice => choice.Value == "mixed").Text));
        IReadOnlyList<BagRow> bags = AskedSheet.Read(table, ("number:Before", "mixed"), ("number:After", "mixed"));
        Assert.Equal([2.41, 2.61, 2.42, 2.62, 2.43, 2.63], bags.Select(bag => bag.MassInitialGrams!.Value));
        Assert.Equal([1.30, 2.01, 1.31, 2.02, 1.32, 2.03], bags.Select(bag => bag.MassFinalGrams!.Value));
    }

    // of the fast 2.41, 2.55, 2.36 the mean is 2.44 and of 1.31, 1.42, 1.27 it is 1.333; of the slow 2.633 and 2.043
    private static string WithMeans(string fast, string slow) => AskedSheet.Head("Before (g),After (g)")
        + AskedSheet.Bags("1", "2.41,1.31", "2.61,2.01") + AskedSheet.Bags("2", "2.55,1.42", "2.74,2.15")
        + AskedSheet.Bags("3", "2.36,1.27", "2.55,1.97") + AskedSheet.Bags("4", fast, slow);

    [Fact]
    public void A_row_with_an_id_of_its_own_whose_masses_are_both_means_of_the_bags_before_is_asked()
    {
        Inquiry asked = AskedSheet.Ask(WithMeans("2.44,1.33", "2.63,2.04"));
        Assert.Equal(["layout.aggregate:8", "layout.aggregate:9"], asked.Ids());
    }

    [Theory]
    [InlineData("2.44,1.36", "2.63,2.08")]
    [InlineData("2.47,1.33", "2.60,2.04")]
    public void A_bag_that_has_one_mass_of_the_mean_by_chance_is_not_asked_about(string fast, string slow) =>
        Assert.Empty(AskedSheet.Ask(WithMeans(fast, slow)).Ids());
}
