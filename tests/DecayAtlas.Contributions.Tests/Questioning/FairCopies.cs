using System.Globalization;
using System.Text;

namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>A field book and its fair copy: the same bags twice, of which each counts once. How many there are, and what the copy mended,
/// is known from how the tables are made.</summary>
public class FairCopies
{
    private static string Hole(int hole, string slowAfter) => AskedSheet.Bags(hole.ToString(CultureInfo.InvariantCulture),
        $"2.4{hole},1.3{hole}", $"2.6{hole},{slowAfter}");

    private static string Rows(string slowAfterOfThree, params int[] holes) =>
        string.Concat(holes.Select(hole => Hole(hole, hole == 3 ? slowAfterOfThree : $"2.0{hole}")));

    private static string Twice(string first, string second, string rows) => $"{first}\n{AskedSheet.Head("Before (g),After (g)")}"
        + $"{Rows("1.23", 1, 2, 3, 4)}\n{second}\n{AskedSheet.Head("Before (g),After (g)")}{rows}";

    private static IReadOnlyList<double> SlowAfter(IEnumerable<BagRow> bags) => [.. bags.Where(bag => bag.LotId == "S")
        .OrderBy(bag => bag.BurialId, StringComparer.Ordinal).Select(bag => bag.MassFinalGrams!.Value)];

    [Theory]
    [InlineData("Feldbuch", "Reinschrift (berichtigt)")]
    [InlineData("carnet de terrain", "au propre")]
    [InlineData("cuaderno", "en limpio")]
    [InlineData("field book", "fair copy")]
    [InlineData("Monday", "Tuesday")]
    public void Which_of_the_two_counts_is_asked_whatever_they_are_called(string first, string second)
    {
        string table = Twice(first, second, Rows("2.03", 1, 2, 3, 4));
        Question asked = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(("copied", "second"), (asked.Id, asked.Suggested));
        ContributionTables mended = AskedSheet.Tables(table, ("copied", "second"));
        Assert.Single(mended.Sites);
        Assert.Equal([2.01, 2.02, 2.03, 2.04], SlowAfter(mended.Bags));
        Assert.Equal([2.01, 2.02, 1.23, 2.04], SlowAfter(AskedSheet.Tables(table, ("copied", "first")).Bags));
    }

    [Fact]
    public void A_copy_in_another_order_is_found_too()
    {
        string table = Twice("book", "sorted", Rows("2.03", 4, 3, 2, 1));
        Assert.Equal(["copied"], AskedSheet.Ask(table).Ids());
        Assert.Equal([2.01, 2.02, 2.03, 2.04], SlowAfter(AskedSheet.Tables(table, ("copied", "second")).Bags));
    }

    private static string Holes(params string[] holes) => AskedSheet.Head("Before (g),After (g)") + string.Concat(holes.Index()
        .Select(hole => AskedSheet.Bags($"{hole.Index + 1}", hole.Item.Split(' ')[0], hole.Item.Split(' ')[1])));

    // hole 4 has the four weighings of hole 2, which scatter by tenths of a gram and are written to hundredths
    [Fact]
    public void One_hole_that_repeats_another_is_asked_about()
    {
        string table = Holes("2.31,1.28 2.66,2.11", "2.44,1.35 2.52,1.94", "2.38,1.47 2.71,2.08", "2.44,1.35 2.52,1.94",
            "2.29,1.19 2.58,2.02");
        Question asked = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal(("copied", (string?)null), (asked.Id, asked.Suggested));
        Assert.Equal([2.11, 1.94, 2.08, 2.02], SlowAfter(AskedSheet.Read(table, ("copied", "first"))));
        Assert.Equal([2.11, 2.08, 1.94, 2.02], SlowAfter(AskedSheet.Read(table, ("copied", "second"))));
        Assert.Equal(10, AskedSheet.Read(table, ("copied", "both")).Count);
    }

    // filled to the same mass and read to a tenth, every second hole is like another one
    [Fact]
    public void Holes_that_are_alike_by_chance_are_not_asked_about() => Assert.DoesNotContain(AskedSheet.Ask(Holes("2.4,1.3 2.6,2.0",
        "2.4,1.2 2.6,2.1", "2.4,1.4 2.6,1.9", "2.4,1.3 2.6,2.0", "2.4,1.1 2.6,2.0")).Ids(), id => id.StartsWith("copied",
            StringComparison.Ordinal));

    [Fact]
    public void A_row_of_k_and_S_that_repeats_another_is_asked_about()
    {
        const string Rates = "Place,Lat,Long,k per day,S,n,Buried,Dug up\nMire,48.1,9.2,0.0213,0.312,5,2025-05-14,2025-08-12\n"
            + "Heath,48.3,9.4,0.0157,0.244,5,2025-05-14,2025-08-12\nMoor,48.5,9.6,0.0184,0.281,5,2025-05-14,2025-08-12\n"
            + "Fen,48.7,9.8,0.0157,0.244,5,2025-05-14,2025-08-12\n";
        (string, string) method = ("method", "two-litter");
        Assert.Equal(["copied-rates"], AskedSheet.Ask(Rates, method).Ids());
        Assert.Equal(["Mire", "Heath", "Moor"], AskedSheet.Tables(Rates, method, ("copied-rates", "first")).Results
            .Select(result => result.SiteId));
        Assert.Equal(4, AskedSheet.Tables(Rates, method, ("copied-rates", "both")).Results.Count);
    }

    [Fact]
    public void On_a_sheet_of_its_own_the_other_is_left_out_and_told()
    {
        object?[][] Sheet(string slowAfterOfThree) =>
        [
            ["Hole", "Lat N", "Long E", "Buried", "Dug up", "Fast before (g)", "Fast after (g)", "Slow before (g)", "Slow after (g)"],
            .. Enumerable.Range(1, 4).Select(hole => (object?[])
            [
                (double)hole, 48.1, 9.2, "2025-05-14", "2025-08-12", 2.4 + hole / 100.0, 1.3 + hole / 100.0, 2.6 + hole / 100.0,
                hole == 3 ? double.Parse(slowAfterOfThree, CultureInfo.InvariantCulture) : 2 + hole / 100.0,
            ]),
        ];
        byte[] book = new XlsxMaker().Sheet("eins", Sheet("1.23")).Sheet("zwei", Sheet("2.03")).ToBytes();
        Question asked = AskedSheet.Of(book, "de").Questions[0];
        Assert.Contains("cop", asked.Id, StringComparison.Ordinal);
        Assert.Equal([2.01, 2.02, 2.03, 2.04], SlowAfter(AskedSheet.Read(book, "table.xlsx", "de", (asked.Id, "second")).SoundRows!.Bags));
    }

    private static object?[][] SheetOf(params (int Hole, double SlowAfter)[] holes) =>
    [
        ["Hole", "Litter", "Before (g)", "After (g)", "Buried", "Dug up", "Lat N", "Long E"],
        .. holes.SelectMany(one => new object?[][]
        {
            [(double)one.Hole, "fast", 2.4 + one.Hole / 100.0, 1.3 + one.Hole / 100.0, "2025-05-14", "2025-08-12", 48.1, 9.2],
            [(double)one.Hole, "slow", 2.6 + one.Hole / 100.0, one.SlowAfter, "2025-05-14", "2025-08-12", 48.1, 9.2],
        }),
    ];

    private static IEnumerable<string> Read(byte[] book, params (string, string)[] answers) =>
        AskedSheet.Read(book, "table.xlsx", "en", answers).SoundRows!.Bags.Where(bag => bag.Role == LitterRole.Slow)
            .Select(bag => $"{bag.BurialId} {bag.MassFinalGrams:0.00}").Order(StringComparer.Ordinal);

    [Theory]
    [InlineData(1, 2)]
    [InlineData(2, 4)]
    public void A_later_sheet_of_the_mended_bags_alone_leaves_the_others_as_they_were(int one, int other)
    {
        byte[] book = new XlsxMaker().Sheet("Sheet1", SheetOf([.. Enumerable.Range(1, 4).Select(hole =>
            (hole, hole == one || hole == other ? 2.45 : 2 + hole / 100.0))]))
            .Sheet("Sheet1 (2)", SheetOf((one, 2 + one / 100.0), (other, 2 + other / 100.0))).ToBytes();
        Question asked = Assert.Single(AskedSheet.Of(book, "en").Questions);
        Assert.Equal("second-over-first", asked.Suggested);
        Assert.Equal(["1 2.01", "2 2.02", "3 2.03", "4 2.04"], Read(book, (asked.Id, "second-over-first")));
        // who wants the second alone is told what is lost with the first
        Inquiry alone = AskedSheet.Of(book, "en", (asked.Id, "second"));
        Assert.Equal(4, alone.Told.Single(told => told.Code == "layout-copies-lost").Count);
    }

    [Theory]
    [InlineData("Daten", "Daten (alt)", "first")]
    [InlineData("Daten (alt)", "Daten", "second")]
    [InlineData("data old", "data", "second")]
    [InlineData("données", "données (ancien)", "first")]
    [InlineData("datos", "datos (antiguo)", "first")]
    public void A_sheet_that_is_called_old_is_not_suggested(string first, string second, string likely)
    {
        byte[] book = new XlsxMaker().Sheet(first, SheetOf((1, 2.01), (2, 2.02), (3, 2.03), (4, 2.04)))
            .Sheet(second, SheetOf((1, 2.31), (2, 2.32), (3, 2.33), (4, 2.04))).ToBytes();
        Assert.Equal(likely, Assert.Single(AskedSheet.Of(book, "en").Questions).Suggested);
    }

    [Fact]
    public void A_fair_copy_with_other_names_of_columns_is_found_by_its_numbers()
    {
        object?[][] Sheet(object?[] head, double ofThree) =>
        [
            head, .. Enumerable.Range(1, 5).Select(hole => (object?[])
            [
                (double)hole, 48.1, 9.2, "2025-05-14", "2025-08-12", 2.4 + hole / 100.0, 1.3 + hole / 100.0, 2.6 + hole / 100.0,
                hole == 3 ? ofThree : 2 + hole / 100.0,
            ]),
        ];
        byte[] book = new XlsxMaker().Sheet("Feldbuch", Sheet(["Loch", "Breite N", "Länge E", "eingegraben", "ausgegraben",
            "schnell vorher g", "schnell nachher g", "langsam vorher g", "langsam nachher g"], 1.23)).Sheet("Reinschrift", Sheet(["Nr.",
            "geogr. Breite (°N)", "geogr. Länge (°E)", "Tag der Vergrabung", "Tag der Bergung", "Schnelle Streu Einwaage (g)",
            "Schnelle Streu Auswaage (g)", "Langsame Streu Einwaage (g)", "Langsame Streu Auswaage (g)"], 2.03)).ToBytes();
        Question asked = Assert.Single(AskedSheet.Of(book, "de").Questions);
        Assert.Equal(("layout.copies:Feldbuch / Reinschrift", "second"), (asked.Id, asked.Suggested));
        Assert.Equal([2.01, 2.02, 2.03, 2.04, 2.05], SlowAfter(AskedSheet.Read(book, "table.xlsx", "de", (asked.Id, "second"))
            .SoundRows!.Bags));
        Assert.Equal(1.23, SlowAfter(AskedSheet.Read(book, "table.xlsx", "de", (asked.Id, "first")).SoundRows!.Bags)[2]);
    }

    [Fact]
    public void A_second_table_in_one_folder_is_told_and_not_read()
    {
        string book = AskedSheet.FileOf(AskedSheet.Head("Before (g),After (g)") + Rows("2.03", 1, 2, 3, 4));
        File.WriteAllText(Path.ChangeExtension(book, ".mapping.yaml"), AskedSheet.Of(book, "en", [], AskedSheet.Campaign).Mapping);
        File.Copy(book, Path.Combine(Path.GetDirectoryName(book)!, "fair copy.csv"));
        ReadResult read = ContributionReader.Read(Path.GetDirectoryName(book)!, IntakeLimits.Default);
        Assert.Equal(8, read.SoundRows!.Bags.Count);
        Finding told = Assert.Single(read.Warnings);
        Assert.Equal((FindingCode.TableBeside, "fair copy.csv"), (told.Code, told.File));
    }

    // 8 holes are read where both are said to count, and what is weighed twice is seen before it is called well
    [Fact]
    public void Who_says_that_both_count_is_shown_what_is_weighed_alike()
    {
        string others = Rows("2.03", 1, 2, 3, 4).Replace(",meadow", "0,meadow", StringComparison.Ordinal);
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(Twice("book", "other holes", others)), "table.csv", "en",
            ("copied", "both"));
        PlausibilityLine again = Plausibility.Of(read.SoundRows!, CheckedBurial.Of(read.Burials), new DateOnly(2026, 1, 1))
            .Single(line => line.Code == "weighed-once");
        Assert.Equal((8, 3), (again.Of, again.Outside.Count));
    }
}
