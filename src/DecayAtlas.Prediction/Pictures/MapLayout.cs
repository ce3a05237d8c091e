using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>
/// Where everything sits, in pixels. The map is drawn in the equirectangular projection whose true parallel is the middle
/// latitude, so that shapes are right there and a kilometre is as long east-west as north-south.
/// </summary>
internal sealed record MapLayout(int Width, int Height, SKRectI Frame, BoundingBox Extent)
{
    public const int Margin = 44;
    public const int LatitudeLabels = 74;
    public const int HeaderHeight = 118;
    public const int PanelGap = 36;
    public const int PanelWidth = 300;
    public const int FooterHeight = 112;

    private const int LargestWidth = 1240;
    private const int LargestHeight = 1120;
    private const int SmallestWidth = 380;
    private const int SmallestPanelHeight = 640;

    public double MiddleLatitudeDegrees => (Extent.SouthDegrees + Extent.NorthDegrees) / 2;

    public double MetresPerPixel =>
        GroundDistance.MetresPerDegreeLongitude(MiddleLatitudeDegrees) * (Extent.EastDegrees - Extent.WestDegrees) / Frame.Width;

    public int PanelLeft => Width - Margin - PanelWidth;

    public int PanelBottom => Math.Max(Frame.Bottom, Frame.Top + SmallestPanelHeight);

    public static MapLayout Of(BoundingBox extent)
    {
        double middle = (extent.SouthDegrees + extent.NorthDegrees) / 2;
        double wide = GroundDistance.MetresPerDegreeLongitude(middle) * (extent.EastDegrees - extent.WestDegrees);
        double tall = GroundDistance.MetresPerDegreeLatitude(middle) * (extent.NorthDegrees - extent.SouthDegrees);
        double scale = Math.Min(LargestWidth / wide, LargestHeight / tall);
        int width = Math.Max(1, (int)Math.Round(wide * scale)), height = Math.Max(1, (int)Math.Round(tall * scale));
        // A slim region sits in the middle of room wide enough for a heading, a low one in room high enough for the legend.
        int roomWidth = Math.Max(width, SmallestWidth), roomHeight = Math.Max(height, SmallestPanelHeight);
        int left = Margin + LatitudeLabels + (roomWidth - width) / 2, top = HeaderHeight + (roomHeight - height) / 2;
        return new(
            Margin + LatitudeLabels + roomWidth + PanelGap + PanelWidth + Margin,
            HeaderHeight + roomHeight + FooterHeight,
            SKRectI.Create(left, top, width, height),
            extent);
    }

    public float X(double longitudeDegrees) =>
        (float)(Frame.Left + (longitudeDegrees - Extent.WestDegrees) / (Extent.EastDegrees - Extent.WestDegrees) * Frame.Width);

    public float Y(double latitudeDegrees) =>
        (float)(Frame.Top + (Extent.NorthDegrees - latitudeDegrees) / (Extent.NorthDegrees - Extent.SouthDegrees) * Frame.Height);
}
