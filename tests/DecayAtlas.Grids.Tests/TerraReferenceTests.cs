using System.Globalization;

namespace DecayAtlas.Grids.Tests;

/// <summary>
/// Values computed outside the project with R terra 1.7-3 (see data/README.md). The original stores single precision, and
/// terra computes in double.
/// </summary>
public sealed class TerraReferenceTests
{
    public static TheoryData<string, string> Grids => new()
    {
        { "bcsd_obs_1999.nc:pr:1999-07", "bcsd_pr_1999_07.tif" },
        { "bcsd_obs_1999.nc:tas:1999-07", "bcsd_tas_1999_07.tif" },
        { "bcsd_obs_1999.nc:pr:1999-07", "bcsd_obs_1999.nc:pr" },
        { "bcsd_obs_1999.nc:tas:1999-07", "bcsd_obs_1999.nc:tas" },
        { "bcsd_obs_1999.nc:pr:1999-07", "bcsd_obs_1999_nc4.nc:pr" },
        { "bcsd_obs_1999.nc:tas:1999-07", "bcsd_obs_1999_nc4.nc:tas" },
        { "landcover_albers.tif", "landcover_albers.tif" },
    };

    [Theory]
    [MemberData(nameof(Grids))]
    public void Nearest_values_are_those_of_terra(string reference, string file)
    {
        Row[] rows = Rows(reference);
        using Grid grid = Open(file);
        IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, [.. rows.Select(r => r.Point)], SamplingRule.Nearest, null);
        Assert.Equal(file == "landcover_albers.tif" ? 40 : 45, rows.Length);
        for (int i = 0; i < rows.Length; i++)
        {
            Assert.Equal(rows[i].Nearest is null ? SampleStatus.Missing : SampleStatus.Sampled, samples[i].Status);
            Assert.Equal(rows[i].Nearest is null, samples[i].Value is null);
            if (rows[i].Nearest is { } expected)
            {
                // The CSV carries 15 significant digits.
                Assert.Equal(expected, samples[i].Value!.Value, Math.Abs(expected) * 1e-14);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Grids))]
    public void Bilinear_values_are_those_of_terra_where_all_four_cells_hold_a_value(string reference, string file)
    {
        Row[] rows = [.. Rows(reference).Where(r => r.Bilinear is not null)];
        using Grid grid = Open(file);
        IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, [.. rows.Select(r => r.Point)], SamplingRule.Bilinear, null);
        int compared = 0;
        for (int i = 0; i < rows.Length; i++)
        {
            if (samples[i].Rule == SamplingRule.Bilinear)
            {
                compared++;
                Assert.Equal(rows[i].Bilinear!.Value,
                    samples[i].Value!.Value, Math.Abs(rows[i].Bilinear!.Value) * (grid.Projection.IsGeographic ? 1e-12 : 1e-6));
            }
        }

        Assert.InRange(compared, 34, rows.Length);
    }

    [Fact]
    public void A_grid_in_a_projection_has_no_cells_in_degrees_and_a_false_declaration_is_refused()
    {
        using Grid grid = GridFile.Open(TestFolder.Data("landcover_albers.tif"), new GridReadOptions(Crs: "EPSG:5070"));
        Assert.Equal(new GridLattice(84, 46, 3_092_415, 59_415, 3000, 3000), grid.Lattice);
        Assert.Contains("Albers", grid.Projection.Definition.Method.ToString(), StringComparison.Ordinal);
        Assert.Contains("not in degrees", Assert.Throws<GridException>(() => grid.LatticeInDegrees).Message, StringComparison.Ordinal);
        GridException e =
            Assert.Throws<GridException>(() =>
                GridFile.Open(TestFolder.Data("landcover_albers.tif"), new GridReadOptions(Crs: "EPSG:4326")));
        Assert.Contains("declares EPSG:4326", e.Message, StringComparison.Ordinal);
    }

    private static Grid Open(string file) => file.Split(':') is [var name, var variable]
        ? GridFile.Open(TestFolder.Data(name),
            new GridReadOptions(Variable: variable, Select: new Dictionary<string, string> { ["time"] = "1999-07" }))
        : GridFile.Open(TestFolder.Data(file));

    private static Row[] Rows(string grid) => [.. File.ReadLines(TestFolder.Data("grid_reference_values.csv"))
        .Skip(1)
        .Select(line => line.Split(','))
        .Where(cells => cells[0].Trim('"') == grid)
        .Select(cells => new Row(new GeoPoint(Number(cells[1])!.Value, Number(cells[2])!.Value), Number(cells[3]), Number(cells[4])))];

    private static double? Number(string cell) => cell.Length == 0 ? null : double.Parse(cell, CultureInfo.InvariantCulture);

    private sealed record Row(GeoPoint Point, double? Nearest, double? Bilinear);
}
