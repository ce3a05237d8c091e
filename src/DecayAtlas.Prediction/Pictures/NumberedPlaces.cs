using System.Globalization;
using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>Places with their numbers, the first on top.</summary>
internal static class NumberedPlaces
{
    private const float Radius = 11;

    public static void Draw(SKCanvas canvas, MapLayout layout, IReadOnlyList<GeoPoint> places)
    {
        for (int i = places.Count - 1; i >= 0; i--)
        {
            if (layout.At(places[i]) is { } at)
                Draw(canvas, at.X, at.Y, (i + 1).ToString(CultureInfo.InvariantCulture));
        }
    }

    public static void Draw(SKCanvas canvas, float x, float y, string number)
    {
        using SKPaint fill = Ink.Fill(SKColors.White);
        using SKPaint line = Ink.Stroke(Ink.Text, 1.8f);
        canvas.DrawCircle(x, y, Radius, fill);
        canvas.DrawCircle(x, y, Radius, line);
        Lettering.Draw(canvas, number, x, y + 4.6f, number.Length > 2 ? 10 : 13, Ink.Text, SKTextAlign.Center, bold: true);
    }
}
