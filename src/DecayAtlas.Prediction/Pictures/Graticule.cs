using System.Globalization;
using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>The frame, faint meridians and parallels, ticks and their labels.</summary>
internal static class Graticule
{
    public static void Draw(SKCanvas canvas, MapLayout layout)
    {
        var frame = layout.Frame;
        using var faint = new SKPaint { Color = new SKColor(0xFF, 0xFF, 0xFF, 0x50), StrokeWidth = 1, IsAntialias = false };
        using var line = new SKPaint { Color = Ink.Text, StrokeWidth = 1.5f, IsStroke = true, IsAntialias = true };
        var meridians = RoundTicks.Degrees(layout.Extent.WestDegrees, layout.Extent.EastDegrees, Math.Clamp(frame.Width / 130, 2, 8));
        var parallels = RoundTicks.Degrees(layout.Extent.SouthDegrees, layout.Extent.NorthDegrees, Math.Clamp(frame.Height / 100, 2, 8));
        int decimals = Math.Max(Decimals(meridians), Decimals(parallels));
        foreach (double longitude in meridians)
        {
            float x = MathF.Round(layout.X(longitude)) + 0.5f;
            canvas.DrawLine(x, frame.Top, x, frame.Bottom, faint);
            canvas.DrawLine(x, frame.Bottom, x, frame.Bottom + 7, line);
            Lettering.Draw(canvas, Label(longitude, 'E', 'W', decimals), x, frame.Bottom + 26, 15, Ink.Text, SKTextAlign.Center);
        }
        foreach (double latitude in parallels)
        {
            float y = MathF.Round(layout.Y(latitude)) + 0.5f;
            canvas.DrawLine(frame.Left, y, frame.Right, y, faint);
            canvas.DrawLine(frame.Left - 7, y, frame.Left, y, line);
            Lettering.Draw(canvas, Label(latitude, 'N', 'S', decimals), frame.Left - 12, y + 5, 15, Ink.Text, SKTextAlign.Right);
        }
        canvas.DrawRect(frame.Left - 0.5f, frame.Top - 0.5f, frame.Width + 1, frame.Height + 1, line);
    }

    public static string Label(double degrees, char positive, char negative, int decimals)
    {
        string number = Math.Abs(degrees).ToString("F" + decimals, CultureInfo.InvariantCulture);
        bool zero = number.All(c => c is '0' or '.');
        // The 180th meridian is neither east nor west.
        return zero || (Math.Abs(degrees) == 180 && positive == 'E') ? number + "°" : $"{number}° {(degrees < 0 ? negative : positive)}";
    }

    private static int Decimals(IReadOnlyList<double> ticks) =>
        Enumerable.Range(0, 4).First(d => d == 3 || ticks.All(t => Math.Abs(Math.Round(t, d) - t) < 1e-9));
}
