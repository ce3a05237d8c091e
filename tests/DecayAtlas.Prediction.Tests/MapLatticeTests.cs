namespace DecayAtlas.Prediction.Tests;

public sealed class MapLatticeTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();
    private readonly List<Grid> _open = [];

    private static readonly GridLattice World = new(720, 360, -180, 90, 0.5, 0.5);

    public void Dispose()
    {
        _open.ForEach(g => g.Dispose());
        _folder.Dispose();
    }

    [Fact]
    public void The_map_has_the_cells_of_the_finest_grid_inside_the_area_all_share()
    {
        GridLattice regional = new(300, 200, 5, 50, 0.1, 0.1);
        MapLattice lattice = Of([Grid(World), Grid(regional)]);
        Assert.Equal(regional, lattice.Cells, Same);
        Assert.False(lattice.IsClipped);
    }

    [Fact]
    public void A_world_grid_that_starts_at_Greenwich_can_be_mapped_west_of_it()
    {
        MapLattice lattice = Of([Grid(World with { West = 0 })], new(-20, 10, -10, 20));
        Assert.Equal(new(20, 20, -20, 20, 0.5, 0.5), lattice.Cells, Same);
        Assert.False(lattice.IsClipped);
    }

    [Fact]
    public void A_region_over_the_antimeridian_is_one_map_whose_longitudes_run_on()
    {
        MapLattice lattice = Of([Grid(World)], new(170, -20, -170, -10));
        Assert.Equal(new(40, 20, 170, -10, 0.5, 0.5), lattice.Cells, Same);
        Assert.False(lattice.IsClipped);
    }

    [Theory]
    [InlineData(-0.3, 0.3, 0.3, 0.8)]
    [InlineData(0.05, 0.1, 7.95, 3.3)]
    public void Only_cells_whose_centre_lies_in_the_region_are_mapped(double west, double south, double east, double north)
    {
        MapLattice lattice = Of([Grid(World)], new(west, south, east, north));
        GeoPoint first = lattice.CentreOf(0, 0);
        GeoPoint last = lattice.CentreOf(lattice.Columns - 1, lattice.Rows - 1);
        Assert.True(first.LongitudeDegrees >= west && first.LongitudeDegrees - 0.5 < west);
        Assert.True(last.LongitudeDegrees <= east && last.LongitudeDegrees + 0.5 > east);
        Assert.True(first.LatitudeDegrees <= north && first.LatitudeDegrees + 0.5 > north);
        Assert.True(last.LatitudeDegrees >= south && last.LatitudeDegrees - 0.5 < south);
    }

    [Fact]
    public void A_map_in_another_system_has_square_cells_on_multiples_of_their_size_around_the_region()
    {
        MapLattice lattice = Of([Grid(World)], new(5, 47, 15, 55), "EPSG:3035", 10_000);
        Assert.Equal((10_000, 10_000), (lattice.Cells.CellWidth, lattice.Cells.CellHeight));
        Assert.Equal(0, lattice.Cells.West % 10_000);
        Projection laea = Projection.FromText("EPSG:3035");
        foreach (GeoPoint corner in new GeoPoint[] { new(5, 47), new(15, 47), new(5, 55), new(15, 55), new(10, 55) })
        {
            Assert.True(laea.TryProject(corner, out double x, out double y));
            Assert.InRange(x, lattice.Cells.West - 5000, lattice.Cells.East + 5000);
            Assert.InRange(y, lattice.Cells.South - 5000, lattice.Cells.North + 5000);
        }
    }

    [Fact]
    public void A_grid_in_a_projection_keeps_its_own_cells_when_it_is_the_finest()
    {
        GridLattice fine = new(400, 300, 4_000_000, 3_200_000, 1000, 1000);
        MapLattice lattice = Of([Grid(World), Grid(fine, "EPSG:3035")]);
        Assert.Equal(fine, lattice.Cells, Same);
        Assert.Equal("EPSG:3035", lattice.Projection.Code);
    }

    [Fact]
    public void Requests_that_make_no_map_are_one_clear_sentence()
    {
        (Func<MapLattice> Ask, string Says)[] cases =
        [
            (() => Of([Grid(new(10, 10, 0, 10, 1, 1)), Grid(new(10, 10, 50, 10, 1, 1))]), "no area in common"),
            (() => Of([Grid(new(10, 10, 0, 10, 1, 1))], new(40, 0, 50, 5)), "outside the area"),
            (() => Of([Grid(World)], new(0, 0, 10, 10), "EPSG:3035"), "add cell_size"),
            (() => Of([Grid(World)], new(0, 0, 10, 10), "EPSG:3035", -5), "is no size"),
            (() => Of([Grid(World)], null, "EPSG:4326", 0.0005), "more than the 2200000000"),
            (() => Of([Grid(World)], new(0, 0, 10, 10), "EPSG:3035", 1e7), "holds no cell centre"),
            (() => Of([Grid(World)], null, "EPSG:9999999", 1), "The map's reference system (crs) EPSG:9999999 is none of those known here"),
            (() => Of([Grid(World)], null, "PROJCS[\"x\"]", 1), "The map's reference system (crs) cannot be used"),
        ];
        foreach ((Func<MapLattice>? ask, string? says) in cases)
            Assert.Contains(says, Assert.Throws<PredictionException>(ask).Message, StringComparison.Ordinal);
    }

    private static MapLattice Of(IReadOnlyList<Grid> grids, BoundingBox? box = null, string? crs = null, double? cell = null) =>
        MapLattice.Of(grids, box is null ? MapRegion.Whole : MapRegion.Of(box), crs, cell);

    private static bool Same(GridLattice a, GridLattice b) => a.Columns == b.Columns && a.Rows == b.Rows
        && Math.Abs(a.West - b.West) < 1e-6 && Math.Abs(a.North - b.North) < 1e-6 && Math.Abs(a.CellWidth - b.CellWidth) < 1e-9
        && Math.Abs(a.CellHeight - b.CellHeight) < 1e-9;

    private Grid Grid(GridLattice lattice, string crs = "EPSG:4326")
    {
        string path = _folder.Of($"{_open.Count}.tif");
        new GeoTiffWriter(path, Projection.FromText(crs), lattice, [new("x", "1")]).Dispose();
        _open.Add(GridFile.Open(path));
        return _open[^1];
    }
}
