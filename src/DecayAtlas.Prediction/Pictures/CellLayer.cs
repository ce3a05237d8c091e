using SkiaSharp;

namespace DecayAtlas.Prediction.Pictures;

/// <summary>Cells as a picture shows them.</summary>
internal interface IPicturedCells
{
    int CellColumns { get; }

    int CellRows { get; }

    int CellsPerPixel { get; }

    /// <summary>Null without a prediction.</summary>
    SKColor? ColourAt(int column, int row);

    bool IsOutsideAt(int column, int row);

    /// <summary>Whether a change there is not told apart from none.</summary>
    bool IsUntoldAt(int column, int row) => false;
}

/// <summary>Values along a scale.</summary>
internal sealed class ScaledCells(ThinnedMap raster, RateScale scale) : IPicturedCells
{
    public int CellColumns => raster.CellColumns;

    public int CellRows => raster.CellRows;

    public int CellsPerPixel => raster.CellsPerPixel;

    public SKColor? ColourAt(int column, int row) => raster.RateAt(column, row) is var value && double.IsNaN(value) ? null
        : scale.Colour(value);

    public bool IsOutsideAt(int column, int row) => raster.IsOutsideAt(column, row);

    public bool IsUntoldAt(int column, int row) => raster.IsUntoldAt(column, row);
}

/// <summary>Fills the frame pixel by pixel: values in colour, outside the area of applicability faded and hatched, no prediction quiet, a
/// thin line between.</summary>
internal static class CellLayer
{
    public static void Draw(SKBitmap bitmap, IPicturedCells raster, MapLayout layout)
    {
        SKRectI frame = layout.Frame;
        // The last pixel of the raster may reach beyond the map's edge; the frame ends where the cells do.
        int[] columnOf = Places(frame.Width, raster.CellColumns, raster.CellsPerPixel);
        int[] rowOf = Places(frame.Height, raster.CellRows, raster.CellsPerPixel);
        Span<byte> pixels = bitmap.GetPixelSpan();
        int stride = bitmap.RowBytes;
        for (int y = 0; y < frame.Height; y++)
        {
            int at = (frame.Top + y) * stride + frame.Left * 4;
            for (int x = 0; x < frame.Width; x++, at += 4)
            {
                SKColor colour = ColourAt(x, y);
                (pixels[at], pixels[at + 1], pixels[at + 2], pixels[at + 3]) = (colour.Red, colour.Green, colour.Blue, byte.MaxValue);
            }
        }

        SKColor ColourAt(int x, int y)
        {
            if (raster.ColourAt(columnOf[x], rowOf[y]) is not { } colour)
                return IsShore(x, y) ? Ink.Shore : Ink.NoData;
            if (raster.IsOutsideAt(columnOf[x], rowOf[y]))
                return Ink.Outside(colour, x, y);
            return raster.IsUntoldAt(columnOf[x], rowOf[y]) ? Ink.Untold(colour, x, y) : colour;
        }

        // The line lies on the missing side, so that no predicted pixel is hidden.
        bool IsShore(int x, int y) => Predicted(x - 1, y) || Predicted(x + 1, y) || Predicted(x, y - 1) || Predicted(x, y + 1);

        bool Predicted(int x, int y) =>
            x >= 0 && y >= 0 && x < columnOf.Length && y < rowOf.Length && raster.ColourAt(columnOf[x], rowOf[y]) is not null;
    }

    private static int[] Places(int pixels, int cells, int cellsPerPixel) =>
        Enumerable.Range(0, pixels).Select(p => (int)((p + 0.5) / pixels * cells) / cellsPerPixel).ToArray();
}
