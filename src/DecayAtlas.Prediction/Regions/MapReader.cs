namespace DecayAtlas.Prediction.Regions;

/// <summary>Reads a map's GeoTIFF again, a block of cells at a time.</summary>
internal sealed class MapReader : IDisposable
{
    private readonly List<Grid> _bands = [];

    /// <exception cref="GridException">The file cannot be read.</exception>
    /// <exception cref="PredictionException">The file is no map of this version.</exception>
    public MapReader(string path, MapQuantity of)
    {
        Of = of;
        IReadOnlyList<GeoTiffBand> bands = MapBands.Tif(of);
        int count = GridFile.Describe(path).Layers.Count;
        if (count != bands.Count)
        {
            throw new PredictionException($"{path} has {count} bands, and a map of {of.Symbol} has {bands.Count} "
                + $"({string.Join(", ", bands.Select(b => b.Name))}); make the map again with this version.");
        }

        for (int band = 1; band <= count; band++)
        {
            _bands.Add(GridFile.Open(path, new(Band: band)));
            _bands[^1].KeepAtMost(16L << 20);
        }
        Projection projection = _bands[0].Projection is { IsGeographic: true, Code: null } ? Projection.Wgs84 : _bands[0].Projection;
        Lattice = new(projection, _bands[0].Lattice, false);
    }

    public MapQuantity Of { get; }

    public MapLattice Lattice { get; }

    /// <summary>The layers of a block, row by row; cells beyond the map are missing.</summary>
    public void Read(int column, int row, int side, double[][] layers)
    {
        int columns = Math.Min(side, Lattice.Columns - column), rows = Math.Min(side, Lattice.Rows - row);
        for (int band = 0; band < _bands.Count; band++)
        {
            Array.Fill(layers[band], double.NaN);
            for (int y = 0; y < rows; y++)
                _bands[band].ReadWindow(column, row + y, columns, 1, layers[band].AsSpan(y * side, columns));
        }
    }

    public void Dispose() => _bands.ForEach(b => b.Dispose());
}
