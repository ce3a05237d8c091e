namespace DecayAtlas.Grids.Tests;

public sealed class GridDescriptionTests
{
    /// <summary>What gdalinfo and the file's own header say of the published file.</summary>
    [Theory]
    [InlineData("bcsd_obs_1999.nc", "NetCDF-3")]
    [InlineData("bcsd_obs_1999_nc4.nc", "NetCDF-4")]
    public void A_NetCDF_file_tells_its_variables_units_and_steps(string file, string format)
    {
        GridDescription found = GridFile.Describe(TestFolder.Data(file));
        Assert.Equal(format, found.Format);
        Assert.Equal(["pr", "tas"], found.Layers.Select(l => l.Variable).Order());
        GridLayer rain = found.Layers.Single(l => l.Variable == "pr");
        Assert.Equal(("mm/m", "monthly_sum_pr"), (rain.Unit, rain.Title));
        GridDimension time = Assert.Single(rain.Dimensions);
        // 17927 days since 1950-01-01 is 31 January 1999, 18261 is 31 December.
        Assert.Equal(("time", 12, "1999-01-31", "1999-12-31"), (time.Name, time.Steps.Count, time.Steps[0], time.Steps[11]));
    }

    [Fact]
    public void A_GeoTIFF_tells_its_bands_and_every_grid_its_box_on_the_ground()
    {
        using TestFolder folder = new();
        using (GeoTiffWriter writer = new(folder.File("two.tif"),
            new GridLattice(10, 10, 5, 50, 1, 1), [new GeoTiffBand("warmth", "°C"), new GeoTiffBand("rain & snow", "mm")]))
        {
            writer.WriteTile(0, 0, 0, new float[GeoTiffWriter.TileSize * GeoTiffWriter.TileSize]);
        }

        Assert.Equal([("warmth", "°C"), ("rain & snow", "mm")],
            GridFile.Describe(folder.File("two.tif")).Layers.Select(l => (l.Title!, l.Unit!)));
        using Grid degrees = GridFile.Open(folder.File("two.tif"));
        Assert.Equal(new GroundExtent(5, 40, 15, 50), degrees.Extent());

        // The outermost corners that gdalinfo prints: 67d31'06.31" W, 64d57'03.09" W, 17d12'09.45" N, 19d09'50.50" N.
        using Grid island = GridFile.Open(TestFolder.Data("landcover_albers.tif"));
        GroundExtent box = island.Extent();
        Assert.Equal(-(67 + 31 / 60.0 + 6.31 / 3600), box.WestDegrees, 1e-5);
        Assert.Equal(-(64 + 57 / 60.0 + 3.09 / 3600), box.EastDegrees, 1e-5);
        Assert.Equal(17 + 12 / 60.0 + 9.45 / 3600, box.SouthDegrees, 1e-5);
        Assert.Equal(19 + 9 / 60.0 + 50.50 / 3600, box.NorthDegrees, 1e-5);
        string text =
            "ncols 40\nnrows 40\nxllcorner -2000000\nyllcorner -2000000\ncellsize 100000\n"
            + string.Join(' ', Enumerable.Repeat("1", 1600));
        using Grid pole = GridFile.Open(folder.Write("pole.asc", text), new GridReadOptions(Crs: "EPSG:3995"));
        Assert.Equal((-180.0, 180.0, 90.0), (pole.Extent().WestDegrees, pole.Extent().EastDegrees, pole.Extent().NorthDegrees));
        Assert.Equal("Esri ASCII grid",
            GridFile.Describe(
                folder.Write("d.asc", text.Replace("-2000000", "0", StringComparison.Ordinal)
                    .Replace("100000", "0.5", StringComparison.Ordinal))).Format);
    }
}
