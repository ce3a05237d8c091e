using ScottPlot;
using SkiaSharp;

namespace DecayAtlas.Figures;

/// <summary>Colours that stay apart under the common colour-vision deficiencies (Okabe and Ito 2008, Color Universal Design), light ground, thin lines.</summary>
public static class HouseStyle
{
    /// <summary>Series colours in order of use, as #RRGGBB.</summary>
    public static IReadOnlyList<string> Series { get; } = ["#0072B2", "#D55E00", "#009E73", "#CC79A7", "#56B4E9", "#E69F00"];

    /// <summary>Titles and points without series.</summary>
    public const string Ink = "#1F2933";

    /// <summary>Axis text, notes, reference lines.</summary>
    public const string Quiet = "#5B6770";

    internal const string Grid = "#E8ECEF";
    internal const string Ground = "#FFFFFF";

    private static readonly MarkerShape[] Shapes =
        [MarkerShape.FilledCircle, MarkerShape.FilledTriangleUp, MarkerShape.FilledSquare, MarkerShape.FilledDiamond, MarkerShape.FilledTriangleDown, MarkerShape.FilledCircle];

    internal static string ColourOf(int series) => Series[series % Series.Count];

    // form as well as colour tells series apart, for print in grey
    internal static MarkerShape ShapeOf(int series) => Shapes[series % Shapes.Length];

    internal static Color Colour(string hex, double opacity = 1) => Color.FromHex(hex).WithAlpha(opacity);

    internal static SKColor SkColour(string hex) => SKColor.Parse(hex);

    internal static Plot NewPlot()
    {
        Typeface.Install();
        var plot = new Plot();
        plot.RenderManager.ClearCanvasBeforeEachRender = false;
        plot.FigureBackground.Color = Colors.Transparent;
        plot.DataBackground.Color = Colors.Transparent;
        plot.Grid.MajorLineColor = Colour(Grid);
        plot.Grid.MajorLineWidth = 1;
        plot.Grid.MinorLineWidth = 0;
        plot.Axes.Top.FrameLineStyle.Width = 0;
        plot.Axes.Right.FrameLineStyle.Width = 0;
        foreach (IAxis axis in (IAxis[])[plot.Axes.Bottom, plot.Axes.Left])
        {
            axis.FrameLineStyle.Color = Colour(Quiet);
            axis.FrameLineStyle.Width = 1;
            axis.MajorTickStyle.Color = Colour(Quiet);
            axis.MajorTickStyle.Length = 4;
            axis.MinorTickStyle.Length = 0;
            axis.TickLabelStyle.ForeColor = Colour(Quiet);
            axis.TickLabelStyle.FontSize = 12;
            axis.TickLabelStyle.FontName = Typeface.Name;
            axis.Label.ForeColor = Colour(Ink);
            axis.Label.FontSize = 13;
            axis.Label.Bold = false;
            axis.Label.FontName = Typeface.Name;
        }

        return plot;
    }
}
