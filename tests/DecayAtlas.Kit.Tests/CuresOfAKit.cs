namespace DecayAtlas.Kit.Tests;

/// <summary>What is plainly wrong is told with its cure, and with no other. Weights and places were written down beside it.</summary>
public class CuresOfAKit
{
    [Fact]
    public void Weights_in_each_others_cells_have_one_cure()
    {
        using FilledKit kit = new FilledKit("de").Hole("E5", 1.92).Hole("F5", 3.84);

        string line = Assert.Single(Tell(kit, "de").Look!.Lines);

        Assert.Contains("E5", line, StringComparison.Ordinal);
        Assert.Contains("Sind die zwei Gewichte vertauscht? Dann wären es vorher 3,84 g und nachher 1,92 g.", line,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_bag_that_gained_a_little_soil_is_not_told_to_be_swapped()
    {
        using FilledKit kit = new FilledKit("en").Hole("H5", 4.74).Hole("I5", 4.90);

        Assert.DoesNotContain(kit.Read().Warnings, warning => warning.Code == "weighings-swapped");
    }

    // 53.3 N, 7.5 W lies in Ireland; 7.5 S, 53.3 E in the Indian Ocean, some hundred kilometres off Seychelles
    [Theory]
    [InlineData("de", "Sind Breite und Länge vertauscht? Die Breite wäre 53,31025, die Länge -7,51.")]
    [InlineData("en", "Are latitude and longitude swapped? The latitude would be 53.31025, the longitude -7.51.")]
    public void A_latitude_in_the_cell_of_the_longitude_is_told_with_both(string language, string cure)
    {
        using FilledKit kit = new FilledKit(language).Place("B5", -7.51).Place("C5", 53.31025);

        Finding told = Assert.Single(kit.Read().Warnings);

        Assert.Equal(("coordinates-swapped", "B5"), (told.Code, told.Cell));
        Assert.Contains(cure, Assert.Single(Tell(kit, language).Look!.Lines), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("B5", "37.389.092")]
    [InlineData("C5", "-5.984.459")]
    public void Signs_between_thousands_are_the_fault_that_is_told(string cell, string typed)
    {
        using FilledKit kit = new FilledKit("es").Place(cell, typed);

        string line = Assert.Single(Tell(kit, "es").Mend!.Lines);

        Assert.Contains("un solo signo decimal como máximo, sin signos ni espacios entre los millares", line, StringComparison.Ordinal);
    }

    [Fact]
    public void A_blank_between_thousands_is_told_so_and_a_remark_is_told_otherwise()
    {
        using FilledKit kit = new FilledKit("fr").Hole("E5", "3 010").Hole("H5", "4,74 environ !");

        string[] lines = [.. Tell(kit, "fr").Mend!.Lines];

        Assert.Contains(lines, line => line.Contains("E5", StringComparison.Ordinal)
            && line.Contains("ni espace", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.Contains("H5", StringComparison.Ordinal)
            && !line.Contains("ni espace", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(8, 5.9, 1)]
    [InlineData(8, 6.0, 0)]
    [InlineData(8, 10.0, 0)]
    [InlineData(8, 10.1, 1)]
    [InlineData(8, 80.0, 1)]
    [InlineData(12, 12.0, 0)]
    [InlineData(12, 80.0, 1)]
    public void A_depth_that_the_protocol_does_not_count_is_foretold(int planned, double depth, int doubted)
    {
        Dictionary<string, string> bags = new(ExampleKits.Campaign.Bags) { ["depth_cm"] = $"{planned}" };
        using FilledKit kit = new FilledKit("de", ExampleKits.Campaign with { Bags = bags }).Hole("L5", depth);

        CheckReport report = Check(kit);

        Assert.Equal(Enumerable.Repeat("depth-out-of-range", doubted), Assert.Single(report.Burials).Doubts);
        Assert.Equal(doubted, CheckTelling.Of(report, SenderWords.Find("de")!).Then.Count(line =>
            line.Contains($"nicht 6 bis {Math.Max(10, planned)} cm tief", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("es", "lugar cálido", "mire el lugar «lugar cálido»")]
    [InlineData("fr", "lieu chaud", "à revoir\u00a0: lieu «\u00a0lieu chaud\u00a0»")]
    [InlineData("de", "warmer Ort", "seht den Ort „warmer Ort“ an")]
    public void A_place_to_look_at_stands_in_quotation_marks(string language, string name, string said)
    {
        // 60 N, 30 W is in the Atlantic
        using FilledKit kit = new FilledKit(language).Place("A5", name).Hole("B5", name).Place("B5", 60).Place("C5", -30);

        Assert.Contains(said, Tell(kit, language).Gate!.Rows.Select(row => row[3]));
    }

    [Fact]
    public void A_place_whose_position_cannot_be_read_is_still_called_by_its_name()
    {
        using FilledKit kit = new FilledKit("es").Place("A5", "lugar cálido").Hole("B5", "lugar cálido").Place("B5", "37.389.092");

        Assert.Equal("lugar cálido", Assert.Single(Tell(kit, "es").Results!.Rows)[1]);
    }

    [Theory]
    [InlineData("de", "nicht vor dem 1. Januar 1990 und nicht nach dem 31. Dezember 2100")]
    [InlineData("es", "no antes del 1 de enero de 1990 ni después del 31 de diciembre de 2100")]
    [InlineData("fr", "entre le 1er janvier 1990 et le 31 décembre 2100")]
    public void A_cell_for_days_says_them_with_their_articles(string language, string said)
    {
        using FilledKit kit = new(language);
        kit.Read();
        using System.IO.Compression.ZipArchive book = System.IO.Compression.ZipFile.OpenRead(kit.File);
        using StreamReader holes = new(book.GetEntry("xl/worksheets/sheet3.xml")!.Open());

        Assert.Contains(said, holes.ReadToEnd(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("oven", true)]
    [InlineData("air", false)]
    public void The_first_drying_has_the_degrees_of_the_same_way_of_drying(string first, bool hasDegrees)
    {
        Dictionary<string, string> bags = new(ExampleKits.Campaign.Bags)
        {
            ["drying_initial"] = first,
            ["drying"] = "oven",
            ["drying_temperature_c"] = "60",
        };
        GroupKit kit = GroupKit.Of(ExampleKits.Campaign with { Bags = bags }, "campaign.yaml", PaperSize.A4, "moss-watchers", "de")
            .Single();

        string said = kit.Protocol.Single(line => line.What == "Trocknen vor dem ersten Wiegen").Said;

        Assert.Equal(hasDegrees ? "im Ofen, 60 °C" : "an der Luft", said);
        Assert.Equal(hasDegrees, ExampleKits.Page("weighing", kit).Split("60 °C").Length > 2);
    }

    private static CheckReport Check(FilledKit kit) => new("sheet.xlsx", kit.Read(), new DateOnly(2028, 1, 1));

    private static CheckTelling Tell(FilledKit kit, string language) => CheckTelling.Of(Check(kit), SenderWords.Find(language)!);
}
