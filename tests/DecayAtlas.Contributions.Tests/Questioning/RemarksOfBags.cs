using DecayAtlas.Contributions.Tests.Layout;

namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Remarks and columns beside the masses that change what a mass means.</summary>
public class RemarksOfBags
{
    private const string Heads = "Loch,Ort,Lat,Long,schnell vorher (g),schnell nachher (g),langsam vorher (g),langsam nachher (g),vergraben,"
        + "ausgegraben,Bemerkung\n";

    private static string Row(int hole, string remark) => FormattableString.Invariant(
        $"{hole},Hecke,48.1,9.2,2.4{hole},1.3{hole},2.6{hole},2.0{hole},2025-05-14,2025-08-07,{remark}\n");

    private static string[] Conditions(string table, params (string, string)[] answers) => [.. AskedSheet.Tables(table, answers).Bags
        .Where(bag => bag.Condition is not null).Select(bag => $"{bag.BurialId} {bag.LotId} {bag.Condition}")];

    [Theory]
    [InlineData("langsamer Beutel gerissen")]
    [InlineData("slow bag torn")]
    [InlineData("sachet lent déchiré")]
    public void A_remark_on_one_litter_is_of_its_bag_alone_and_makes_no_column_of_litters(string remark) =>
        Assert.Equal(["2 S Torn"], Conditions(Heads + Row(1, "") + Row(2, remark) + Row(3, "")));

    [Fact]
    public void A_remark_on_bag_b_is_of_the_slow_one()
    {
        string heads = Heads.Replace("schnell", "Beutel A", StringComparison.Ordinal).Replace("langsam", "Beutel B", StringComparison.Ordinal);
        Assert.Equal(["2 S Roots"], Conditions(heads + Row(1, "") + Row(2, "Wurzeln im Beutel B") + Row(3, "")));
    }

    [Theory]
    [InlineData("schnell: verloren")]
    [InlineData("schnell nicht wiedergefunden")]
    [InlineData("fast bag lost")]
    public void A_lost_bag_that_has_a_mass_is_asked_about(string remark)
    {
        string table = Heads + Row(1, "") + Row(2, remark) + Row(3, "Etikett verloren");
        Assert.Equal(["lost-yet-weighed:" + remark], AskedSheet.Ask(table).Ids());
        Assert.Equal(["2 F Lost"], Conditions(table, ("lost-yet-weighed:" + remark, "lost")));
        // what was weighed is not of the lost bag: of the six masses after, five are left
        Assert.Equal([1.31, 1.33, 2.01, 2.02, 2.03], AskedSheet.Read(table, ("lost-yet-weighed:" + remark, "lost"))
            .Select(bag => bag.MassFinalGrams).OfType<double>().Order());
        Assert.Empty(Conditions(table, ("lost-yet-weighed:" + remark, "-")));
    }

    [Theory]
    [InlineData("Moisture content at start %")]
    [InlineData("Humidité avant (%)")]
    [InlineData("Humedad inicial (%)")]
    [InlineData("Restfeuchte Start (%)")]
    public void Water_in_the_litter_is_no_mass_and_is_asked_about(string head)
    {
        string table = AskedSheet.Head($"Before (g),After (g),{head}") + AskedSheet.Bags("1", "2.40,1.30,6.0", "2.60,2.00,6.5")
            + AskedSheet.Bags("2", "2.41,1.31,6.1", "2.61,2.01,6.6");
        Assert.Equal(["moisture:" + head], AskedSheet.Ask(table).Ids());
        // per cent by hand
        Assert.Equal([0.060, 0.065, 0.061, 0.066], AskedSheet.Read(table, ("moisture:" + head, "percent"))
            .Select(bag => Math.Round(bag.MoistureInitialFraction!.Value, 9)));
    }

    [Fact]
    public void Entrada_and_salida_are_the_two_days()
    {
        string table = "Hoyo,Sitio,Lat,Long,Tipo,Antes (g),Después (g),Entrada,Salida\n" + AskedSheet.Bags("1", "2.40,1.30", "2.60,2.00")
            + AskedSheet.Bags("2", "2.41,1.31", "2.61,2.01");
        Assert.Empty(AskedSheet.Ask(table).Ids());
        Assert.All(AskedSheet.Read(table), bag =>
            Assert.Equal((new DateOnly(2025, 5, 14), new DateOnly(2025, 8, 12)), (bag.BuriedOn, bag.RetrievedOn)));
    }

    [Theory]
    [InlineData("feucht gewogen")]
    [InlineData("still damp")]
    [InlineData("pesé humide")]
    [InlineData("pesado húmedo")]
    [InlineData("weighed wet!")]
    [InlineData("nicht trocken gewogen")]
    public void A_remark_that_a_bag_was_weighed_wet_is_asked_about_and_makes_its_burial_doubtful(string remark)
    {
        string table = Heads + Row(1, "") + Row(2, remark) + Row(3, "");
        Assert.Equal(["weighed-wet"], AskedSheet.Ask(table).Ids());
        ContributionTables read = AskedSheet.Tables(table, ("weighed-wet", "last"));
        Assert.Equal(["2 F None", "2 S None"], read.Bags.Where(bag => bag.Drying != Drying.Oven)
            .Select(bag => $"{bag.BurialId} {bag.LotId} {bag.Drying}"));
        Assert.All(read.Bags, bag => Assert.Equal(Drying.Oven, bag.DryingInitial));
        // the wet one has no k, or one that is marked
        Assert.Equal(["1", "3"], CheckedBurial.Of(BurialRows.Of(read.Bags, read.Lots)).Where(burial => burial.RatePerDay is not null
            && !burial.Doubts.Contains("not-dried")).Select(burial => burial.BurialId));
        ReadResult dry = AskedSheet.Read(System.Text.Encoding.UTF8.GetBytes(table), "table.csv", "en", ("weighed-wet", "no"));
        Assert.All(dry.SoundRows!.Bags, bag => Assert.Equal(Drying.Oven, bag.Drying));
        Assert.Empty(dry.Warnings);
    }

    [Theory]
    [InlineData("schnell noch feucht", "2 F")]
    [InlineData("slow one still wet", "2 S")]
    public void Wet_litter_of_one_bag_is_of_that_bag_alone(string remark, string bag) => Assert.Equal([bag],
        AskedSheet.Read(Heads + Row(1, "") + Row(2, remark) + Row(3, ""), ("weighed-wet", "last"))
            .Where(read => read.Drying == Drying.None).Select(read => $"{read.BurialId} {read.LotId}"));

    // in hole 2 words or a star stand behind the last mass of the fast bag: of three holes that one weighing alone is meant
    private static string InCell(string beside, string line = "") => Heads + Row(1, "")
        + $"2,Hecke,48.1,9.2,2.42,1.32{beside},2.62,2.02,2025-05-14,2025-08-07,\n" + Row(3, "") + (line.Length > 0 ? $"\n\"{line}\"\n" : "");

    [Theory]
    [InlineData(" (feucht gewogen)", "")]
    [InlineData(" still wet", "")]
    [InlineData("*", "* pesé humide")]
    [InlineData("*", "* = pesado húmedo")]
    public void Wet_in_the_cell_of_a_mass_is_of_that_weighing(string beside, string line)
    {
        string table = InCell(beside, line);
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(("weighed-wet", "last"), (question.Id, question.Suggested));
        IReadOnlyList<BagRow> bags = AskedSheet.Read(table, ("weighed-wet", "last"));
        Assert.Equal(["2 F"], bags.Where(read => read.Drying == Drying.None).Select(read => $"{read.BurialId} {read.LotId}"));
        Assert.All(bags, bag => Assert.Equal(Drying.Oven, bag.DryingInitial));
        Assert.Contains(1.32, bags.Select(bag => bag.MassFinalGrams!.Value));
    }

    [Theory]
    [InlineData(" falsch abgelesen", "")]
    [InlineData("*", "* balance broken")]
    public void A_fault_in_the_cell_of_a_mass_is_of_that_bag_alone(string beside, string line)
    {
        string table = InCell(beside, line);
        Assert.Equal(["remark-of-fault:wrong"], AskedSheet.Ask(table).Ids());
        Assert.Equal([1.31, 1.33, 2.01, 2.02, 2.03], AskedSheet.Read(table, ("remark-of-fault:wrong", "leave-out"))
            .Select(bag => bag.MassFinalGrams).OfType<double>().Order());
        Assert.Equal(6, AskedSheet.Read(table, ("remark-of-fault:wrong", "as-written")).Count(bag => bag.MassFinalGrams is not null));
    }

    // 1.32 g are without the bag of 0.40 g, 2.42 g with it: of 2.02 g of litter 1.32 g are left
    [Theory]
    [InlineData(" (ohne Beutel)", "")]
    [InlineData("*", "* sans sachet")]
    public void Without_the_bag_in_the_cell_of_a_mass_is_of_that_weighing(string beside, string line)
    {
        string table = InCell(beside, line);
        Assert.Equal(["basis-cell:schnell nachher (g)"], AskedSheet.Ask(table).Ids());
        IReadOnlyList<BagRow> bags = AskedSheet.Read(table, ("basis-cell:schnell nachher (g)", "one"));
        BagRow said = bags.Single(bag => bag.BurialId == "2" && bag.LotId == "F");
        Assert.Equal((2.02, 1.32, MassBasis.Litter), (Math.Round(said.MassInitialGrams!.Value, 6), said.MassFinalGrams!.Value,
            said.MassBasis));
        Assert.All(bags.Where(bag => bag != said), bag => Assert.Equal(MassBasis.Gross, bag.MassBasis));
    }

    [Theory]
    [InlineData("soil still wet")]
    [InlineData("feuchter Boden")]
    [InlineData("sol encore humide")]
    [InlineData("not wet, weighed dry")]
    public void Wet_soil_is_no_wet_litter(string remark) =>
        Assert.Empty(AskedSheet.Ask(Heads + Row(1, "") + Row(2, remark) + Row(3, "")).Ids());

    [Fact]
    public void A_check_tells_of_a_remark_that_a_bag_was_weighed_wet()
    {
        ReadResult read = AskedSheet.Read(System.Text.Encoding.UTF8.GetBytes(Heads + Row(1, "") + Row(2, "feucht gewogen") + Row(3, "")),
            "table.csv", "de", ("weighed-wet", "last"));
        Assert.Equal([FindingCode.RemarkOfWet, FindingCode.RemarkOfWet], read.Warnings.Select(warning => warning.Code));
        Assert.All(read.Warnings, warning => Assert.Equal(3, warning.Row));
    }

    // three holes; a note hangs on the mass after of the fast bag in hole 2
    private static byte[] WithNote(string note)
    {
        string[] heads = Heads.TrimEnd().Split(',')[..^1];
        return LaidOut.Ods(Line(heads) + string.Concat(Enumerable.Range(1, 3).Select(hole =>
            Line(Row(hole, "").TrimEnd().Split(',')[..^1], hole == 2 ? note : ""))));

        static string Line(string[] cells, string note = "") => "<table:table-row>" + string.Concat(cells.Select((cell, i) =>
            $"<table:table-cell office:value-type=\"string\"><text:p>{cell}</text:p>"
            + (note.Length > 0 && i == 5 ? $"<office:annotation><text:p>{note}</text:p></office:annotation>" : "")
            + "</table:table-cell>")) + "</table:table-row>";
    }

    [Fact]
    public void A_note_on_a_cell_that_its_bag_was_lost_is_asked_about_and_its_mass_does_not_count()
    {
        byte[] book = WithNote("verloren, Wert vom Nachbarloch");
        const string id = "lost-yet-weighed:verloren, Wert vom Nachbarloch";
        Assert.Equal([id], AskedSheet.Of(book, "de").Ids());
        ContributionTables read = AskedSheet.Read(book, "table.ods", "de", (id, "lost")).SoundRows!;
        Assert.Equal(["2 F Lost"], read.Bags.Where(bag => bag.MassFinalGrams is null)
            .Select(bag => $"{bag.BurialId} {bag.LotId} {bag.Condition}"));
    }

    [Fact]
    public void A_note_on_a_cell_that_it_was_weighed_wet_is_of_that_bag()
    {
        ContributionTables read = AskedSheet.Read(WithNote("feucht gewogen"), "table.ods", "de", ("weighed-wet", "last")).SoundRows!;
        Assert.Equal(["2 F"], read.Bags.Where(bag => bag.Drying == Drying.None).Select(bag => $"{bag.BurialId} {bag.LotId}"));
        Assert.Equal(["not-dried"], CheckedBurial.Of(BurialRows.Of(read.Bags, read.Lots))[1].Doubts.Where(doubt => doubt == "not-dried"));
    }

    private static string Remarked(string head, string remark) => AskedSheet.Head("Before (g),After (g)").Replace("Dug up\n", $"Dug up,{head}\n",
        StringComparison.Ordinal) + $"1,meadow,48.1,9.2,fast,2.40,1.30,2025-05-14,2025-08-12,{remark}\n"
        + "1,meadow,48.1,9.2,slow,2.60,2.00,2025-05-14,2025-08-12,\n2,meadow,48.1,9.2,fast,2.41,1.31,2025-05-14,2025-08-12,\n"
        + "2,meadow,48.1,9.2,slow,2.61,2.01,2025-05-14,2025-08-12,\n";

    [Theory]
    [InlineData("Notes", "wet")]
    [InlineData("Bemerkung", "noch etwas feucht")]
    [InlineData("Remarques", "très humide")]
    [InlineData("Observaciones", "bolsa mojada")]
    [InlineData("Bemerkung Wägung nachher", "feucht und erdig")]
    [InlineData("Remark on weight after", "wet roots")]
    public void Wet_is_asked_about_though_the_remark_has_no_word_of_a_weighing(string head, string remark)
    {
        string table = Remarked(head, remark);
        Assert.Equal(["weighed-wet"], AskedSheet.Ask(table).Ids());
        Assert.Equal([Drying.None, Drying.Oven, Drying.Oven, Drying.Oven], AskedSheet.Read(table, ("weighed-wet", "last"))
            .Select(bag => bag.Drying!.Value));
    }

    [Theory]
    [InlineData("Notes", "wet meadow")]
    [InlineData("Notes", "not wet")]
    [InlineData("Notes", "wet weather, Tuesday")]
    [InlineData("Bemerkung", "Boden feucht")]
    public void Wet_ground_or_weather_is_none_of_the_litter(string head, string remark) =>
        Assert.Empty(AskedSheet.Ask(Remarked(head, remark)).Ids());

    [Theory]
    [InlineData("Ausgegraben erst am 28.7., Datum stimmt nicht!", "day")]
    [InlineData("dug up two weeks later than written", "day")]
    [InlineData("déterré plus tard qu’écrit", "day")]
    [InlineData("labels of fast and slow mixed up", "swapped")]
    [InlineData("ACHTUNG: schnell und langsam vertauscht", "swapped")]
    [InlineData("étiquettes inversées", "swapped")]
    [InlineData("etiquetas intercambiadas", "swapped")]
    [InlineData("weight after is wrong, balance broken", "wrong")]
    [InlineData("Waage 0,3 g zu hoch, nicht korrigiert", "wrong")]
    [InlineData("balance en panne, masse fausse", "wrong")]
    [InlineData("peso equivocado", "wrong")]
    [InlineData("Erde am Beutel, ca. 0,2 g", "soil")]
    [InlineData("bag full of soil", "soil")]
    [InlineData("de la terre collée sur le sachet", "soil")]
    [InlineData("tierra pegada a la bolsa", "soil")]
    [InlineData("forgot to subtract the bag", "wrong")]
    [InlineData("balance shows 0.3 g too much", "wrong")]
    [InlineData("Waage zeigt 0,3 g zu viel", "wrong")]
    [InlineData("la balanza marca 0,3 g de más", "wrong")]
    [InlineData("la balance affiche 0,3 g de trop", "wrong")]
    [InlineData("mal pesé", "wrong")]
    [InlineData("mass is for both bags together", "doubt")]
    [InlineData("control, never buried", "doubt")]
    [InlineData("copied from last year", "doubt")]
    [InlineData("estimated", "doubt")]
    [InlineData("half of the litter spilled on the floor", "doubt")]
    [InlineData("vom Vorjahr abgeschrieben", "doubt")]
    [InlineData("Kontrolle, nie vergraben", "doubt")]
    [InlineData("geschätzt", "doubt")]
    [InlineData("las dos bolsas juntas", "doubt")]
    [InlineData("copiado del año pasado", "doubt")]
    [InlineData("les deux sachets ensemble", "doubt")]
    [InlineData("témoin, jamais enterré", "doubt")]
    [InlineData("recopié de l’an passé", "doubt")]
    [InlineData("ignore this one", "void")]
    [InlineData("gilt nicht", "void")]
    [InlineData("nicht beachten", "void")]
    [InlineData("no contar", "void")]
    [InlineData("anulada", "void")]
    [InlineData("ne pas compter", "void")]
    [InlineData("non valable", "void")]
    [InlineData("annulé", "void")]
    public void A_remark_against_its_own_row_is_asked_about(string remark, string fault)
    {
        string table = Heads + Row(1, "") + Row(2, '"' + remark + '"') + Row(3, ""), id = "remark-of-fault:" + fault;
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(id, question.Id);
        Assert.Contains(remark, question.Text, StringComparison.Ordinal);
        Assert.Equal(3, Assert.Single(question.Seen).Row);
        // left out, hole 2 has no masses after; as written, all six are there
        Assert.Equal([1.31, 1.33, 2.01, 2.03], AskedSheet.Read(table, (id, "leave-out")).Select(bag => bag.MassFinalGrams).OfType<double>()
            .Order());
        ReadResult written = AskedSheet.Read(System.Text.Encoding.UTF8.GetBytes(table), "table.csv", "en", (id, "as-written"));
        Assert.Equal(6, written.SoundRows!.Bags.Count(bag => bag.MassFinalGrams is not null));
        // once more, among what is worth a look: the sender may come back to it
        Assert.Equal([fault == "void" ? "remark-not-to-use" : "remark-unread"],
            written.Warnings.Select(warning => warning.Code).Distinct());
        Inquiry mended = AskedSheet.Ask(table, (id, "mend"));
        Assert.Null(mended.Mapping);
        Assert.Single(mended.Findings);
    }

    // of the fast litter 2.42 and 1.32 g are true, of the slow one 2.62 and 2.02 g
    [Theory]
    [InlineData("swap", "2.62", "2.02", "2.42", "1.32")]
    [InlineData("swap-last", "2.42", "2.02", "2.62", "1.32")]
    [InlineData("as-written", "2.42", "1.32", "2.62", "2.02")]
    public void Bags_that_were_swapped_are_swapped_back(string answer, string fast, string fastAfter, string slow, string slowAfter)
    {
        (string, string) said = ("remark-of-fault:swapped", answer);
        string inOneRow = Heads + Row(1, "")
            + $"2,Hecke,48.1,9.2,{fast},{fastAfter},{slow},{slowAfter},2025-05-14,2025-08-07,labels of fast and slow mixed up\n" + Row(3, "");
        string inTwo = AskedSheet.Head("Before (g),After (g),Remarks") + AskedSheet.Bags("1", "2.41,1.31,", "2.61,2.01,")
            + AskedSheet.Bags("2", $"{fast},{fastAfter},swapped with the slow one", $"{slow},{slowAfter},")
            + AskedSheet.Bags("3", "2.43,1.33,", "2.63,2.03,");
        foreach (string table in new[] { inOneRow, inTwo })
        {
            ReadResult read = AskedSheet.Read(System.Text.Encoding.UTF8.GetBytes(table), "table.csv", "en", said);
            Assert.All(read.Warnings, warning => Assert.Equal(FindingCode.RemarkUnread, warning.Code));
            Assert.Equal([("F", 2.41, 1.31), ("F", 2.42, 1.32), ("F", 2.43, 1.33), ("S", 2.61, 2.01), ("S", 2.62, 2.02), ("S", 2.63, 2.03)],
                read.SoundRows!.Bags.Select(bag => (bag.LotId, bag.MassInitialGrams!.Value, bag.MassFinalGrams!.Value)).Order());
        }
    }

    [Fact]
    public void A_bag_whose_other_was_not_weighed_again_cannot_be_swapped_back()
    {
        string table = AskedSheet.Head("Before (g),After (g),Remarks") + AskedSheet.Bags("1", "2.41,1.31,", "2.61,2.01,")
            + AskedSheet.Bags("2", "2.42,1.32,swapped", "2.62,,") + AskedSheet.Bags("3", "2.43,1.33,", "2.63,2.03,");
        Assert.Equal(["as-written", "leave-out", "mend"], AskedSheet.Ask(table).Questions
            .Single(question => question.Id == "remark-of-fault:swapped").Choices.Select(choice => choice.Value));
    }

    [Theory]
    [InlineData("nothing wrong here")]
    [InlineData("nicht vertauscht")]
    [InlineData("Datum war falsch, korrigiert")]
    [InlineData("wrong day, corrected")]
    [InlineData("bag lay in the soil as planned")]
    [InlineData("Erde vom Beutel abgebürstet")]
    [InlineData("erreur type 0.02")]
    [InlineData("no error")]
    public void A_remark_that_nothing_is_wrong_or_was_set_right_is_not(string remark) =>
        Assert.Empty(AskedSheet.Ask(Heads + Row(1, "") + Row(2, '"' + remark + '"') + Row(3, "")).Ids());

    [Fact]
    public void A_fault_of_one_litter_leaves_the_other_bag_in()
    {
        string table = Heads + Row(1, "") + Row(2, "slow bag: weight is wrong") + Row(3, "");
        Assert.Equal([1.31, 1.32, 1.33, 2.01, 2.03], AskedSheet.Read(table, ("remark-of-fault:wrong", "leave-out"))
            .Select(bag => bag.MassFinalGrams).OfType<double>().Order());
    }

    [Theory]
    [InlineData("Achtung: Waage stand beim zweiten Wiegen 0.30 g zu hoch (nicht korrigiert)")]
    [InlineData("The balance read 0.3 g too high (not corrected)")]
    public void A_title_against_the_table_is_asked_about(string line)
    {
        string table = line + "\n" + Heads + Row(1, "") + Row(2, "") + Row(3, "");
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal("line-of-fault", question.Id);
        Assert.Contains(question.Seen, cell => line.EndsWith(cell.Text.Split(": ")[^1], StringComparison.Ordinal));
        Assert.Equal(6, AskedSheet.Read(table, ("line-of-fault", "as-written")).Count);
        Assert.Single(AskedSheet.Ask(table, ("line-of-fault", "mend")).Findings);
    }

    [Theory]
    [InlineData("After corrected (g)")]
    [InlineData("masse finale corrigée (g)")]
    [InlineData("Masse nachher korrigiert (g)")]
    [InlineData("masa final corregida (g)")]
    public void A_corrected_mass_goes_before_the_other_in_its_row(string head)
    {
        string table = AskedSheet.Head($"Before (g),After (g),{head}") + AskedSheet.Bags("1", "2.40,1.30,", "2.60,2.00,")
            + AskedSheet.Bags("2", "2.41,1.71,1.31", "2.61,2.41,2.01");
        Assert.Empty(AskedSheet.Ask(table).Ids());
        Assert.Contains("corrected-masses", AskedSheet.Told(AskedSheet.Ask(table)));
        Assert.Equal([1.30, 2.00, 1.31, 2.01], AskedSheet.Read(table).Select(bag => bag.MassFinalGrams!.Value));
    }

    [Theory]
    [InlineData("weighed before drying")]
    [InlineData("vor dem Trocknen gewogen")]
    [InlineData("pesada antes de secar")]
    [InlineData("pesé avant séchage")]
    [InlineData("forgot to dry it")]
    public void A_remark_that_the_litter_was_not_dried_is_one_of_wet_litter(string remark) =>
        Assert.Equal(["weighed-wet"], AskedSheet.Ask(Heads + Row(1, "") + Row(2, '"' + remark + '"') + Row(3, "")).Ids());

    private static Finding[] LooksAt(string table) => [.. AskedSheet.Read(System.Text.Encoding.UTF8.GetBytes(table), "table.csv", "en")
        .Warnings];

    // neither asked nor passed over: everything that nobody reads stands in one line
    [Fact]
    public void Remarks_that_nobody_reads_are_worth_one_look_together()
    {
        string table = Heads + Row(1, "mouse ate part") + Row(2, "filled by Rosa") + Row(3, "2.4 not 2.1") + Row(4, "beetles and many ants");
        Assert.Empty(AskedSheet.Ask(table).Ids());
        FindingGroup group = Assert.Single(FindingGroup.Of(LooksAt(table)));
        Assert.Equal("remark-unread", group.First.Code);
        string line = group.Line(SenderWords.Find("en")!);
        Assert.All(["mouse ate part", "filled by Rosa", "2.4 not 2.1"], said => Assert.Contains(said, line, StringComparison.Ordinal));
        Assert.DoesNotContain("ants", line, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("rainy and cold")]
    [InlineData("3 earthworms")]
    [InlineData("unter einer Eiche")]
    [InlineData("viele Ameisen")]
    [InlineData("junto al muro, mucha sombra")]
    [InlineData("sous un hêtre, sol humide")]
    [InlineData("ok")]
    [InlineData("-")]
    public void A_remark_of_the_weather_a_plant_or_an_animal_is_not(string remark) =>
        Assert.Empty(LooksAt(Heads + Row(1, "") + Row(2, '"' + remark + '"') + Row(3, "")));

    [Theory]
    [InlineData("dry?")]
    [InlineData("Anna")]
    [InlineData("dug up in June already")]
    public void Any_other_is(string remark) => Assert.Contains(
        LooksAt(Heads + Row(1, "") + Row(2, '"' + remark + '"') + Row(3, "")), warning => warning.Code == "remark-unread");
}
