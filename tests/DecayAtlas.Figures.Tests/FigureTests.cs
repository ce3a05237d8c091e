using System.Buffers.Binary;
using System.Xml.Linq;

namespace DecayAtlas.Figures.Tests;

public class FigureTests
{
    private static readonly XNamespace SvgSpace = "http://www.w3.org/2000/svg";

    public static TheoryData<string> Kinds => [.. ExampleCharts.All.Keys];

    [Theory, MemberData(nameof(Kinds))]
    public void A_chart_drawn_twice_has_the_same_bytes(string kind)
    {
        Chart chart = ExampleCharts.All[kind];
        Assert.Equal(chart.Draw().Png(), chart.Draw().Png());
        Assert.Equal(chart.Draw().Svg(), chart.Draw().Svg());
    }

    [Fact]
    public void Charts_drawn_side_by_side_do_not_touch_each_other()
    {
        string[] alone = [.. ExampleCharts.All.Values.Select(c => c.Draw().Svg())];
        string[] together = [.. ExampleCharts.All.Values.AsParallel().AsOrdered().WithDegreeOfParallelism(4).Select(c => c.Draw().Svg())];
        Assert.Equal(alone, together);
    }

    [Theory, MemberData(nameof(Kinds))]
    public void A_screen_reader_is_told_title_and_content(string kind)
    {
        XElement svg = XDocument.Parse(ExampleCharts.All[kind].Draw().Svg()).Root!;
        Assert.Equal("img", svg.Attribute("role")!.Value);
        Assert.Equal(ExampleCharts.All[kind].Title, svg.Element(SvgSpace + "title")!.Value);
        Assert.Equal(ExampleCharts.All[kind].AltText, svg.Element(SvgSpace + "desc")!.Value);
    }

    [Theory, MemberData(nameof(Kinds))]
    public void Text_stays_text_in_an_SVG(string kind)
    {
        XElement svg = XDocument.Parse(ExampleCharts.All[kind].Draw().Svg()).Root!;
        string[] texts = [.. svg.Descendants(SvgSpace + "text").Select(t => t.Value)];
        Assert.Contains(ExampleCharts.All[kind].Title, texts);
        // every run has one place, not one for each glyph of one typeface
        Assert.DoesNotContain(svg.Descendants(SvgSpace + "text").Attributes("x"), a => a.Value.Contains(','));
    }

    [Fact]
    public void A_PNG_has_two_pixels_for_each_CSS_pixel()
    {
        byte[] png = ExampleCharts.Bars.Draw().Png();
        // PNG specification (W3C 2003) 5.3, 11.2.2: width and height follow the 8 bytes of signature and the head of the first chunk
        Assert.Equal(2 * ExampleCharts.Bars.Width, BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16)));
        Assert.Equal(2 * ExampleCharts.Bars.Height, BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(20)));
    }

    [Fact]
    public void Markup_in_a_title_stays_words()
    {
        XElement svg = XDocument.Parse((ExampleCharts.Bars with { Title = "k < 1 & S > \"0\"" }).Draw().Svg()).Root!;
        Assert.Equal("k < 1 & S > \"0\"", svg.Element(SvgSpace + "title")!.Value);
    }

    [Theory]
    [InlineData(0, 1, 6, new[] { "0.0", "0.2", "0.4", "0.6", "0.8", "1.0" })]
    [InlineData(-0.04, 0.051, 5, new[] { "−0.04", "−0.02", "0.00", "0.02", "0.04" })]
    [InlineData(3, 97, 5, new[] { "20", "40", "60", "80" })]
    public void Ticks_stand_on_round_numbers(double from, double to, int most, string[] expected) =>
        Assert.Equal(expected, TicksOf(new Axis("x"), from, to, most));

    [Fact]
    public void A_logarithmic_axis_marks_1_2_and_5_of_each_power_of_ten() =>
        Assert.Equal(["0.002", "0.005", "0.01", "0.02", "0.05"], TicksOf(new Axis("x") { IsLogarithmic = true }, 0.002, 0.05, 6));

    [Fact]
    public void A_logarithmic_axis_too_short_for_three_such_marks_is_marked_in_even_steps() =>
        Assert.Equal(["0.008", "0.01", "0.012", "0.014", "0.016", "0.018"],
            TicksOf(new Axis("x") { IsLogarithmic = true }, 0.0068, 0.0185, 6));

    private static IEnumerable<string> TicksOf(Axis axis, double from, double to, int most) =>
        new Scale(axis, (axis.Place(from), axis.Place(to)), 0, 100, most, ExampleCharts.Bars.Number).Ticks.Select(t => t.Text);

    [Theory, MemberData(nameof(Kinds))]
    public void A_chart_of_a_page_has_its_colours_and_its_style_from_the_page(string kind)
    {
        string inline = ExampleCharts.All[kind].Draw().Inline(t => t);
        Assert.DoesNotContain('#', inline);
        Assert.DoesNotContain("style=", inline, StringComparison.Ordinal);
        Assert.All(XDocument.Parse(inline).Descendants().Attributes("class").SelectMany(a => a.Value.Split(' '))
            .Except(["chart", "strong"]), name =>
            Assert.Contains($".chart .{name} {{", HouseColours.Css, StringComparison.Ordinal));
    }

    [Fact]
    public void A_chart_whose_page_says_all_of_it_is_left_out_for_screen_readers() =>
        Assert.StartsWith("<svg class=\"chart\" viewBox=\"0 0 720 180\" aria-hidden=\"true\">",
            (ExampleCharts.Strip with { AltText = "" }).Draw().Inline(t => t), StringComparison.Ordinal);

    [Fact]
    public void Data_that_no_axis_can_show_leave_an_empty_chart_and_no_failure()
    {
        XyChart chart = new("empty", "Nothing to show.", new Axis("x") { IsLogarithmic = true }, new Axis("y"),
            [new Points([new(0, 1), new(-1, double.NaN)])]);
        Assert.NotEmpty(chart.Draw().Png());
        Assert.NotEmpty(new Histogram("empty", "Nothing.", new Axis("x"), []).Draw().Svg());
    }

    /// <summary>Pictures to look at, on request only: run with <c>-explicit only</c> and DECAYATLAS_GALLERY naming a folder.</summary>
    [Fact(Explicit = true)]
    public void Gallery()
    {
        string folder = Environment.GetEnvironmentVariable("DECAYATLAS_GALLERY")!;
        foreach ((string name, Chart chart) in ExampleCharts.All)
        {
            File.WriteAllBytes(Path.Combine(folder, name + ".png"), chart.Draw().Png());
            File.WriteAllText(Path.Combine(folder, name + ".svg"), chart.Draw().Svg());
        }
    }
}
