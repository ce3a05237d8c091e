namespace DecayAtlas.Grids.Tests;

/// <summary>A grid on disk whose cell i (row by row) holds a given value.</summary>
internal sealed class Scene : IDisposable
{
    private readonly TestFolder _folder = new();

    public Scene(GridLattice geometry, Func<int, float> valueOf)
    {
        string path = _folder.File("scene.tif");
        GeoTiffWriter.WriteSingle(
            path, geometry, [.. Enumerable.Range(0, geometry.Columns * geometry.Rows).Select(valueOf)], new GeoTiffBand("x", ""));
        Grid = GridFile.Open(path);
    }

    public Grid Grid { get; }

    public void Dispose()
    {
        Grid.Dispose();
        _folder.Dispose();
    }
}
