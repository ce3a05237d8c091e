using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>
/// Where everything sits, in pixels. A map in degrees is drawn in the equirectangular projection whose true parallel is its middle
/// latitude, so that shapes are right there and a kilometre is as long east-west as north-south; any other in its own projection.
/// </summary>
internal sealed record MapLayout(int Width, int Height, SKRectI Frame, SKRectI Panel, bool PanelBelow, MapLattice Lattice)
{
    public const int Margin = 44, LatitudeLabels = 74, HeaderHeight = 118;

    private const int PanelGap = 36, PanelWidth = 260, PanelBelowGap = 66, PanelBelowHeight = 112, LongitudeLabels = 30, FooterHeight = 92,
        LargestWidth = 1240, LargestHeight = 1120, SmallestWidth = 380, SmallestHeight = 600;

    public double MiddleLatitudeDegrees => Lattice.Projection.IsGeographic
        ? (Lattice.Cells.North + Lattice.Cells.South) / 2
        : Lattice.PlaceOf(Lattice.Columns / 2.0, Lattice.Rows / 2.0) is var p && double.IsNaN(p.LatitudeDegrees) ? 0 : p.LatitudeDegrees;

    public double MetresPerPixel => Lattice.Projection.IsGeographic
        ? GroundDistance.MetresPerDegreeLongitude(MiddleLatitudeDegrees) * (Lattice.Cells.East - Lattice.Cells.West) / Frame.Width
        : MetresAcrossTheMiddle() / Frame.Width * Lattice.Columns;

    /// <summary>The legend stands right of the map, or lies below one that is too low to stand beside.</summary>
    public static MapLayout Of(MapLattice lattice)
    {
        GridLattice cells = lattice.Cells;
        double middle = (cells.South + cells.North) / 2;
        (double wide, double tall) = lattice.Projection.IsGeographic
            ? (GroundDistance.MetresPerDegreeLongitude(middle) * (cells.East - cells.West), GroundDistance.MetresPerDegreeLatitude(middle)
                * (cells.North - cells.South))
            : (cells.East - cells.West, cells.North - cells.South);
        double scale = Math.Min(LargestWidth / wide, LargestHeight / tall);
        int width = Math.Max(1, (int)Math.Round(wide * scale)), height = Math.Max(1, (int)Math.Round(tall * scale));
        // A slim region sits in the middle of room that is wide enough for a heading.
        int room = Math.Max(width, SmallestWidth), left = Margin + LatitudeLabels;
        SKRectI frame = SKRectI.Create(left + (room - width) / 2, HeaderHeight, width, height);
        bool below = height < SmallestHeight;
        SKRectI panel = below
            ? SKRectI.Create(left, frame.Bottom + PanelBelowGap, room, PanelBelowHeight)
            : SKRectI.Create(left + room + PanelGap, HeaderHeight, PanelWidth, height);
        return new(
            panel.Right + Margin,
            Math.Max(frame.Bottom + LongitudeLabels, panel.Bottom) + FooterHeight,
            frame, panel, below, lattice);
    }

    /// <summary>Pixels of a place; null where it has none in the projection. It may lie outside the frame.</summary>
    public SKPoint? At(GeoPoint place)
    {
        if (!Lattice.Projection.TryProject(place, out double x, out double y))
            return null;
        GridLattice cells = Lattice.Cells;
        if (Lattice.Projection.IsGeographic && x < cells.West && x + 360 <= cells.East)
            x += 360;
        return new((float)(Frame.Left + (x - cells.West) / (cells.East - cells.West) * Frame.Width),
            (float)(Frame.Top + (cells.North - y) / (cells.North - cells.South) * Frame.Height));
    }

    /// <summary>The place under a point of the frame, 0..1 from west and from north; not-a-number off the map.</summary>
    public GeoPoint PlaceAt(double fromWest, double fromNorth) => Lattice.PlaceOf(fromWest * Lattice.Columns, fromNorth * Lattice.Rows);

    /// <summary>Ground length of one cell in the middle of the map.</summary>
    private double MetresAcrossTheMiddle()
    {
        double middle = Lattice.Columns / 2.0, row = Lattice.Rows / 2.0;
        double metres = Lattice.PlaceOf(middle - 0.5, row).GroundDistanceMetres(Lattice.PlaceOf(middle + 0.5, row));
        return double.IsNaN(metres) ? Lattice.Cells.CellWidth * Lattice.Projection.UnitMetres : metres;
    }
}
