using DecayAtlas.Grids;

namespace DecayAtlas.Prediction.Tests;

public class MapLatticeTests
{
    private static readonly GridGeometry World = new(720, 360, -180, 90, 0.5, 0.5);

    [Fact]
    public void The_map_has_the_cells_of_the_finest_grid_inside_the_area_all_share()
    {
        var regional = new GridGeometry(300, 200, 5, 50, 0.1, 0.1);
        var (lattice, clipped) = MapLattice.Of([World, regional], null);
        Assert.Equal(regional, lattice);
        Assert.False(clipped);
    }

    [Fact]
    public void A_world_grid_that_starts_at_Greenwich_can_be_mapped_west_of_it()
    {
        var (lattice, clipped) = MapLattice.Of([World with { WestDegrees = 0 }], new(-20, 10, -10, 20));
        Assert.Equal((20, 20, -20.0, 20.0), (lattice.Columns, lattice.Rows, lattice.WestDegrees, lattice.NorthDegrees));
        Assert.False(clipped);
    }

    [Fact]
    public void Cells_beyond_the_poles_are_no_cells()
    {
        // 721 x 361 cells with centres on the whole half degrees reach a quarter degree beyond each pole and meridian.
        var (lattice, _) = MapLattice.Of([new(720, 361, -180, 90.25, 0.5, 0.5)], null);
        Assert.Equal((720, 361), (lattice.Columns, lattice.Rows));
    }

    [Theory]
    [InlineData(-0.3, 0.3, 0.3, 0.8)]
    [InlineData(0.05, 0.1, 7.95, 3.3)]
    public void Only_cells_whose_centre_lies_in_the_region_are_mapped(double west, double south, double east, double north)
    {
        var (lattice, _) = MapLattice.Of([World], new(west, south, east, north));
        var first = lattice.CentreOf(0, 0);
        var last = lattice.CentreOf(lattice.Columns - 1, lattice.Rows - 1);
        Assert.True(first.LongitudeDegrees >= west && first.LongitudeDegrees - 0.5 < west);
        Assert.True(last.LongitudeDegrees <= east && last.LongitudeDegrees + 0.5 > east);
        Assert.True(first.LatitudeDegrees <= north && first.LatitudeDegrees + 0.5 > north);
        Assert.True(last.LatitudeDegrees >= south && last.LatitudeDegrees - 0.5 < south);
    }

    [Fact]
    public void Grids_without_common_ground_are_one_clear_sentence()
    {
        var e = Assert.Throws<PredictionException>(() => MapLattice.Of([new(10, 10, 0, 10, 1, 1), new(10, 10, 50, 10, 1, 1)], null));
        Assert.Contains("no area in common", e.Message, StringComparison.Ordinal);
        var across = Assert.Throws<PredictionException>(() => MapLattice.Of([new(40, 10, 170, 10, 0.5, 0.5)], null));
        Assert.Contains("antimeridian", across.Message, StringComparison.Ordinal);
    }
}
