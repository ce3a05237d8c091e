using NetTopologySuite.Geometries;

namespace DecayAtlas.Prediction.Regions;

/// <summary>A predicted cell of a map that lies in a region at least in part.</summary>
/// <param name="Share">Of the cell that lies inside, above 0.</param>
/// <param name="Value">k (d⁻¹) or S, as the map shows.</param>
/// <param name="Square">Which of the squares that the region is cut into holds it.</param>
internal readonly record struct RegionCell(int Column, int Row, double Share, (int Column, int Row) Square, double Value,
    bool IsApplicable)
{
    /// <summary>Ends of the interval.</summary>
    public double Lower { get; init; }

    public double Upper { get; init; }
}

/// <summary>Goes through the predicted cells of a region, a block at a time.</summary>
internal static class RegionCells
{
    private const int Side = 16;
    /// <summary>The box around a region is cut into about so many squares, so that sums over pairs of them stay short.</summary>
    private const double MostSquares = 1000;

    /// <param name="region">Missing for the whole map.</param>
    public static void ForEach(MapReader map, Geometry? region, Action<RegionCell> take)
    {
        double[][] layers = [.. MapBands.Tif(map.Of).Select(_ => new double[Side * Side])];
        if (region is null)
        {
            ForEach(map, new Envelope(0, map.Lattice.Columns, 0, map.Lattice.Rows), layers, (_, _) => Whole, take);
            return;
        }

        foreach (RegionShape shape in RegionShape.On(region, map.Lattice))
            ForEach(map, shape.Box, layers, (column, row) => shape.Shares(column, row, Side), take);
    }

    private static double[] Whole { get; } = [.. Enumerable.Repeat(1.0, Side * Side)];

    private static void ForEach(MapReader map, Envelope box, double[][] layers, Func<int, int, double[]?> sharesOf,
        Action<RegionCell> take)
    {
        int west = From(box.MinX), north = From(box.MinY);
        int east = To(box.MaxX, map.Lattice.Columns), south = To(box.MaxY, map.Lattice.Rows);
        double cells = (double)Math.Max(0, east - west) * Math.Max(0, south - north);
        int square = Math.Max(1, (int)Math.Ceiling(Math.Sqrt(cells / MostSquares)));
        for (int row = north; row < south; row += Side)
        {
            for (int column = west; column < east; column += Side)
            {
                if (sharesOf(column, row) is not { } shares)
                    continue;
                map.Read(column, row, Side, layers);
                for (int i = 0; i < shares.Length; i++)
                {
                    // a polygon that follows the cells' edges touches its neighbours by a rounding
                    if (shares[i] < 1e-9 || double.IsNaN(layers[MapBands.Value][i]))
                        continue;
                    (int x, int y) = (column + i % Side, row + i / Side);
                    take(new(x, y, shares[i], (x / square, y / square), layers[MapBands.Value][i], layers[MapBands.Applicable][i] != 0)
                    {
                        Lower = layers[MapBands.Lower][i],
                        Upper = layers[MapBands.Upper][i],
                    });
                }
            }
        }
    }

    private static int From(double edge) => (int)Math.Max(0, Math.Floor(edge) - Math.Floor(edge) % Side);

    private static int To(double edge, int cells) => (int)Math.Min(cells, Math.Ceiling(edge));
}
