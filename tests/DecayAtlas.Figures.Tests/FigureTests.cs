using System.Buffers.Binary;
using System.Xml.Linq;

namespace DecayAtlas.Figures.Tests;

public class FigureTests
{
    private static readonly XNamespace SvgSpace = "http://www.w3.org/2000/svg";

    public static TheoryData<string> Kinds => [.. Charts.All.Keys];

    [Theory, MemberData(nameof(Kinds))]
    public void A_chart_drawn_twice_has_the_same_bytes(string kind)
    {
        Chart chart = Charts.All[kind];
        Assert.Equal(chart.Draw().Png(), chart.Draw().Png());
        Assert.Equal(chart.Draw().Svg(), chart.Draw().Svg());
    }

    [Fact]
    public void Charts_drawn_side_by_side_do_not_touch_each_other()
    {
        string[] alone = [.. Charts.All.Values.Select(c => c.Draw().Svg())];
        string[] together = [.. Charts.All.Values.AsParallel().AsOrdered().WithDegreeOfParallelism(4).Select(c => c.Draw().Svg())];
        Assert.Equal(alone, together);
    }

    [Theory, MemberData(nameof(Kinds))]
    public void A_screen_reader_is_told_title_and_content(string kind)
    {
        XElement svg = XDocument.Parse(Charts.All[kind].Draw().Svg()).Root!;
        Assert.Equal("img", svg.Attribute("role")!.Value);
        Assert.Equal(Charts.All[kind].Title, svg.Element(SvgSpace + "title")!.Value);
        Assert.Equal(Charts.All[kind].AltText, svg.Element(SvgSpace + "desc")!.Value);
    }

    [Theory, MemberData(nameof(Kinds))]
    public void Text_stays_text_in_an_SVG(string kind)
    {
        XElement svg = XDocument.Parse(Charts.All[kind].Draw().Svg()).Root!;
        string[] texts = [.. svg.Descendants(SvgSpace + "text").Select(t => t.Value)];
        Assert.Contains(Charts.All[kind].Title, texts);
        // every run has one place, not one for each glyph of one typeface
        Assert.DoesNotContain(svg.Descendants(SvgSpace + "text").Attributes("x"), a => a.Value.Contains(','));
    }

    [Fact]
    public void A_PNG_has_two_pixels_for_each_CSS_pixel()
    {
        byte[] png = Charts.Bars.Draw().Png();
        // PNG specification (W3C 2003) 5.3, 11.2.2: width and height follow the 8 bytes of signature and the head of the first chunk
        Assert.Equal(2 * Charts.Bars.Width, BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16)));
        Assert.Equal(2 * Charts.Bars.Height, BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(20)));
    }

    [Fact]
    public void Markup_in_a_title_stays_words()
    {
        XElement svg = XDocument.Parse((Charts.Bars with { Title = "k < 1 & S > \"0\"" }).Draw().Svg()).Root!;
        Assert.Equal("k < 1 & S > \"0\"", svg.Element(SvgSpace + "title")!.Value);
    }

    [Theory]
    [InlineData(0, 1, 6, new[] { "0.0", "0.2", "0.4", "0.6", "0.8", "1.0" })]
    [InlineData(-0.04, 0.051, 5, new[] { "−0.04", "−0.02", "0.00", "0.02", "0.04" })]
    [InlineData(3, 97, 5, new[] { "20", "40", "60", "80" })]
    public void Ticks_stand_on_round_numbers(double from, double to, int most, string[] expected) =>
        Assert.Equal(expected, Axis.LinearTicks((from, to), most).Select(t => t.Text));

    [Fact]
    public void Data_that_no_axis_can_show_leave_an_empty_chart_and_no_failure()
    {
        var chart = new XyChart("empty", "Nothing to show.", new Axis("x") { IsLogarithmic = true }, new Axis("y"), [new Points([new(0, 1), new(-1, double.NaN)])]);
        Assert.NotEmpty(chart.Draw().Png());
        Assert.NotEmpty(new Histogram("empty", "Nothing.", new Axis("x"), []).Draw().Svg());
    }

    /// <summary>Pictures to look at, on request only: run with <c>-explicit only</c> and DECAYATLAS_GALLERY naming a folder.</summary>
    [Fact(Explicit = true)]
    public void Gallery()
    {
        string folder = Environment.GetEnvironmentVariable("DECAYATLAS_GALLERY")!;
        foreach ((string name, Chart chart) in Charts.All)
        {
            File.WriteAllBytes(Path.Combine(folder, name + ".png"), chart.Draw().Png());
            File.WriteAllText(Path.Combine(folder, name + ".svg"), chart.Draw().Svg());
        }
    }
}
