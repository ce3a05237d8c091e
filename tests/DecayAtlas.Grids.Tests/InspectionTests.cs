using System.Globalization;
using System.Text.RegularExpressions;

namespace DecayAtlas.Grids.Tests;

/// <summary>What is told of a file before it is used.</summary>
public sealed class InspectionTests
{
    [Theory]
    [InlineData("bcsd_tas_1999_07.tif")]
    [InlineData("landcover_albers.tif")]
    public void Size_place_and_statistics_are_those_that_gdalinfo_prints(string file)
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        File.Copy(TestFolder.Data(file), folder.File(file));
        string said = Gdal.Run("gdalinfo", null, "-stats", folder.File(file));
        GridInspection found = GridInspection.Of(folder.File(file));
        Assert.Null(found.Refusal);
        Assert.Contains($"Size is {found.Place!.Lattice.Columns}, {found.Place.Lattice.Rows}", said, StringComparison.Ordinal);
        // gdalinfo prints three decimals.
        Assert.Equal(Number("Minimum"), found.Values!.Minimum!.Value, 5.1e-4);
        Assert.Equal(Number("Maximum"), found.Values.Maximum!.Value, 5.1e-4);
        Assert.Equal(Number("Mean"), found.Values.Mean!.Value, 5.1e-4);
        if (Regex.Match(said, @"STATISTICS_VALID_PERCENT=([\d.]+)") is { Success: true } valid)
            Assert.Equal(100 - double.Parse(valid.Groups[1].Value, CultureInfo.InvariantCulture), 100 * found.Values.MissingShare, 0.01);

        double Number(string what) => double.Parse(Regex.Match(said, what + @"=(-?[\d.]+)").Groups[1].Value, CultureInfo.InvariantCulture);
    }

    [Fact]
    public void How_numbers_are_stored_and_what_is_inside_a_GeoTIFF_is_told()
    {
        Gdal.SkipUnlessInstalled();
        using TestFolder folder = new();
        Gdal.Translate(TestFolder.Data("bcsd_tas_1999_07.tif"), folder.File("t.tif"), "-outsize", "320", "160", "-co", "TILED=YES", "-co",
            "BLOCKXSIZE=64", "-co", "BLOCKYSIZE=32", "-co", "COMPRESS=ZSTD", "-co", "PREDICTOR=3", "-co", "BIGTIFF=YES");
        Gdal.Run("gdaladdo", null, "-q", folder.File("t.tif"), "2", "4");
        GridDescription found = GridFile.Describe(folder.File("t.tif"));
        Assert.Equal("GeoTIFF (BigTIFF)", found.Format);
        GridStorage storage = found.Layers[0].Storage!;
        Assert.Equal(("floating-point numbers of 32 bits", "ZSTD", 3, "tiles of 64 x 32 cells", false, false),
            (storage.NumberType, storage.Compression!, storage.Predictor!.Value, storage.Blocks, storage.HasMask, storage.HasColours));
        Assert.Equal(["160 x 80", "80 x 40"], storage.Overviews);
        Assert.True(GridFile.Describe(TestFolder.Data("landcover_albers.tif")).Layers[0].Storage!.HasColours);
        Assert.Equal("chunks of 1 x 11 x 27 values", GridFile.Describe(TestFolder.Data("bcsd_obs_1999_nc4.nc")).Layers[0].Storage!.Blocks);
    }

    [Fact]
    public void A_large_grid_is_sampled_in_blocks_spread_evenly_and_said_so()
    {
        using TestFolder folder = new();
        // 8 x 8 tiles; the value is the column, so that an even sample has the mean of the whole.
        GridLattice geometry = new(2048, 2048, 0, 20, 0.01, 0.01);
        using (GeoTiffWriter writer = new(folder.File("large.tif"), geometry, [new GeoTiffBand("x", "1")]))
        {
            for (int row = 0; row < 8; row++)
            {
                for (int column = 0; column < 8; column++)
                {
                    int left = column * GeoTiffWriter.TileSize;
                    writer.WriteTile(0, column,
                        row, [.. Enumerable.Range(0, GeoTiffWriter.TileSize * GeoTiffWriter.TileSize)
                            .Select(i => (float)(left + i % GeoTiffWriter.TileSize))]);
                }
            }
        }

        using Grid grid = GridFile.Open(folder.File("large.tif"));
        GridStatistics all = GridStatistics.Of(grid);
        Assert.True(all.IsExact);
        Assert.Equal((0, 2047, 1023.5), (all.Minimum!.Value, all.Maximum!.Value, all.Mean!.Value));
        Assert.Equal(1023.5, all.Quantile(0.5)!.Value, 1.0);
        long before = grid.BlocksDecoded;
        GridStatistics some = GridStatistics.Of(grid, 16 * 256 * 256);
        Assert.False(some.IsExact);
        Assert.Equal(16 * 256 * 256, some.CellsRead);
        Assert.Equal(1023.5, some.Mean!.Value, 256.0);
        Assert.True(grid.BlocksDecoded - before <= 16);
    }

    [Fact]
    public void A_file_without_a_reference_system_is_described_and_its_refusal_told()
    {
        using TestFolder folder = new();
        string path = folder.Write("a.asc", "ncols 2\nnrows 1\nxllcorner 5\nyllcorner 50\ncellsize 1\n1 2\n");
        GridInspection found = GridInspection.Of(path);
        Assert.Contains("names no coordinate reference system", found.Refusal, StringComparison.Ordinal);
        Assert.Equal("WGS 84 (EPSG:4326)", GridInspection.Of(path, new GridReadOptions(Crs: "EPSG:4326")).Place!.Crs);
    }

    [Fact]
    public void A_dimension_left_open_is_at_its_first_step()
    {
        GridInspection found = GridInspection.Of(TestFolder.Data("bcsd_obs_1999.nc"), new GridReadOptions(Variable: "tas"));
        Assert.Equal("#1", found.Options.Select!["time"]);
        Assert.Equal(0.125 * 81, found.Place!.Ground.EastDegrees - found.Place.Ground.WestDegrees, 1e-9);
        Assert.Contains("no variable snow",
            Assert.Throws<GridException>(() =>
                GridInspection.Of(TestFolder.Data("bcsd_obs_1999.nc"), new GridReadOptions(Variable: "snow"))).Message,
                StringComparison.Ordinal);
    }
}
