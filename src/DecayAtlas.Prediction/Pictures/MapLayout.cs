using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>
/// Where everything sits, in pixels. The map is drawn in the equirectangular projection whose true parallel is the middle
/// latitude, so that shapes are right there and a kilometre is as long east-west as north-south.
/// </summary>
internal sealed record MapLayout(int Width, int Height, SKRectI Frame, SKRectI Panel, bool PanelBelow, BoundingBox Extent)
{
    public const int Margin = 44;
    public const int LatitudeLabels = 74;
    public const int HeaderHeight = 118;

    private const int PanelGap = 36;
    private const int PanelWidth = 260;
    private const int PanelBelowGap = 66;
    private const int PanelBelowHeight = 112;
    private const int LongitudeLabels = 30;
    private const int FooterHeight = 92;
    private const int LargestWidth = 1240;
    private const int LargestHeight = 1120;
    private const int SmallestWidth = 380;
    private const int SmallestHeight = 600;

    public double MiddleLatitudeDegrees => (Extent.SouthDegrees + Extent.NorthDegrees) / 2;

    public double MetresPerPixel =>
        GroundDistance.MetresPerDegreeLongitude(MiddleLatitudeDegrees) * (Extent.EastDegrees - Extent.WestDegrees) / Frame.Width;

    /// <summary>The legend stands right of the map, or lies below one that is too low to stand beside.</summary>
    public static MapLayout Of(BoundingBox extent)
    {
        double middle = (extent.SouthDegrees + extent.NorthDegrees) / 2;
        double wide = GroundDistance.MetresPerDegreeLongitude(middle) * (extent.EastDegrees - extent.WestDegrees);
        double tall = GroundDistance.MetresPerDegreeLatitude(middle) * (extent.NorthDegrees - extent.SouthDegrees);
        double scale = Math.Min(LargestWidth / wide, LargestHeight / tall);
        int width = Math.Max(1, (int)Math.Round(wide * scale)), height = Math.Max(1, (int)Math.Round(tall * scale));
        // A slim region sits in the middle of room that is wide enough for a heading.
        int room = Math.Max(width, SmallestWidth), left = Margin + LatitudeLabels;
        var frame = SKRectI.Create(left + (room - width) / 2, HeaderHeight, width, height);
        bool below = height < SmallestHeight;
        var panel = below
            ? SKRectI.Create(left, frame.Bottom + PanelBelowGap, room, PanelBelowHeight)
            : SKRectI.Create(left + room + PanelGap, HeaderHeight, PanelWidth, height);
        return new(
            panel.Right + Margin,
            Math.Max(frame.Bottom + LongitudeLabels, panel.Bottom) + FooterHeight,
            frame, panel, below, extent);
    }

    public float X(double longitudeDegrees) =>
        (float)(Frame.Left + (longitudeDegrees - Extent.WestDegrees) / (Extent.EastDegrees - Extent.WestDegrees) * Frame.Width);

    public float Y(double latitudeDegrees) =>
        (float)(Frame.Top + (Extent.NorthDegrees - latitudeDegrees) / (Extent.NorthDegrees - Extent.SouthDegrees) * Frame.Height);
}
