namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Columns that are understood and stand beside others which say the same, or which nothing is read from.</summary>
public class ColumnsBeside
{
    // 14 May to 12 August 2025 are 17 + 30 + 31 + 12 = 90 days
    private static string Table(string first, string second) => AskedSheet.Head("Days,Soil pH,Before (g),After (g)")
        + AskedSheet.Bags("1", $"{first},6.1,2.41,1.30", $"{first},6.1,2.61,2.01")
        + AskedSheet.Bags("2", $"{second},6.2,2.42,1.31", $"{second},6.2,2.62,2.02");

    [Theory]
    [InlineData("90", "90")]
    [InlineData("91", "89")]
    public void Days_that_agree_with_the_dates_to_a_day_are_not_asked(string first, string second) =>
        Assert.Empty(AskedSheet.Ids(AskedSheet.Ask(Table(first, second))));

    [Fact]
    public void Days_that_do_not_fit_the_dates_are_asked_and_hold_for_those_rows_alone()
    {
        string table = Table("90", "60");
        Question question = Assert.Single(AskedSheet.Ask(table).Questions);
        Assert.Equal("days-apart", question.Id);
        Assert.Contains("60", question.Text, StringComparison.Ordinal);
        Assert.All(AskedSheet.Read(table, ("days-apart", "dates")), bag => Assert.Equal(new DateOnly(2025, 8, 12), bag.RetrievedOn));
        // 14 May and 60 days is 13 July
        Assert.Equal([new DateOnly(2025, 8, 12), new DateOnly(2025, 8, 12), new DateOnly(2025, 7, 13), new DateOnly(2025, 7, 13)],
            AskedSheet.Read(table, ("days-apart", "days")).Select(bag => bag.RetrievedOn!.Value));
    }

    [Fact]
    public void Days_alone_are_counted_from_the_burial()
    {
        string table = "Hole,Place,Lat,Long,Litter,Before (g),After (g),Buried,Days in soil\n"
            + "1,meadow,48.1,9.2,fast,2.41,1.30,2025-05-14,90\n1,meadow,48.1,9.2,slow,2.61,2.01,2025-05-14,90\n"
            + "2,meadow,48.1,9.2,fast,2.42,1.31,2025-05-15,91\n2,meadow,48.1,9.2,slow,2.62,2.02,2025-05-15,91\n";
        Assert.Equal([new DateOnly(2025, 8, 12), new DateOnly(2025, 8, 12), new DateOnly(2025, 8, 14), new DateOnly(2025, 8, 14)],
            AskedSheet.Read(table).Select(bag => bag.RetrievedOn!.Value));
    }

    [Fact]
    public void Every_column_that_is_not_read_is_told_by_name_in_one_sentence()
    {
        Told told = Assert.Single(AskedSheet.Ask(Table("90", "90")).Told, told => told.Code == "columns-not-read");
        Assert.Equal("2 columns are not read: Days, Soil pH.", told.Text);
    }

    private static string WithWater(string head) => AskedSheet.Head($"Before (g),After (g),{head}")
        + AskedSheet.Bags("1", "2.40,1.30,10", "2.60,2.00,8") + AskedSheet.Bags("2", "2.41,1.31,10", "2.61,2.01,8");

    [Theory]
    [InlineData("Moisture (%)")]
    [InlineData("Feuchte (%)")]
    [InlineData("Humedad (%)")]
    [InlineData("Humidité (%)")]
    public void Water_that_is_said_of_no_weighing_is_asked_and_taken_off_before_a_drying_that_is_said_of_all(string head)
    {
        string table = WithWater(head);
        Inquiry asked = AskedSheet.Ask(table);
        Assert.Equal(["moisture-of:" + head], asked.Ids());
        // it may yet be read
        Assert.DoesNotContain("columns-not-read", AskedSheet.Told(asked));
        ContributionTables read = AskedSheet.Tables(table, ("moisture-of:" + head, "last"), ("moisture:" + head, "percent"));
        Assert.All(read.Bags, bag => Assert.Equal(Drying.Oven, bag.Drying));
        // without the bag of 0.4 g: 0.90 g, of which 10 % are water, of 2.00 g; 1.60 g with 8 % of 2.20 g
        CheckedBurial burial = CheckedBurial.Of(BurialRows.Of(read.Bags, read.Lots))[0];
        Assert.Equal((0.405, 0.66909), (Math.Round(burial.FastRemaining!.Value, 5), Math.Round(burial.SlowRemaining!.Value, 5)));
        Assert.All(AskedSheet.Read(table, ("moisture-of:" + head, "other")), bag => Assert.Null(bag.MoistureFinalFraction));
    }

    private static string Places(string head, string first, string second) =>
        $"{head},Lat,Long,Hole,Litter,Before (g),After (g),Buried,Dug up\n"
        + $"{first},48.1,9.2,1,fast,2.40,1.30,2025-05-14,2025-08-12\n{first},48.1,9.2,1,slow,2.60,2.00,2025-05-14,2025-08-12\n"
        + $"{second},48.2,9.3,1,fast,2.41,1.31,2025-05-14,2025-08-12\n{second},48.2,9.3,1,slow,2.61,2.01,2025-05-14,2025-08-12\n";

    [Theory]
    [InlineData("Site ID,Place", "M1,Lower meadow", "W2,Beech wood")]
    [InlineData("Place,Site ID", "Lower meadow,M1", "Beech wood,W2")]
    [InlineData("Place,Site", "Lower meadow,M1", "Beech wood,W2")]
    public void Of_an_id_and_a_title_the_id_names_the_place_and_the_title_is_kept(string head, string first, string second)
    {
        string table = Places(head, first, second);
        Inquiry asked = AskedSheet.Ask(table);
        Assert.Contains("place-title", AskedSheet.Told(asked));
        Assert.DoesNotContain("columns-not-read", AskedSheet.Told(asked));
        Assert.Equal([("M1", "Lower meadow"), ("W2", "Beech wood")], AskedSheet.Tables(table).Sites.Select(site => (site.SiteId, site.Notes!)));
    }

    [Fact]
    public void A_farm_and_its_fields_are_no_two_names_of_one_place()
    {
        string table = Places("Site,Field", "Highfarm,north", "Highfarm,south");
        Assert.Contains("column:site", AskedSheet.Ask(table).Ids());
        Assert.Equal(["north", "south"], AskedSheet.Tables(table, ("column:site", "Field")).Sites.Select(site => site.SiteId));
    }

    // the lots of the campaign are F and S
    [Fact]
    public void Codes_of_litter_that_are_lots_of_the_campaign_are_known()
    {
        string table = (AskedSheet.Head("Before (g),After (g)").Replace("Litter", "litter_code", StringComparison.Ordinal)
            + AskedSheet.Bags("1", "2.40,1.30", "2.60,2.00") + AskedSheet.Bags("2", "2.41,1.31", "2.61,2.01"))
            .Replace("fast", "F", StringComparison.Ordinal).Replace("slow", "S", StringComparison.Ordinal);
        Assert.Equal([("F", LitterRole.Fast), ("S", LitterRole.Slow), ("F", LitterRole.Fast), ("S", LitterRole.Slow)],
            AskedSheet.Read(table).Select(bag => (bag.LotId, bag.Role)));
    }

    // of 2.00 g without the bag 45 % were lost: 0.4 g and 1.10 g; of 2.20 g 20 %: 0.4 g and 1.76 g
    [Theory]
    [InlineData("% of litter lost")]
    [InlineData("Verloren (%)")]
    [InlineData("Perdido (%)")]
    [InlineData("Perdu (%)")]
    public void A_share_that_was_lost_is_no_mass(string head)
    {
        string table = AskedSheet.Head($"Before (g),{head}") + AskedSheet.Bags("1", "2.40,45", "2.60,20")
            + AskedSheet.Bags("2", "2.40,50", "2.60,25");
        (string, string)[] answers = head.Contains("litter", StringComparison.Ordinal) ? [] : [("share-of", "litter")];
        Assert.Equal([1.50, 2.16, 1.40, 2.05], AskedSheet.Read(table, answers).Select(bag => bag.MassFinalGrams!.Value));
    }

    /// <summary>Two tables beside each other, each below its own line, and a line over both that is of both.</summary>
    [Fact]
    public void Of_tables_beside_each_other_a_line_over_one_is_of_that_alone()
    {
        string[] lines = ["Pré (48,112 N ; 9,215 E)\t\t\t\t\tVigne (48,120 N ; 9,231 E)",
            "A = rapide, B = lente. Enterrés le 14/05/2025, sortis le 12/08/2025", "Fosse\tSachet\tDépart (g)\tArrivée (g)\t\tFosse\tSachet\tDépart (g)\tArrivée (g)",
            "1\tA\t2,40\t1,30\t\t3\tA\t2,42\t1,32", "1\tB\t2,60\t2,00\t\t3\tB\t2,62\t2,02", "2\tA\t2,41\t1,31\t\t4\tA\t2,43\t1,33",
            "2\tB\t2,61\t2,01\t\t4\tB\t2,63\t2,03"];
        byte[] text = System.Text.Encoding.UTF8.GetBytes(string.Join('\n', lines));
        ReadResult read = AskedSheet.Read(text, "table.tsv", "fr", ("lines", "yes"));
        Assert.Empty(read.Findings);
        Assert.Equal([("1", 48.112), ("1", 48.112), ("2", 48.112), ("2", 48.112), ("3", 48.120), ("3", 48.120), ("4", 48.120), ("4", 48.120)],
            read.SoundRows!.Bags.Select(bag => (bag.BurialId, read.SoundRows.Sites.Single(site => site.SiteId == bag.SiteId)
                .DecimalLatitude)));
        Assert.All(read.SoundRows.Bags, bag => Assert.Equal((new DateOnly(2025, 5, 14), new DateOnly(2025, 8, 12)),
            (bag.BuriedOn, bag.RetrievedOn)));
    }
}
