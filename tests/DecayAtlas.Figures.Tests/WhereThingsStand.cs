using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace DecayAtlas.Figures.Tests;

/// <summary>Where a chart puts its marks and words, read out of the SVG.</summary>
public partial class WhereThingsStand
{
    private static readonly (double X, double Y)[] Rising = [(0, 0), (10, 1)], Falling = [(0, 1), (10, 0.98)];

    [Fact]
    public void A_line_is_named_at_its_end_and_names_do_not_lie_over_each_other()
    {
        XElement svg = Drawn(new XyChart("t", "a", new Axis("x"), new Axis("y"),
            [new Line(Rising) { Label = "rising" }, new Line(Falling) { Label = "falling" }]));
        double[] ends = [.. svg.Descendants().Where(e => e.Attribute("d") is { } d && d.Value.Contains('L'))
            .Where(e => ClassOf(e) is "s-blue" or "s-rust").Select(e => Numbers(e.Attribute("d")!.Value)[^2])];
        XElement rising = Text(svg, "rising"), falling = Text(svg, "falling");
        Assert.Equal(ends.Max() + 6, At(rising, "x"), 0.02);
        // letters are 12 high, and one line ends 0.02 of the axis below the other
        Assert.True(At(falling, "y") - At(rising, "y") >= 12, $"{At(rising, "y")}, {At(falling, "y")}");
        // they have no second name in a legend
        Assert.Single(svg.Descendants(), e => e.Value == "rising" && e.Name.LocalName == "text");
    }

    [Theory]
    // data up to 0.1956 and 4 % of their spread: the next mark is 0.20; by hand
    [InlineData(0.1969, 0.2)]
    [InlineData(0.15, 0.15)]
    [InlineData(0.151, 0.151)]
    public void An_axis_from_a_fixed_begin_ends_at_the_next_mark_above_its_data(double highest, double expected) =>
        Assert.Equal(expected, Scale.ToNextMark(new Axis("y") { From = 0 }, (0, highest), 6).To, 1e-9);

    [Fact]
    public void Panels_that_share_an_axis_write_its_numbers_once_a_row_and_once_a_column()
    {
        XyChart[] four = [.. Enumerable.Range(0, 4).Select(i => new XyChart($"p{i}", "a", new Axis("x") { From = 0, To = 30 },
            new Axis("y") { From = 0, To = 0.9 }, [new Line([(0, 0), (30, 0.9)])]))];
        XElement svg = Drawn(new PanelChart("t", "a", four, 2) { Height = 700 });
        Assert.Equal(2, svg.Descendants().Count(e => e.Name.LocalName == "text" && e.Value == "0.8"));
        Assert.Equal(2, svg.Descendants().Count(e => e.Name.LocalName == "text" && e.Value == "20"));
        XElement apart = Drawn(new PanelChart("t", "a", [four[0], four[1] with { Y = new Axis("y") { From = 0, To = 0.8 } }], 2));
        Assert.Equal(2, apart.Descendants().Count(e => e.Name.LocalName == "text" && e.Value == "0.8"));
    }

    [Fact]
    public void The_grid_lies_behind_all_data()
    {
        foreach (Chart chart in new Chart[] { ExampleCharts.Curves, ExampleCharts.Counts, ExampleCharts.EqualAxes })
        {
            string[] drawn = [.. Drawn(chart).Elements().Where(e => e.Name.LocalName == "path").Select(ClassOf)];
            // the signs of a legend stand above the grid on the sheet, so that they are drawn before it
            int grid = Array.FindLastIndex(drawn, c => c == "s-line");
            Assert.Contains(drawn[grid..], c => c.Contains("blue", StringComparison.Ordinal));
            Assert.True(drawn[..grid].Count(c => c.Contains("blue", StringComparison.Ordinal)) <= 1);
        }
    }

    [Fact]
    public void Land_is_cut_off_at_the_frame_and_does_not_widen_it()
    {
        double[][] wide = [[-100, -100], [100, -100], [100, 100], [-100, 100]], far = [[50, 50], [60, 50], [60, 60]];
        Points sites = new([new(1, 1), new(3, 2)]);
        Axis x = new("") { From = 0, To = 4 }, y = new("") { From = 0, To = 4 };
        XElement without = Drawn(new XyChart("t", "a", x, y, [sites])),
            with = Drawn(new XyChart("t", "a", x, y, [new Land([[wide], [far]]), sites with { Series = 0 }]));
        XElement land = Assert.Single(with.Descendants(), e => ClassOf(e) == "f-land");
        double[] corners = Numbers(land.Attribute("d")!.Value);
        // the axis along the bottom is as long as the frame
        double[] axis = Numbers(with.Elements().Where(e => ClassOf(e) == "s-soft").Select(e => e.Attribute("d")!.Value)
            .MaxBy(d => Math.Abs(Numbers(d)[0] - Numbers(d)[2]))!);
        Assert.Equal((axis[0], axis[2]), (corners.Where((_, i) => i % 2 == 0).Min(), corners.Where((_, i) => i % 2 == 0).Max()));
        Assert.Equal(PointsOf(without), PointsOf(with));

        static string[] PointsOf(XElement svg) => [.. svg.Elements().Where(e => ClassOf(e) == "f-blue s-ground")
            .Select(e => e.Attribute("d")!.Value)];
    }

    [Fact]
    public void Names_above_values_leave_each_other_free_and_the_chart_grows_by_them()
    {
        StripChart bare = ExampleCharts.Strip with { Title = "", Values = [0.0100, 0.0101, 0.0102, 0.02], Height = 96 };
        StripChart named = (bare with { Names = ["first", "second", "third", "far"] }).WithRoom();
        Assert.True(named.Height >= bare.Height + 30);
        (double X, double Y)[] places = [.. named.Names.Select(n => Text(Drawn(named), n)).Select(t => (At(t, "x"), At(t, "y")))];
        Assert.Equal(3, places.Take(3).Select(p => p.Y).Distinct().Count());
        Assert.Equal(places[0].Y, places[3].Y);
    }

    [Theory, MemberData(nameof(Narrowed))]
    public void A_narrow_chart_writes_no_name_beyond_its_edge(string kind)
    {
        Chart narrow = (ExampleCharts.All[kind] with { Title = "" }).Narrow(300);
        Assert.All(Drawn(narrow).Elements().Where(e => e.Name.LocalName == "text"), text =>
        {
            double width = Lettering.Width(text.Value, MarkSheet.TextSize, text.Attribute("font-weight") is not null),
                left = At(text, "x") - width * ((string?)text.Attribute("text-anchor") switch { "end" => 1, "middle" => 0.5, _ => 0 });
            Assert.InRange(left, 0, 300 - width + 1);
        });
    }

    [Fact]
    public void No_line_of_a_narrow_chart_of_intervals_runs_through_a_name_or_a_number_of_a_row()
    {
        XElement svg = Drawn((ExampleCharts.Forest with { Title = "" }).Narrow(300));
        double[][] upright = [.. svg.Elements().Where(e => ClassOf(e) is "s-line" or "s-soft").Select(e => e.Attribute("d"))
            .OfType<XAttribute>().Select(d => Numbers(d.Value)).Where(n => n.Length == 4 && n[0] == n[2])];
        (double Top, double Bottom)[] written = [.. svg.Elements().Where(e => e.Name.LocalName == "text").Select(t => At(t, "y"))
            .Select(y => (y - 9, y))];
        Assert.True(upright.Length > 3, "no line of the grid was drawn");
        Assert.All(upright, line => Assert.DoesNotContain(written,
            text => Math.Min(line[1], line[3]) < text.Bottom && Math.Max(line[1], line[3]) > text.Top));
    }

    public static TheoryData<string> Narrowed => ["forest", "bars", "strip"];

    /// <summary>Every colour by day has one by night, which a page of its own takes by itself.</summary>
    [Theory, MemberData(nameof(FigureTests.Kinds), MemberType = typeof(FigureTests))]
    public void A_figure_of_its_own_has_a_colour_of_the_night_for_each_of_the_day(string kind)
    {
        XElement svg = Drawn(ExampleCharts.All[kind]);
        string style = svg.Elements().Single(e => e.Name.LocalName == "style").Value;
        Assert.StartsWith("@media screen and (prefers-color-scheme: dark)", style.TrimStart(), StringComparison.Ordinal);
        string[] classes = [.. svg.Descendants().Select(ClassOf).SelectMany(c => c.Split(' ')).Where(c => c.Length > 0).Distinct()];
        Assert.Contains("f-ground", classes);
        Assert.All(classes, name => Assert.Matches($@"\.{name} {{ (fill|stroke): #[0-9a-f]{{6}} }}", style));
    }

    private static XElement Drawn(Chart chart) => XDocument.Parse(chart.Draw().Svg()).Root!;

    private static string ClassOf(XElement element) => (string?)element.Attribute("class") ?? "";

    private static XElement Text(XElement svg, string said) =>
        svg.Descendants().Single(e => e.Name.LocalName == "text" && e.Value == said);

    private static double At(XElement element, string name) => double.Parse(element.Attribute(name)!.Value, CultureInfo.InvariantCulture);

    private static double[] Numbers(string outline) =>
        [.. Number().Matches(outline).Select(m => double.Parse(m.Value, CultureInfo.InvariantCulture))];

    [GeneratedRegex(@"-?\d+(\.\d+)?", RegexOptions.NonBacktracking)]
    private static partial Regex Number();
}
