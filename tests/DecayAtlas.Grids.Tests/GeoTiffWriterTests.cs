namespace DecayAtlas.Grids.Tests;

public sealed class GeoTiffWriterTests
{
    [Fact]
    public void What_is_written_is_read_back()
    {
        string path = Path.Combine(Path.GetTempPath(), "w.tif");
        GridGeometry geometry = new(300, 270, -10, 60, 0.1, 0.2);
        float[] values = [.. Enumerable.Range(0, 300 * 270).Select(i => i % 7 == 0 ? float.NaN : i * 0.25f)];
        GeoTiffWriter.WriteSingle(path, geometry, values, new GeoTiffBand("soil warmth", "degC"));
        using Grid grid = GridFile.Open(path);
        double[] back = new double[values.Length];
        grid.ReadWindow(0, 0, 300, 270, back);
        Assert.Equal(values.Select(v => (double)v), back);
        Assert.Equal(geometry, grid.Geometry);
    }
}
