using System.Globalization;

namespace DecayAtlas.Figures.Drawing;

/// <summary>Outlines of shapes, as SVG writes paths.</summary>
internal static class Outline
{
    public static string Line(double x1, double y1, double x2, double y2) => Path($"M{x1} {y1}L{x2} {y2}");

    public static string Through(IEnumerable<(double X, double Y)> points) =>
        "M" + string.Join('L', points.Select(p => Path($"{p.X} {p.Y}")));

    /// <summary>A box, its corners rounded where it has room.</summary>
    public static string Box(double x, double y, double width, double height, double radius = 0)
    {
        double r = Math.Min(radius, Math.Min(width, height) / 2);
        return r > 0
            ? Path($"M{x + r} {y}h{width - 2 * r}a{r} {r} 0 0 1 {r} {r}v{height - 2 * r}a{r} {r} 0 0 1 {-r} {r}h{2 * r
                - width}a{r} {r} 0 0 1 {-r} {-r}v{2 * r - height}a{r} {r} 0 0 1 {r} {-r}z")
            : Path($"M{x} {y}h{width}v{height}h{-width}z");
    }

    /// <summary>The mark of a series: form as well as colour tells series apart, for print in grey.</summary>
    public static string Symbol(int series, double x, double y, double size)
    {
        double r = size / 2, d = 1.25 * r;
        return (series % 6) switch
        {
            1 => Path($"M{x} {y - d}l{d} {d}l{-d} {d}l{-d} {-d}z"),
            2 => Box(x - 0.9 * r, y - 0.9 * r, 1.8 * r, 1.8 * r),
            3 => Path($"M{x} {y - d}l{d} {1.8 * d}h{-2 * d}z"),
            5 => Path($"M{x} {y + d}l{-d} {-1.8 * d}h{2 * d}z"),
            _ => Path($"M{x - r} {y}a{r} {r} 0 1 0 {2 * r} 0a{r} {r} 0 1 0 {-2 * r} 0z"),
        };
    }

    // to a hundredth of a pixel
    private static string Path(FormattableString path) =>
        string.Format(CultureInfo.InvariantCulture, path.Format,
            [.. path.GetArguments().Select(a => (object)(Math.Round((double)a!, 2) + 0.0).ToString("0.##", CultureInfo.InvariantCulture))]);
}
