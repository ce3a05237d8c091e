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
}

/// <summary>Values along a scale.</summary>
internal sealed class ScaledCells(ThinnedMap raster, RateScale scale) : IPicturedCells
{
    public int CellColumns => raster.CellColumns;

    public int CellRows => raster.CellRows;

    public int CellsPerPixel => raster.CellsPerPixel;

    public SKColor? ColourAt(int column, int row) => raster.RateAt(column, row) is var value && double.IsNaN(value) ? null
        : raster.IsUntoldAt(column, row) ? Ink.Untold : scale.Colour(value);

    public bool IsOutsideAt(int column, int row) => raster.IsOutsideAt(column, row);
}
