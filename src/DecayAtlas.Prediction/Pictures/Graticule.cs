using System.Globalization;
using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>The frame, faint meridians and parallels, ticks and their labels.</summary>
internal static class Graticule
{
    private const int Steps = 240;

    public static void Draw(SKCanvas canvas, MapLayout layout)
    {
        SKRectI frame = layout.Frame;
        using SKPaint faint = Ink.Stroke(new SKColor(0xFF, 0xFF, 0xFF, 0x50), 1);
        faint.IsAntialias = !layout.Lattice.Projection.IsGeographic;
        using SKPaint line = Ink.Stroke(Ink.Text, 1.5f);
        (double west, double south, double east, double north) = ExtentOf(layout);
        IReadOnlyList<double> meridians = RoundNumbers.Degrees(west, east, Math.Clamp(frame.Width / 130, 2, 8));
        IReadOnlyList<double> parallels = RoundNumbers.Degrees(south, north, Math.Clamp(frame.Height / 100, 2, 8));
        int decimals = Math.Max(Decimals(meridians), Decimals(parallels));

        canvas.Save();
        canvas.ClipRect(frame);
        foreach (double longitude in meridians)
            DrawLine(canvas, layout, faint, t => new(longitude, south + (north - south) * t));
        foreach (double latitude in parallels)
            DrawLine(canvas, layout, faint, t => new(west + (east - west) * t, latitude));
        canvas.Restore();

        float lastX = float.NegativeInfinity, lastY = float.NegativeInfinity;
        foreach ((double x, double longitude) in Crossings(meridians, t => layout.PlaceAt(t, 1).LongitudeDegrees, isAngle: true))
        {
            float at = frame.Left + (float)x * frame.Width;
            canvas.DrawLine(at, frame.Bottom, at, frame.Bottom + 7, line);
            if (at - lastX > 62)
            {
                Lettering.Draw(canvas, Label(longitude, 'E', 'W', decimals), lastX = at, frame.Bottom + 26, 15, Ink.Text,
                    SKTextAlign.Center);
            }
        }
        foreach ((double y, double latitude) in Crossings(parallels, t => layout.PlaceAt(0, t).LatitudeDegrees, isAngle: false))
        {
            float at = frame.Top + (float)y * frame.Height;
            canvas.DrawLine(frame.Left - 7, at, frame.Left, at, line);
            if (at - lastY > 22)
            {
                Lettering.Draw(canvas, Label(latitude, 'N', 'S', decimals), frame.Left - 12, (lastY = at) + 5, 15, Ink.Text,
                    SKTextAlign.Right);
            }
        }
        canvas.DrawRect(frame.Left - 0.5f, frame.Top - 0.5f, frame.Width + 1, frame.Height + 1, line);
    }

    public static string Label(double degrees, char positive, char negative, int decimals)
    {
        double turned = positive == 'E' && degrees > 180 ? degrees - 360 : degrees;
        string number = Math.Abs(turned).ToString("F" + decimals, CultureInfo.InvariantCulture);
        bool zero = number.All(c => c is '0' or '.');
        // The 180th meridian is neither east nor west.
        return zero || (Math.Abs(turned) == 180 && positive == 'E') ? number + "°" : $"{number}° {(turned < 0 ? negative : positive)}";
    }

    private static (double West, double South, double East, double North) ExtentOf(MapLayout layout)
    {
        GridLattice cells = layout.Lattice.Cells;
        if (layout.Lattice.Projection.IsGeographic)
            return (cells.West, cells.South, cells.East, cells.North);
        double west = 180, south = 90, east = -180, north = -90;
        for (int i = 0; i <= 40; i++)
        {
            for (int j = 0; j <= 40; j++)
            {
                GeoPoint place = layout.PlaceAt(i / 40.0, j / 40.0);
                if (double.IsNaN(place.LatitudeDegrees))
                    continue;
                (west, east) = (Math.Min(west, place.LongitudeDegrees), Math.Max(east, place.LongitudeDegrees));
                (south, north) = (Math.Min(south, place.LatitudeDegrees), Math.Max(north, place.LatitudeDegrees));
            }
        }
        return (west, south, east, north);
    }

    private static void DrawLine(SKCanvas canvas, MapLayout layout, SKPaint paint, Func<double, GeoPoint> placeAt)
    {
        SKPoint? before = null;
        bool straight = layout.Lattice.Projection.IsGeographic;
        for (int i = 0; i <= Steps; i += straight ? Steps : 1)
        {
            SKPoint? at = layout.At(placeAt(i / (double)Steps));
            // straight lines lie in the middle of a row of pixels, to be crisp
            if (straight && at is { } p)
                at = new(MathF.Round(p.X) + 0.5f, MathF.Round(p.Y) + 0.5f);
            // a jump is the tear of a map, not a line
            if (before is { } from && at is { } to && SKPoint.Distance(from, to) < (straight ? float.MaxValue : layout.Frame.Width / 4f))
                canvas.DrawLine(from, to, paint);
            before = at;
        }
    }

    /// <summary>Where along an edge of the frame a coordinate passes each tick.</summary>
    private static IEnumerable<(double Along, double Tick)> Crossings(IReadOnlyList<double> ticks, Func<double, double> along, bool isAngle)
    {
        const int pieces = 400;
        List<(double, double)> found = new();
        double before = along(0);
        foreach (int i in Enumerable.Range(1, pieces))
        {
            double here = along(i / (double)pieces);
            foreach (double tick in ticks)
            {
                double a = before - tick, b = here - tick;
                if (isAngle)
                    (a, b) = (Math.IEEERemainder(a, 360), Math.IEEERemainder(b, 360));
                if (a == b || Math.Sign(a) == Math.Sign(b) || Math.Abs(a - b) > 90 || double.IsNaN(a + b) || (a == 0 && i > 1))
                    continue;
                found.Add(((i - 1 + a / (a - b)) / pieces, tick));
            }
            before = here;
        }
        return found.OrderBy(f => f.Item1).DistinctBy(f => f.Item2);
    }

    private static int Decimals(IReadOnlyList<double> ticks) =>
        Enumerable.Range(0, 4).First(d => d == 3 || ticks.All(t => Math.Abs(Math.Round(t, d) - t) < 1e-9));
}
