namespace DecayAtlas.Grids.Tests;

/// <summary>What the list of formats promises of each of them. A format that is added brings its own example here.</summary>
public sealed class GridFormatTests
{
    private static string ExampleOf(GridFormat format, TestFolder folder) => format.GetType().Name switch
    {
        "GeoTiffFormat" => TestFolder.Data("bcsd_tas_1999_07.tif"),
        "NetCdfFormat" => TestFolder.Data("bcsd_obs_1999.nc"),
        "AsciiFormat" => folder.Write("a.asc", "ncols 2\nnrows 2\nxllcorner 5\nyllcorner 50\ncellsize 1\n1 2\n3 4\n"),
        string other =>
            throw new InvalidOperationException($"Give {other} an example, best one of open data, and test its values against GDAL."),
    };

    [Fact]
    public void Every_format_is_recognised_by_itself_alone_and_opens_what_it_describes()
    {
        using TestFolder folder = new();
        foreach (GridFormat format in GridFile.Formats)
        {
            string example = ExampleOf(format, folder);
            Assert.Equal([format], GridFile.Formats.Where(f => f.Recognises(GridFormat.HeadOf(example))));
            // an ASCII grid says nothing of its reference system
            GridInspection found =
                GridInspection.Of(example,
                    new GridReadOptions(Crs: example.EndsWith(".asc", StringComparison.Ordinal) ? "EPSG:4326" : null));
            Assert.True(found.Refusal is null, found.Refusal);
            Assert.NotNull(found.Place);
            Assert.Equal(format.HasVariables, found.Layer.Variable is not null);
        }
    }

    [Fact]
    public void A_file_of_no_format_is_refused_with_the_names_of_all()
    {
        using TestFolder folder = new();
        string refusal = Assert.Throws<GridException>(() => GridFile.Open(folder.Write("a.tif", "PK\u0003\u0004 a zip"))).Message;
        Assert.All(GridFile.Formats, format => Assert.Contains(format.Article, refusal, StringComparison.Ordinal));
        Assert.Equal(refusal, Assert.Throws<GridException>(() => GridInspection.Of(folder.File("a.tif"))).Message);
    }
}
