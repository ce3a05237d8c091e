namespace DecayAtlas.Grids.Tests;

/// <summary>Areas on the WGS 84 ellipsoid against published values and a general library.</summary>
public sealed class EllipsoidalAreaTests
{
    private const double SquareKilometre = 1e6;

    /// <summary>Surface of the WGS 84 ellipsoid: 510 065 621.724 km2 (Moritz 2000, Geodetic Reference System 1980, to the digits that WGS
    /// 84 shares).</summary>
    [Fact]
    public void The_cells_of_the_globe_sum_to_its_published_surface()
    {
        GridLattice lattice = new(720, 360, -180, 90, 0.5, 0.5);
        double sum = 0;
        for (int row = 0; row < 360; row++)
            sum += 720 * EllipsoidalArea.OfCell(Projection.Wgs84, lattice, 0, row);

        Assert.Equal(510_065_621.7, sum / SquareKilometre, 0.1);
    }

    /// <summary>R terra 1.7 expanse() of 1 x 1 degree at 0, 45 and 89 north; its sides are geodesics and not parallels, so a ten-thousandth
    /// is left.</summary>
    [Theory]
    [InlineData(0, 12308.7784)]
    [InlineData(45, 8686.3793)]
    [InlineData(89, 108.8612)]
    public void A_square_degree_has_the_area_that_other_libraries_give(int south, double squareKilometres) =>
        Assert.Equal(squareKilometres, EllipsoidalArea.OfBox(10, south, 11, south + 1) / SquareKilometre, squareKilometres * 1e-4);

    /// <summary>A part of Europe cut into cells of different maps covers the same ground, so their areas must agree.</summary>
    [Theory]
    [InlineData("EPSG:3035", true)]
    [InlineData("EPSG:6933", true)]
    [InlineData("EPSG:3034", false)]
    [InlineData("EPSG:32632", false)]
    [InlineData("EPSG:3395", false)]
    [InlineData("ESRI:54009", false)]
    public void A_cell_on_a_map_has_the_area_of_its_ground(string crs, bool equalArea)
    {
        Projection projection = Projection.FromText(crs);
        Assert.Equal(equalArea, projection.IsEqualArea);
        Assert.True(projection.TryProject(new GeoPoint(10.5, 48.2), out double x, out double y));
        GridLattice lattice = new(1, 1, x, y, 1000, 1000);
        // the same cell as a ring of 4000 places on the ground
        GeoPoint[] ring = [.. Enumerable.Range(0, 4000).Select(i =>
        {
            (double along, int side) = (i % 1000 / 1000.0, i / 1000);
            (double u, double v) = side switch { 0 => (along, 0.0), 1 => (1.0, along), 2 => (1 - along, 1.0), _ => (0.0, 1 - along) };
            Assert.True(projection.TryUnproject(x + 1000 * u, y - 1000 * v, out GeoPoint place));
            return place;
        })];
        double fine = EllipsoidalArea.OfRing(ring);
        Assert.Equal(fine, EllipsoidalArea.OfCell(projection, lattice, 0, 0), fine * 2e-7);
    }
}
