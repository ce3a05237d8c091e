using System.Text;

namespace DecayAtlas.Contributions.Tests.Layout;

/// <summary>What a person sees of a sheet besides its values.</summary>
public class LooksOfCells
{
    private const string Header = "<table:table-row><table:table-cell office:value-type=\"string\"><text:p>bag</text:p></table:table-cell>"
        + "<table:table-cell office:value-type=\"string\"><text:p>mass (g)</text:p></table:table-cell></table:table-row>";

    private const string Styles = "<style:style style:name=\"y\" style:family=\"table-cell\"><style:table-cell-properties "
        + "fo:background-color=\"#ffff00\"/></style:style><style:style style:name=\"s\" style:family=\"table-cell\">"
        + "<style:text-properties style:text-line-through-style=\"solid\"/></style:style>";

    private const string Comment = "<office:annotation><text:p>torn by a root</text:p></office:annotation>";

    [Fact]
    public void Hidden_rows_are_read_told_and_asked_about()
    {
        byte[] ods = LaidOut.Ods(Header + Line("B1", "2.4") + Line("B2", "2.5", row: " table:visibility=\"collapse\"") + Line("B3", "2.6"));
        TidyTable table = LaidOut.Of(ods);
        Assert.Equal(["B1", "B2", "B3"], table.Column("bag"));
        Assert.Equal(1, table.ToldOf("hidden-rows"));
        Assert.Equal(["B1", "B3"], LaidOut.Of(ods, ("layout.hidden-rows", "leave")).Column("bag"));
    }

    [Fact]
    public void Crossed_out_rows_are_left_out_told_and_asked_about()
    {
        byte[] ods = LaidOut.Ods(Header + Line("B1", "2.4") + Line("B2", "2.5", " table:style-name=\"s\"") + Line("B3", "2.6"), Styles);
        Assert.Equal(["B1", "B3"], LaidOut.Of(ods).Column("bag"));
        Assert.Equal(3, LaidOut.Of(ods, ("layout.struck-rows", "read")).Rows.Count);
    }

    [Fact]
    public void Colours_and_comments_become_columns()
    {
        TidyTable table = LaidOut.Of(LaidOut.Ods(Header + Line("B1", "2.4") + Line("B2", "2.5", " table:style-name=\"y\"")
            + Line("B3", "2.6", inside: Comment), Styles));
        Assert.Equal(["", "FFFF00", ""], table.Column("colour"));
        Assert.Equal(["", "", "torn by a root"], table.Column("comment"));
    }

    private const string Inks = "<style:style style:name=\"r\" style:family=\"table-cell\"><style:text-properties fo:color=\"#ff0000\"/>"
        + "</style:style><style:style style:name=\"k\" style:family=\"table-cell\"><style:text-properties fo:color=\"#333333\"/>"
        + "</style:style>";

    [Fact]
    public void What_is_written_in_a_colour_is_told_apart_from_what_lies_on_it_and_black_is_none()
    {
        TidyTable table = LaidOut.Of(LaidOut.Ods(Header + Line("B1", "2.4", " table:style-name=\"k\"")
            + Line("B2", "2.5", " table:style-name=\"y\"") + Line("B3", "2.6", " table:style-name=\"r\""), Styles + Inks));
        Assert.Equal(["", "FFFF00", ""], table.Column("colour"));
        Assert.Equal(["", "", "text FF0000"], table.Column("colour of text"));
        Assert.Equal(2, table.ToldOf("colours"));
    }

    [Fact]
    public void Rows_filled_in_one_colour_and_written_in_another_are_both_asked_about_and_each_means_what_is_said()
    {
        static string Row(int hole, string litter, string first, string last, string style) => "<table:table-row>" + string.Concat(
            new[] { $"{hole}", "Au", "48.1", "9.2", litter, first, last, "2025-05-14", "2025-08-12" }.Select(text =>
                $"<table:table-cell office:value-type=\"string\"{style}><text:p>{text}</text:p></table:table-cell>")) + "</table:table-row>";
        string rows = string.Concat(Questioning.AskedSheet.Head("Before (g),After (g)").Trim().Split(',').Select(name =>
            $"<table:table-cell office:value-type=\"string\"><text:p>{name}</text:p></table:table-cell>"));
        byte[] ods = LaidOut.Ods($"<table:table-row>{rows}</table:table-row>" + Row(1, "fast", "2.40", "1.30", "")
            + Row(1, "slow", "2.60", "2.00", "") + Row(2, "fast", "2.41", "1.31", " table:style-name=\"y\"")
            + Row(2, "slow", "2.61", "2.01", "") + Row(3, "fast", "2.42", "1.32", "")
            + Row(3, "slow", "2.62", "2.02", " table:style-name=\"r\""), Styles + Inks);
        Assert.Equal(["colour:FFFF00", "colour:text FF0000"], Questioning.AskedSheet.Ids(Questioning.AskedSheet.Of(ods, "en")));
        ReadResult read = Questioning.AskedSheet.Read(ods, "table.ods", "en", ("colour:FFFF00", "torn"), ("colour:text FF0000", "lost"));
        Assert.Empty(read.Findings);
        Assert.Equal([null, null, BagCondition.Torn, null, null, BagCondition.Lost], read.SoundRows!.Bags.Select(bag => bag.Condition));
        Assert.Equal([1.30, 2.00, 1.31, 2.01, 1.32, null], read.SoundRows.Bags.Select(bag => bag.MassFinalGrams));
        read = Questioning.AskedSheet.Read(ods, "table.ods", "en", ("colour:FFFF00", "leave-out"), ("colour:text FF0000", "leave-out"));
        Assert.Equal([1.30, 2.00, null, 2.01, 1.32, null], read.SoundRows!.Bags.Select(bag => bag.MassFinalGrams));
    }

    [Fact]
    public void Rows_that_are_repeated_in_the_file_are_written_out_and_blank_ones_only_counted()
    {
        TidyTable table = LaidOut.Of(LaidOut.Ods(Header + Line("B1", "2.4", row: " table:number-rows-repeated=\"3\"")
            + "<table:table-row table:number-rows-repeated=\"1048000\"><table:table-cell table:number-columns-repeated=\"16384\"/>"
            + "</table:table-row>"));
        Assert.Equal(3, table.Rows.Count);
        Assert.Equal(4, table.Rows[2][1].Place.Row);
    }

    [Fact]
    public void A_page_under_the_name_of_a_workbook_is_read_with_its_spans()
    {
        TidyTable table = LaidOut.Of(Encoding.UTF8.GetBytes("<html><style>.x1{background:#FF0000}</style><h2>Bags</h2><table>"
            + "<tr><th>site<th>bag<th>mass (g)</tr><tr><td rowspan=2>M&uuml;hle</td><td>B1</td><td>2,4</td></tr>"
            + "<tr><td class=x1>B2</td><td class=x1>2,6</td></tr><tr><td>Au<td>B3<td>2,5</table></html>"));
        Assert.Equal(["Mühle", "Mühle", "Au"], table.Column("site"));
        Assert.Equal(["", "FF0000", ""], table.Column("colour"));
        Assert.True(table.IsText);
    }

    [Fact]
    public void Scripts_of_a_page_are_no_text_of_it()
    {
        TidyTable table = LaidOut.Of(Encoding.UTF8.GetBytes("<table><tr><th>bag<th>mass (g)<tr><td>B1<script>alert('<td>7')</script>"
            + "<td>2,4<tr><td>B2<td>2,6</table>"));
        Assert.Equal(["B1", "B2"], table.Column("bag"));
    }

    private static string Line(string bag, string mass, string style = "", string row = "", string inside = "") =>
        $"<table:table-row{row}><table:table-cell office:value-type=\"string\"{style}><text:p>{bag}</text:p>{inside}</table:table-cell>"
        + $"<table:table-cell office:value-type=\"float\" office:value=\"{mass}\"{style}><text:p>{mass}</text:p></table:table-cell>"
        + "</table:table-row>";
}
