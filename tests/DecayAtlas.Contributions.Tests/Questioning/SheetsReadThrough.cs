using System.Text;

namespace DecayAtlas.Contributions.Tests.Questioning;

/// <summary>Sheets from the first cell to the masses and conditions that stand in the contribution.</summary>
public class SheetsReadThrough
{
    private const string Head = "hole;site;lat;long;litter;before ({0});after ({0});buried;dug up\n";

    [Fact]
    public void A_table_in_grams_and_one_in_milligrams_come_out_in_grams()
    {
        string text = Head.Replace("{0}", "g", StringComparison.Ordinal)
            + "1;Au;48.1;9.2;fast;2.41;1.30;2025-05-14;2025-08-12\n1;Au;48.1;9.2;slow;2.62;2.05;2025-05-14;2025-08-12\n\n"
            + Head.Replace("{0}", "mg", StringComparison.Ordinal)
            + "2;Au;48.1;9.2;fast;2371;1334;2025-05-14;2025-08-12\n2;Au;48.1;9.2;slow;2552;2051;2025-05-14;2025-08-12\n";
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(text), "table.csv", "en");
        Assert.Empty(read.Findings);
        Assert.Equal([2.41, 2.62, 2.371, 2.552], read.SoundRows!.Bags.Select(bag => bag.MassInitialGrams!.Value));
        Assert.Equal([1.30, 2.05, 1.334, 2.051], read.SoundRows.Bags.Select(bag => bag.MassFinalGrams!.Value));
    }

    private static string Bags(string remarks, string fastAfter = "1.30", string slowAfter = "2.05", string of = "remarks") =>
        $"hole;site;lat;long;litter;before (g);after (g);buried;dug up;{of}\n"
        + $"1;Au;48.1;9.2;fast;2.41;{fastAfter};2025-05-14;2025-08-12;{remarks}\n"
        + $"1;Au;48.1;9.2;slow;2.62;{slowAfter};2025-05-14;2025-08-12;\n2;Au;48.1;9.2;fast;2.37;1.31;2025-05-14;2025-08-12;\n"
        + "2;Au;48.1;9.2;slow;2.55;2.04;2025-05-14;2025-08-12;\n";

    [Theory]
    [InlineData("do not use", FindingCode.RemarkNotToUse)]
    [InlineData("verworfen, nass", FindingCode.RemarkNotToUse)]
    [InlineData("No usar", FindingCode.RemarkNotToUse)]
    [InlineData("ne pas utiliser !", FindingCode.RemarkNotToUse)]
    [InlineData("zerrissen", FindingCode.DamagedBag)]
    [InlineData("bolsa rota", FindingCode.DamagedBag)]
    [InlineData("sachet d\u00E9chir\u00E9", FindingCode.DamagedBag)]
    [InlineData("rooted", FindingCode.DamagedBag)]
    [InlineData("a small hole", FindingCode.DamagedBag)]
    [InlineData("hole 3, near the fence", null)]
    [InlineData("not torn", null)]
    [InlineData("Loch 4 unter der Hecke", null)]
    public void What_remarks_say_of_a_bag_is_told_with_what_is_made_of_it(string remark, string? code)
    {
        // one by which a bag is not to count is asked about, and told where it counts all the same
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(Bags(remark)), "table.csv", "en",
            code == FindingCode.RemarkNotToUse ? [("remark-of-fault:void", "as-written")] : []);
        Assert.Equal(code is null ? [] : [(code, 2)], read.Warnings.Select(warning => (warning.Code, warning.Row!.Value)));
        Assert.NotNull(read.Contribution!.Bags[0].MassFinalGrams);
    }

    [Fact]
    public void What_was_weighed_of_a_lost_bag_gives_no_rate_and_is_told()
    {
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(Bags("lost", of: "condition")), "table.csv", "en");
        Finding warning = Assert.Single(read.Warnings);
        Assert.Equal((FindingCode.LostYetWeighed, "1.3 g"), (warning.Code, warning.Found));
        // the mass stays as it was sent; of the two holes the second alone has a k
        Assert.Equal(1.3, read.SoundRows!.Bags[0].MassFinalGrams);
        Assert.Equal([(CheckedBurial.BagLost, false), (null, true)], CheckedBurial.Of(read.Burials)
            .Select(burial => (burial.RateMissingBecause, burial.RatePerDay is not null)));
    }

    [Theory]
    [InlineData("en", "swapped")]
    [InlineData("de", "vertauscht")]
    [InlineData("es", "cambiadas")]
    [InlineData("fr", "intervertis")]
    public void Bags_that_may_be_swapped_are_told_to_be_looked_at_and_not_to_be_dug_up_earlier(string language, string word)
    {
        // the fast bag lost a tenth of its litter, the slow one more than a half
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(Bags("", "2.21", "1.35")), "table.csv", "en");
        CheckReport report = new CheckReport("table.csv", read, new DateOnly(2026, 1, 1)) with { IsConfirmed = true };
        CheckTelling telling = CheckTelling.Of(report, SenderWords.Find(language)!);
        Assert.Contains(telling.Then, line => line.Contains(word, StringComparison.Ordinal));
        // at what is left of the fast litter
        Assert.Equal([(2, "bags.mass_final_g")], report.Result.Warnings.Where(warning => warning.Code == FindingCode.LittersSwapped)
            .Select(warning => (warning.Row!.Value, warning.Field!)));
        Assert.Null(report.Burials[0].RateAtLeastPerDay);
    }

    // 2.400 mg is 2.4 g or 2.4 mg; no bag of a lot of 2 g weighs the second, and still it is a guess
    [Theory]
    [InlineData("en", "read as 2400 mg; 2600 mg")]
    [InlineData("es", "leído como 2400 mg; 2600 mg")]
    public void A_sign_that_was_taken_for_one_between_thousands_is_told_with_what_was_read(string language, string told)
    {
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(AskedSheet.Head("before (mg),after (mg)")
            + AskedSheet.Bags("1", "2.400,1.300", "2.600,2.050")), "table.csv", "en");

        Assert.Equal(2.4, read.Contribution!.Bags[0].MassInitialGrams);
        Finding guess = read.Warnings.First(warning => warning.Code == FindingCode.ThousandsRead);
        Assert.Contains("'2.400', '2.600'", guess.Found, StringComparison.Ordinal);
        Assert.Contains(told, FindingWords.Sentence(guess, SenderWords.Find(language)!), StringComparison.Ordinal);
    }

    private static string Cell(string text, string style = "", string inside = "") => text.Length == 0 ? "<table:table-cell/>"
        : char.IsAsciiDigit(text[0]) && text.Length < 5
            ? $"<table:table-cell office:value-type=\"float\" office:value=\"{text}\"{style}>{inside}<text:p>{text}</text:p></table:table-cell>"
            : $"<table:table-cell office:value-type=\"string\"{style}>{inside}<text:p>{text}</text:p></table:table-cell>";

    private static string Line(params string[] cells) => $"<table:table-row>{string.Concat(cells)}</table:table-row>";

    [Fact]
    public void A_coloured_cell_and_a_comment_on_a_cell_speak_of_their_own_bag()
    {
        const string yellow = " table:style-name=\"y\"",
            styles = "<style:style style:name=\"y\" style:family=\"table-cell\"><style:table-cell-properties "
                + "fo:background-color=\"#ffff00\"/></style:style>",
            torn = "<office:annotation><text:p>torn at the seam</text:p></office:annotation>";
        string[] Row(string hole, string fast, string slow, string style = "", string inside = "") =>
            [Cell(hole), Cell("Au"), Cell("48.1"), Cell("9.2"), Cell("2.4" + hole), Cell(fast, style, inside), Cell("2.6" + hole), Cell(slow),
                Cell("2025-05-14"), Cell("2025-08-12")];
        byte[] ods = Layout.LaidOut.Ods(Line([.. new[] { "hole", "site", "lat", "long", "fast before (g)", "fast after (g)",
                "slow before (g)", "slow after (g)", "buried", "dug up" }.Select(name => Cell(name))])
            + Line(Row("1", "1.31", "2.05")) + Line(Row("2", "1.33", "2.04", yellow)) + Line(Row("3", "1.35", "2.01", "", torn))
            + Line(Row("4", "1.29", "2.07")), styles);
        ReadResult read = AskedSheet.Read(ods, "table.ods", "en", ("colour:FFFF00", "lost"));
        Assert.Equal(
            [null, null, BagCondition.Lost, null, BagCondition.Torn, null, null, null],
            read.SoundRows!.Bags.OrderBy(bag => bag.BurialId).ThenBy(bag => bag.Role).Select(bag => bag.Condition));
        Assert.Equal(["torn at the seam"], read.SoundRows.Bags.Select(bag => bag.Notes).OfType<string>());
        Assert.Equal(1, read.SoundRows.Bags.Count(bag => bag.MassFinalGrams is null));
    }

    [Fact]
    public void A_hole_that_cannot_be_read_is_counted_as_such()
    {
        using Example example = new();
        string[][] rows = [.. File.ReadAllLines(example.FileAt("bags.csv")).Select(line => line.Split(','))];
        int burial = Array.IndexOf(rows[0], "burial_id"), mass = Array.IndexOf(rows[0], "mass_initial_g");
        foreach (string[] row in rows.Skip(1).Where(row => row[burial] == rows[1][burial]))
            row[mass] = "heavy";
        File.WriteAllLines(example.FileAt("bags.csv"), rows.Select(row => string.Join(',', row)));
        CheckReport report = new("a", example.Read(), Example.Today);
        Assert.False(report.IsValid);
        Assert.Equal((3, 1), (report.Summary!.Burials, report.Summary.BurialsNotRead));
        CheckTelling telling = CheckTelling.Of(report, SenderWords.Find("en")!);
        // the example's last bag came up with roots in it
        Assert.Equal(
        [
            "Burials that would give a result with what can be read so far: 2 of 4.",
            "Of these at most 1 of 2 count in the atlas as they stand.",
            "May not count: wood-1-1 (a bag came up torn or with roots in it).",
        ], telling.Then);
        Assert.Contains(("of these not read, since something must be mended", "1 of 4"), telling.Facts);
    }

    [Fact]
    public void A_hidden_column_may_have_no_width()
    {
        string[] head = ["hole", "site", "lat", "long", "litter", "before (g)", "after (g)", "buried", "dug up"];
        XlsxMaker maker = new XlsxMaker().Sheet("Bags", [.. head], ["1", "Au", 48.1, 9.2, "fast", 2.41, 1.3, "2025-05-14", "2025-08-12"],
            ["1", "Au", 48.1, 9.2, "slow", 2.62, 2.05, "2025-05-14", "2025-08-12"],
            ["2", "Au", 48.1, 9.2, "fast", 2.37, 1.31, "2025-05-14", "2025-08-12"],
            ["2", "Au", 48.1, 9.2, "slow", 2.55, 2.04, "2025-05-14", "2025-08-12"]);
        byte[] book = WithColumns(maker.ToBytes(), "<cols><col min=\"2\" max=\"2\" hidden=\"1\"/></cols>");
        Assert.Contains("layout-hidden-columns", Layout.LaidOut.Of(book).Told.Select(told => told.Code));
        Assert.Equal(4, AskedSheet.Read(book, "table.xlsx", "en").SoundRows!.Bags.Count);
    }

    private static byte[] WithColumns(byte[] book, string columns)
    {
        using MemoryStream bytes = new();
        bytes.Write(book);
        using (System.IO.Compression.ZipArchive archive = new(bytes, System.IO.Compression.ZipArchiveMode.Update, leaveOpen: true))
        {
            System.IO.Compression.ZipArchiveEntry part = archive.Entries.Single(entry => entry.FullName.Contains("worksheets/sheet",
                StringComparison.Ordinal));
            string text;
            using (StreamReader reader = new(part.Open()))
                text = reader.ReadToEnd();
            string name = part.FullName;
            part.Delete();
            using StreamWriter writer = new(archive.CreateEntry(name).Open());
            writer.Write(text.Replace("<sheetData>", columns + "<sheetData>", StringComparison.Ordinal));
        }
        return bytes.ToArray();
    }

    /// <summary>By hand for the first place: of the fast litter 48 % was lost and of the slow one 25 %; S = 1 - 0.48 / 0.8 = 0.4, the slow
    /// litter can lose 0.55 * 0.6 = 0.33, k = ln(0.33 / (0.75 - 0.67)) / 90 = 0.01575.</summary>
    [Theory]
    [InlineData("fast mass loss (% of litter);sd fast;slow mass loss (% of litter);sd slow", "48;0.3;25;0.2", "52;0.4;27;0.3")]
    [InlineData("fast remaining (% of litter);sd;slow remaining (% of litter);sd", "52;0.3;75;0.2", "48;0.4;73;0.3")]
    public void Means_with_their_scatter_are_read_as_such(string names, string first, string second)
    {
        string text = $"site;lat;long;n;{names};buried;dug up\nAu;48.1;9.2;6;{first};2025-05-14;2025-08-12\n"
            + $"Ried;48.2;9.3;5;{second};2025-05-14;2025-08-12\n";
        ReadResult read = AskedSheet.Read(Encoding.UTF8.GetBytes(text), "table.csv", "en");
        Assert.Empty(read.Findings);
        ResultRow row = read.SoundRows!.Results[0];
        Assert.Equal((6, 0.52, 0.003, 0.75, 0.002, "F", "S"), (row.Burials, row.FastRemainingMean, row.FastRemainingSd,
            row.SlowRemainingMean, row.SlowRemainingSd, row.FastLotId, row.SlowLotId));
        SeenRate rate = SeenBurials.Of(read.SoundRows, []).Rates[0];
        // what the scatter makes of a mean of ln k is below a hundredth here
        Assert.InRange(rate.RatePerDay!.Value, 0.0156, 0.0159);
        Assert.InRange(rate.Stabilisation!.Value, 0.399, 0.401);
    }
}
