namespace DecayAtlas.Contributions.Sheets;

/// <summary>Cells that are one to the eye; rows 1-based, columns 0-based, both ends within.</summary>
internal readonly record struct MergedArea(int Top, int Left, int Bottom, int Right);

/// <summary>How a cell is drawn.</summary>
/// <param name="Fill">RRGGBB; null for white or none.</param>
/// <param name="Unit">Shown behind the number by its format, as in 2.05 g.</param>
/// <param name="IsPercent">The number is shown a hundred times as large, with a percent sign.</param>
/// <param name="Ink">RRGGBB of what is written; null where it is black or nearly so.</param>
internal sealed record CellFace(string? Fill, bool IsStruck, string? Unit, bool IsPercent, string? Ink = null)
{
    public static CellFace Plain { get; } = new(null, false, null, false);

    // dark greys of one sheet and another differ by where they were copied from
    private const int BrightestOfBlack = 0x50;

    /// <summary>The colour of writing where it tells a cell apart.</summary>
    public static string? InkOf(string? colour) => colour is not null && Enumerable.Range(0, 3).Any(i =>
        Convert.ToInt32(colour.Substring(2 * i, 2), 16) > BrightestOfBlack) ? colour : null;
}

/// <summary>A sheet with what a person sees of it besides its values.</summary>
internal sealed record SeenSheet(Sheet Sheet)
{
    // Faces and comments that are held of a file; no table of bags has more coloured cells.
    public const int MostFaces = 2_000_000;

    public bool IsHidden { get; init; }

    public HashSet<int> HiddenRows { get; init; } = [];

    public HashSet<int> HiddenColumns { get; init; } = [];

    /// <summary>Of cells that do not look like any other, by row and column.</summary>
    public Dictionary<(int Row, int Column), CellFace> Faces { get; init; } = [];

    public Dictionary<(int Row, int Column), string> Comments { get; init; } = [];

    public List<MergedArea> Merged { get; init; } = [];
}

/// <param name="IsText">Cells have no types.</param>
/// <param name="Encoding">How a file of text was written, where it says nothing of it itself; null otherwise.</param>
/// <param name="Separator">Of a file of text: the sign, or null for runs of spaces and for other files.</param>
internal sealed record SeenFile(string Path, IReadOnlyList<SeenSheet> Sheets, bool IsText, bool IsDate1904, string? Encoding = null,
    char? Separator = null)
{
    /// <summary>A page for a browser, whatever its name ends in.</summary>
    public bool IsPage { get; init; }

    /// <summary>Pictures in it, which nothing is read from.</summary>
    public int Pictures { get; init; }
}
