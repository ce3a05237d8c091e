namespace DecayAtlas.Prediction.Siting;

/// <summary>A cell that could be proposed.</summary>
internal sealed record SiteCell(int Column, int Row, (int Column, int Row) Square, GeoPoint Place, bool IsApplicable);

/// <summary>
/// A region of a map cut into squares, for the error of its mean and for places to choose from: one cell of each square, drawn by a number
/// made of its column and row. So a map of millions of cells is asked at a thousand places that stand for all of it.
/// </summary>
internal sealed class SiteSquares(MapLattice lattice, ErrorCorrelation errors, bool isOutsideToo)
{
    /// <summary>So many cells of a square are looked at for one that may be proposed.</summary>
    private const int MostTried = 8;

    private readonly SortedDictionary<(int, int), List<(ulong Order, SiteCell Cell)>> _squares = [];

    public MeanError Mean { get; } = new(errors);

    public void Add(RegionCell cell)
    {
        GeoPoint place = lattice.CentreOf(cell.Column, cell.Row);
        Mean.Add(cell.Square, place, cell.Share * lattice.KnownAreaOf(cell.Column, cell.Row) * cell.Value);
        if (!_squares.TryGetValue(cell.Square, out List<(ulong Order, SiteCell Cell)>? tried))
            _squares[cell.Square] = tried = [];
        // a site lies in the region where most of its cell does
        if (cell.Share < 0.5 || (!cell.IsApplicable && !isOutsideToo))
            return;
        ulong order = OrderOf(cell.Column, cell.Row);
        if (tried.Count == MostTried && order > tried[^1].Order)
            return;
        int at = tried.FindIndex(t => t.Order > order);
        tried.Insert(at < 0 ? tried.Count : at, (order, new(cell.Column, cell.Row, cell.Square, place, cell.IsApplicable)));
        if (tried.Count > MostTried)
            tried.RemoveAt(MostTried);
    }

    /// <summary>One cell of each square that has one which may be proposed.</summary>
    public (IReadOnlyList<SiteCell> Cells, SiteTally Tally) Candidates(NeighbourSites known, AvoidedAreas avoided, double apartMetres)
    {
        List<SiteCell> cells = [];
        int outside = 0, near = 0;
        SortedDictionary<string, int> by = new(StringComparer.Ordinal);
        foreach (List<(ulong, SiteCell)> tried in _squares.Values)
        {
            (SiteCell? found, string? name) = (null, null);
            foreach ((_, SiteCell cell) in tried)
            {
                if (avoided.At(cell.Column, cell.Row) is { } area)
                {
                    name = area;
                }
                else if (!known.IsNear(cell.Place, apartMetres))
                {
                    found = cell;
                    break;
                }
            }

            if (found is not null)
                cells.Add(found);
            else if (tried.Count == 0)
                outside++;
            else if (name is null)
                near++;
            else
                by[name] = by.GetValueOrDefault(name) + 1;
        }
        return (cells, new(_squares.Count, cells.Count, outside, near, by));
    }

    /// <summary>Without order in space: the mixing step of splitmix64 (Steele, Lea and Flood 2014, from memory).</summary>
    private static ulong OrderOf(int column, int row)
    {
        ulong z = unchecked((((ulong)(uint)column << 32) | (uint)row) + 0x9E3779B97F4A7C15UL);
        z = unchecked((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL);
        z = unchecked((z ^ (z >> 27)) * 0x94D049BB133111EBUL);
        return z ^ (z >> 31);
    }
}
