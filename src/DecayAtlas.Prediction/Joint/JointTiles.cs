namespace DecayAtlas.Prediction.Joint;

/// <summary>A cell that both maps predict.</summary>
internal readonly record struct JointCell(
    int Column, int Row, double Rate, double RateLower, double RateUpper, double Stabilisation, double Lower, double Upper,
    bool IsApplicable);

/// <summary>Goes through the maps of k and S together, a tile at a time.</summary>
internal sealed class JointTiles(MapReader rates, MapReader shares)
{
    private const int Side = MapTile.Size;

    private readonly double[][] _rates = [.. MapBands.Tif(MapQuantity.DecayRate).Select(_ => new double[Side * Side])],
        _shares = [.. MapBands.Tif(MapQuantity.Stabilisation).Select(_ => new double[Side * Side])];

    private readonly MapTile _tile = new(rates.Lattice, MapRegion.Whole);

    public MapLattice Lattice => rates.Lattice;

    public void ForEach(Action<MapTile> take, Action<int, int> progress) => _tile.ForEach(() =>
    {
        rates.Read(_tile.Column, _tile.Row, Side, _rates);
        shares.Read(_tile.Column, _tile.Row, Side, _shares);
        take(_tile);
    }, progress);

    /// <param name="take">Is told each cell of the tile that both maps predict, and its place in a band.</param>
    public void EachCell(Action<JointCell, int> take)
    {
        for (int y = 0; y < _tile.Rows; y++)
        {
            for (int x = 0; x < _tile.Columns; x++)
            {
                int at = y * Side + x;
                if (double.IsNaN(_rates[MapBands.Value][at]) || double.IsNaN(_shares[MapBands.Value][at]))
                    continue;
                take(new JointCell(_tile.Column + x, _tile.Row + y, _rates[MapBands.Value][at], _rates[MapBands.Lower][at],
                    _rates[MapBands.Upper][at], _shares[MapBands.Value][at], _shares[MapBands.Lower][at], _shares[MapBands.Upper][at],
                    _rates[MapBands.Applicable][at] == 1 && _shares[MapBands.Applicable][at] == 1), at);
            }
        }
    }
}
