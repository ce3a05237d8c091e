using System.Text;

namespace DecayAtlas.Contributions.Tests.Layout;

/// <summary>One way of writing a table at a time; what is right is what a person would read.</summary>
public class TablesOfPeople
{
    private const string Plain = "bag;site;litter;before (g);after (g)\nB1;Mire;fast;2,41;1,20\nB2;Mire;slow;2,62;1,98\n"
        + "B3;Slope;fast;2,40;1,31\nB4;Slope;slow;2,60;2,05\n";

    private static readonly string[] Bags = ["B1", "B2", "B3", "B4"];
    private static readonly string[] Sites = ["Mire", "Mire", "Slope", "Slope"];

    [Theory]
    [InlineData("Class 8b\nall masses in grams\n\n", "", "lines", 2)]
    [InlineData("School;Northfold\nBalance;0,01 g\n\n", "", "side-tables", 2)]
    [InlineData("", "\nWe lost two trowels.\n", "lines", 1)]
    [InlineData("", "Mean;;;2,5075;1,635\n", "aggregate-rows", 1)]
    [InlineData("", "Summe;;;10,03;6,54\nn;;;4;4\n", "aggregate-rows", 2)]
    [InlineData("", ";;;2,5075;1,635\n", "aggregate-rows", 1)]
    [InlineData("sep=;\n", "", "lines", 0)]
    public void What_stands_around_the_table_is_told_and_no_row(string above, string below, string told, int count)
    {
        TidyTable table = LaidOut.Of(above + Plain + below);
        Assert.Equal(Bags, table.Column("bag"));
        Assert.Equal(count, table.ToldOf(told));
    }

    private const string OfAClass = "bag;class;litter;before (g);after (g)\nB1;7a;fast;2,41;1,20\nB2;7a;slow;2,62;1,98\n"
        + "B3;7a;fast;2,37;1,33\nB4;7a;slow;2,55;2,05\nB5;7a;fast;2,44;1,26\nB6;7a;slow;2,60;2,11\n";

    /// <summary>Means by hand: (2.41 + 2.37 + 2.44) / 3 = 2.4067, (1.20 + 1.33 + 1.26) / 3 = 1.2633; of the slow bags 2.59 and
    /// 2.0467.</summary>
    [Theory]
    [InlineData("B5;7a;fast;2,41;1,26\n")]
    [InlineData("B7;7a;fast;2,407;1,263\nB8;7a;slow;2,590;2,047\n")]
    [InlineData("class mean;7a;fast;2,41;1,26\n")]
    [InlineData("Klassenmittel;7a;slow;2,59;2,05\n")]
    [InlineData("B6;7a;fast;7,22;3,79\n")]
    public void A_row_of_means_with_all_the_labels_of_bags_is_told_or_asked(string computed)
    {
        TidyTable table = LaidOut.Of(OfAClass + computed, ("layout.aggregate:8", "leave"));
        Assert.Equal(6, table.Rows.Count);
        Assert.Equal(computed.Count(c => c == '\n'), table.ToldOf("aggregate-rows"));
        if (!computed.Contains('m', StringComparison.Ordinal))
            Assert.Contains(table.Readings, reading => reading.Id == "layout.aggregate:8");
    }

    [Fact]
    public void A_bag_that_was_weighed_again_and_is_at_the_mean_is_asked_and_kept()
    {
        TidyTable table = LaidOut.Of(OfAClass + "B5;7a;fast;2,41;1,26\n");
        Assert.Equal(("layout.aggregate:8", "read"), (Assert.Single(table.Readings).Id, table.Readings[0].Suggested));
        Assert.Equal(7, table.Rows.Count);
    }

    [Fact]
    public void A_bag_that_is_near_the_mean_is_a_bag()
    {
        TidyTable table = LaidOut.Of(OfAClass + "B7;7a;fast;2,41;1,29\nB8;7a;slow;2,60;2,05\n");
        Assert.Equal(8, table.Rows.Count);
        Assert.Empty(table.Readings);
    }

    [Fact]
    public void A_row_of_units_gives_columns_their_units()
    {
        TidyTable table = LaidOut.Of("bag;before;after\n;mg;g\n1;2410;1,20\n2;2620;1,98\n");
        Assert.Equal([null, "mg", "g"], table.Columns.Select(column => column.Unit));
        Assert.Equal(2, table.Rows.Count);
    }

    [Fact]
    public void Names_in_two_rows_are_one_name()
    {
        TidyTable table = LaidOut.Of(";;fast;;slow;\nhole;site;before;after;before;after\n1;Mire;2,4;1,2;2,6;2,0\n2;Mire;2,4;1,3;2,6;2,1\n");
        Assert.Equal(["hole", "site", "fast before", "fast after", "slow before", "slow after"], table.Names());
    }

    [Fact]
    public void A_header_that_stands_again_is_no_row()
    {
        string[] lines = Plain.TrimEnd().Split('\n');
        TidyTable table = LaidOut.Of(string.Join('\n', lines[0], lines[1], lines[2], lines[0], lines[3], lines[4]));
        Assert.Equal(Bags, table.Column("bag"));
        Assert.Equal(1, table.ToldOf("header-repeated"));
    }

    [Fact]
    public void A_table_for_each_site_becomes_one_with_the_title_as_a_column()
    {
        TidyTable table = LaidOut.Of("Mire\nbag;before;after\nB1;2,4;1,2\nB2;2,6;2,0\n\nSlope\nbag;before;after\nB3;2,4;1,3\nB4;2,6;2,1\n");
        Assert.Equal(Bags, table.Column("bag"));
        Assert.Equal(Sites, table.Column("title"));
    }

    [Fact]
    public void Sheets_with_the_same_names_are_joined_and_others_by_their_key()
    {
        byte[] book = new XlsxMaker()
            .Sheet("Mire", ["bag", "lot", "before (g)"], ["B1", "F1", 2.4], ["B2", "S1", 2.6])
            .Sheet("Slope", ["bag", "lot", "before (g)"], ["B3", "F1", 2.4], ["B4", "S1", 2.6])
            .Sheet("Lots", ["lot", "tare (g)"], ["F1", 0.25], ["S1", 0.26]).ToBytes();
        TidyTable table = LaidOut.Of(book);
        Assert.Equal(Bags, table.Column("bag"));
        Assert.Equal(Sites, table.Column("sheet"));
        Assert.Equal(["0.25", "0.26", "0.25", "0.26"], table.Column("tare (g)"));
        Assert.Equal("Lots", table.Rows[3][Array.IndexOf(table.Names(), "tare (g)")].Place.Sheet);
    }

    [Fact]
    public void The_same_bags_on_two_sheets_are_asked_about()
    {
        byte[] book = new XlsxMaker()
            .Sheet("before", ["bag", "day", "mass (g)"], ["B1", "2024-05-01", 2.4], ["B2", "2024-05-01", 2.6])
            .Sheet("after", ["bag", "day", "mass (g)"], ["B1", "2024-08-01", 1.4], ["B2", "2024-08-01", 1.6]).ToBytes();
        TidyTable beside = LaidOut.Of(book);
        Assert.Equal(["bag", "day (before)", "mass (g) (before)", "day (after)", "mass (g) (after)"], beside.Names());
        Assert.Contains(beside.Readings, reading => reading.Id == "layout.same-keys");
        Assert.Equal(4, LaidOut.Of(book, ("layout.same-keys", "below")).Rows.Count);
    }

    [Fact]
    public void A_table_on_its_side_is_turned_and_knows_its_places()
    {
        TidyTable table = LaidOut.Of("Bag;B1;B2;B3;B4\nSite;Mire;Mire;Slope;Slope\nBuried;1.5.2024;1.5.2024;2.5.2024;2.5.2024\n"
            + "Before (g);2,4;2,6;2,4;2,6\nAfter (g);1,2;2,0;1,3;2,1\n");
        Assert.Equal(Bags, table.Column("Bag"));
        Assert.Equal(["1,2", "2,0", "1,3", "2,1"], table.Column("After (g)"));
        Assert.Equal((5, 3), (table.Rows[2][4].Place.Row, table.Rows[2][4].Place.Column));
    }

    [Theory]
    [InlineData("hole;litter;mass (g)\n1;fast;2,4\n;slow;2,6\n2;fast;2,4\n;slow;2,6\n", "blank-filled")]
    [InlineData("hole;litter;mass (g)\n1;fast;2,4\n\";slow;2,6\n2;fast;2,4\ndito;slow;2,6\n", "ditto-filled")]
    public void What_was_written_once_for_two_rows_stands_in_both(string csv, string told)
    {
        TidyTable table = LaidOut.Of(csv);
        Assert.Equal(["1", "1", "2", "2"], table.Column("hole"));
        Assert.Equal(2, table.ToldOf(told));
        Assert.Equal(2, table.Rows[1][0].Place.Row);
    }

    [Fact]
    public void Remarks_that_stand_here_and_there_are_not_filled_down()
    {
        TidyTable table = LaidOut.Of("bag;mass (g);remark\n1;2,4;torn\n2;2,6;\n3;2,4;\n4;2,6;wet\n");
        Assert.Equal(["torn", "", "", "wet"], table.Column("remark"));
    }

    [Fact]
    public void A_bag_with_nothing_but_its_number_stays_a_row()
    {
        TidyTable table = LaidOut.Of("bag;site;mass (g)\nB1;Mire;2,4\nB2;;\nB3;Mire;2,6\nMy own remark on this\n");
        Assert.Equal(["B1", "B2", "B3"], table.Column("bag"));
    }

    [Fact]
    public void A_lost_bag_in_the_first_row_is_no_row_of_names()
    {
        TidyTable table = LaidOut.Of("bag;site;litter;before;after\nB1;Mire;fast;lost;lost\nB2;Mire;slow;2,6;2,0\nB3;Mire;fast;2,4;1,2\n");
        Assert.Equal(["bag", "site", "litter", "before", "after"], table.Names());
        Assert.Equal(["B1", "B2", "B3"], table.Column("bag"));
    }

    [Fact]
    public void Days_may_be_the_names_of_columns_of_weighings()
    {
        TidyTable table = LaidOut.Of("bag;litter;12.05.2024;14.08.2024\nB1;fast;2,4;1,2\nB2;slow;2,6;2,0\n");
        Assert.Equal(["bag", "litter", "12.05.2024", "14.08.2024"], table.Names());
        Assert.Equal(2, table.Rows.Count);
    }

    [Fact]
    public void Lines_between_rows_name_those_below_and_a_small_table_may_follow_at_once()
    {
        TidyTable table = LaidOut.Of("Mire;;;\nbag;litter;before;after\n1;fast;2,4;1,2\n2;slow;2,6;2,0\nSlope;;;\n3;fast;2,4;1,2\n"
            + "4;slow;2,6;2,0\ntare fast;0,25;;\ntare slow;0,26;;\n");
        Assert.Equal(Sites, table.Column("title"));
        Assert.Equal(["tare fast", "tare slow"], table.Beside.Select(side => side.Columns[0].Name));
        Assert.Contains(table.Readings, reading => reading.Id == "layout.title-lines");
    }

    [Fact]
    public void A_form_is_one_record()
    {
        TidyTable table = LaidOut.Of("site;Mire\nlatitude;48,12\nburied;12.05.2024\nfast before (g);2,4\nfast after (g);1,3\n");
        Assert.Equal(["site", "latitude", "buried", "fast before (g)", "fast after (g)"], table.Names());
        Assert.Single(table.Rows);
    }

    [Fact]
    public void Decimal_commas_in_a_table_of_commas_are_not_read_one_cell_off()
    {
        (TidyTable? table, IReadOnlyList<Finding> findings) =
            LaidOut.Try(Encoding.UTF8.GetBytes("bag,site,before,after\nB1,Mire,2,41,1,20\nB2,Mire,2,62,1,98\n"));
        Assert.Null(table);
        Assert.Equal(FindingCode.RowWidth, Assert.Single(findings).Code);
    }

    [Theory]
    [InlineData("utf-16", true)]
    [InlineData("utf-16", false)]
    [InlineData("windows-1252", false)]
    [InlineData("utf-8", true)]
    public void Letters_are_read_however_they_are_stored(string name, bool hasMark)
    {
        Encoding encoding = CodePagesEncodingProvider.Instance.GetEncoding(name) ?? Encoding.GetEncoding(name);
        byte[] text = encoding.GetBytes("Beutel\tOrt\tvorher (g)\r\n1\tÖhmd ß\t2,4\r\n2\tÄule\t2,6\r\n");
        TidyTable table = LaidOut.Of([.. hasMark ? encoding.GetPreamble() : [], .. text]);
        Assert.Equal(["Öhmd ß", "Äule"], table.Column("Ort"));
    }

    [Fact]
    public void A_table_lined_up_with_spaces_keeps_its_empty_cells()
    {
        TidyTable table = LaidOut.Of("Dear all,\n\nhole  litter   before   after\n1     fast     2,42 g   1,00 g\n      slow     2,63 g\n"
            + "2     fast              1,08 g\n      slow     2,63 g   1,98 g\n\nBest wishes\n");
        Assert.Equal(["2,42 g", "2,63 g", "", "2,63 g"], table.Column("before"));
        Assert.Equal(["1,00 g", "", "1,08 g", "1,98 g"], table.Column("after"));
    }

    [Fact]
    public void What_is_no_table_is_told_in_a_sentence()
    {
        (_, IReadOnlyList<Finding> findings) = LaidOut.Try(Encoding.UTF8.GetBytes("Dear all,\nwe have nothing to send.\n"));
        Assert.Contains("2 lines and no columns", Assert.Single(findings).Found, StringComparison.Ordinal);
    }

    [Fact]
    public void A_header_row_that_was_said_counts_more_than_what_is_found()
    {
        (TidyTable? table, _) = LaidOut.Try(Encoding.UTF8.GetBytes("bag;site;mass\nnumber;name;g m\nB1;Mire;2,4\nB2;Mire;2,6\n"),
            LayoutWishes.None with { HeaderRow = 2, Separator = ';' });
        Assert.Equal("g m", table!.Names()[2].Split(' ', 2)[1]);
    }

    private static XlsxMaker Twice(string second, double lastAfter) => new XlsxMaker()
        .Sheet("Sheet1", ["bag", "litter", "before (g)", "after (g)"], ["B1", "fast", 2.41, 1.2], ["B2", "slow", 2.62, 1.98],
            ["B3", "fast", 2.37, 1.33], ["B4", "slow", 2.55, 2.05])
        .Sheet(second, ["bag", "litter", "before (g)", "after (g)"], ["B1", "fast", 2.41, 1.2], ["B2", "slow", 2.62, 1.98],
            ["B3", "fast", 2.37, 1.33], ["B4", "slow", 2.55, lastAfter]);

    [Fact]
    public void A_sheet_that_stands_twice_is_read_once_and_told()
    {
        TidyTable table = LaidOut.Of(Twice("Sheet1 (2)", 2.05).ToBytes());
        Assert.Equal(4, table.Rows.Count);
        Assert.Equal(4, table.ToldOf("copies"));
        Assert.Empty(table.Readings);
    }

    [Theory]
    [InlineData("Sheet1 (2)", "second", "2.15")]
    [InlineData("corrected", "first", "2.05")]
    [InlineData("korrigiert", null, "2.15")]
    public void Of_a_corrected_copy_the_sender_says_which_counts(string name, string? answer, string last)
    {
        byte[] book = Twice(name, 2.15).ToBytes();
        Question question = Assert.Single(LaidOut.Of(book).Readings);
        Assert.Equal("second", question.Suggested);
        Assert.Equal(["2.05", "2.15"], question.Seen.Select(cell => cell.Text));
        TidyTable table = answer is null ? LaidOut.Of(book) : LaidOut.Of(book, (question.Id, answer));
        Assert.Equal(4, table.Rows.Count);
        Assert.Equal(last, table.Column("after (g)")[3]);
        Assert.Equal(8, LaidOut.Of(book, (question.Id, "both")).Rows.Count);
    }

    [Theory]
    [InlineData("before (g);after (g)", "before (mg);after (mg)")]
    [InlineData("before [g];after [g]", "before in mg;after in mg")]
    public void Tables_in_grams_and_in_milligrams_keep_their_units(string first, string second)
    {
        TidyTable table = LaidOut.Of($"bag;litter;{first}\nB1;fast;2,41;1,20\nB2;slow;2,62;lost\n\nbag;litter;{second}\n"
            + "B3;fast;2371;1334\nB4;slow;2552;2051\n");
        Assert.Equal(Bags, table.Column("bag"));
        Assert.Equal(["2,41 g", "2,62 g", "2371 mg", "2552 mg"], table.Column("before"));
        Assert.Equal(["1,20 g", "lost", "1334 mg", "2051 mg"], table.Column("after"));
        Assert.Equal(4, table.ToldOf("units-of-tables"));
    }

    [Fact]
    public void Rows_of_units_that_differ_count_each_for_its_own_table()
    {
        TidyTable table = LaidOut.Of("bag;before;after\n;g;g\nB1;2,41;1,20\nB2;2,62;1,98\n\nbag;before;after\n;mg;mg\nB3;2371;1334\n"
            + "B4;2552;2051\n");
        Assert.Equal(["2,41 g", "2,62 g", "2371 mg", "2552 mg"], table.Column("before"));
    }

    [Fact]
    public void A_unit_that_changes_where_the_names_stand_again_holds_from_there()
    {
        TidyTable table = LaidOut.Of("bag;site;litter;lot;before (g);after (g)\nB1;Mire;fast;F;2,41;1,20\nB2;Mire;slow;S;2,62;1,98\n"
            + "bag;site;litter;lot;before (g);after (mg)\nB3;Slope;fast;F;2,37;1334\nB4;Slope;slow;S;2,55;2051\n");
        Assert.Equal(["1,20 g", "1,98 g", "1334 mg", "2051 mg"], table.Column("after"));
        Assert.Equal(["2,41", "2,62", "2,37", "2,55"], table.Column("before (g)"));
    }

    private static string Html(params string[] rows) => "<html><table>" + string.Concat(rows.Select(row => "<tr>" + string.Concat(row.Split(';')
        .Select(cell => cell.StartsWith("2:", StringComparison.Ordinal) ? $"<th colspan=2>{cell[2..]}</th>" : $"<td>{cell}</td>")) + "</tr>"))
        + "</table></html>";

    /// <summary>Litter over weighing over unit, as a merged cell and as one above the first of two.</summary>
    [Theory]
    [InlineData("2:fast;2:slow")]
    [InlineData("fast;;slow;")]
    public void Names_in_two_rows_and_units_in_a_third_are_one_name(string litters)
    {
        TidyTable table = LaidOut.Of(System.Text.Encoding.UTF8.GetBytes(Html($"hole;place;{litters};buried", ";;before;after;before;after;",
            ";;g;g;g;g;", "1;Au;2.41;1.31;2.61;2.01;2025-05-14", "2;Au;2.42;1.32;2.62;2.02;2025-05-14")));
        Assert.Equal(["hole", "place", "fast before", "fast after", "slow before", "slow after", "buried"], table.Names());
        Assert.Equal([null, null, "g", "g", "g", "g", null], table.Columns.Select(column => column.Unit));
        Assert.Equal(["2.41", "2.42"], table.Column("fast before"));
    }

    [Fact]
    public void Names_that_go_over_three_rows_below_a_group_are_one_name()
    {
        TidyTable table = LaidOut.Of(System.Text.Encoding.UTF8.GetBytes(Html("hole;litter;2:mass;2:day", ";;before;after;of;of",
            ";;burial (g);digging (g);burial;digging", "1;fast;2.41;1.31;2025-05-14;2025-08-12", "1;slow;2.61;2.01;2025-05-14;2025-08-12")));
        Assert.Equal(["hole", "litter", "mass before burial (g)", "mass after digging (g)", "day of burial", "day of digging"],
            table.Names());
    }

    // the first bag was lost, and nothing in its row is a number
    [Fact]
    public void A_first_row_of_words_is_no_row_of_names()
    {
        TidyTable table = LaidOut.Of("bag;litter;before (g);after (g)\nB1;fast;;lost\nB2;slow;2,6;2,0\nB3;fast;2,4;lost\nB4;slow;2,6;2,1\n");
        Assert.Equal(["B1", "B2", "B3", "B4"], table.Column("bag"));
    }
}
