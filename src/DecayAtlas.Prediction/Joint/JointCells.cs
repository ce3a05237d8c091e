using SkiaSharp;

namespace DecayAtlas.Prediction.Joint;

/// <summary>Classes as a picture shows them: of a map larger than the picture, the cell in the middle of each pixel. Pale where an interval
/// holds a cut.</summary>
internal sealed class JointCells : IPicturedCells
{
    private const byte Told = 16, Outside = 32, Code = 15;

    private readonly byte[] _pixels;
    private readonly int _columns;

    public JointCells(int columns, int rows)
    {
        (CellColumns, CellRows) = (columns, rows);
        CellsPerPixel = (Math.Max(columns, rows) + ThinnedMap.MaximumSide - 1) / ThinnedMap.MaximumSide;
        _columns = (columns + CellsPerPixel - 1) / CellsPerPixel;
        _pixels = new byte[_columns * ((rows + CellsPerPixel - 1) / CellsPerPixel)];
    }

    public int CellColumns { get; }

    public int CellRows { get; }

    public int CellsPerPixel { get; }

    public static SKColor ColourOf(JointClass of, bool isTold) =>
        SKColor.Parse(isTold ? of.Colour : HouseColours.JointPale[of.Code - 1]);

    public void Add(int column, int row, JointClass of, bool isTold, bool isApplicable)
    {
        ref byte pixel = ref _pixels[row / CellsPerPixel * _columns + column / CellsPerPixel];
        // the first cell stands in until the middle one comes, which pixels at the edge may lack
        if (pixel == 0 || (column % CellsPerPixel == CellsPerPixel / 2 && row % CellsPerPixel == CellsPerPixel / 2))
            pixel = (byte)(of.Code + (isTold ? Told : 0) + (isApplicable ? 0 : Outside));
    }

    public SKColor? ColourAt(int column, int row) => _pixels[row * _columns + column] is var pixel and not 0
        ? ColourOf(JointClass.All[(pixel & Code) - 1], (pixel & Told) != 0) : null;

    public bool IsOutsideAt(int column, int row) => (_pixels[row * _columns + column] & Outside) != 0;

    public PictureShows Shows() => new(_pixels.Any(p => (p & Outside) != 0), false, _pixels.Contains((byte)0));
}
