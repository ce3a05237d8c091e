namespace DecayAtlas.Grids.Tests;

public sealed class GridSamplerTests
{
    [Fact]
    public void A_cell_owns_its_west_and_north_edge_and_the_grid_its_outer_edges()
    {
        using Scene scene = new(new GridLattice(4, 3, 10, 53, 1, 1), i => i);
        Assert.Equal([0, 1, 4, 3, 8, 11], Values(scene.Grid, (10, 53), (11, 52.5), (10.5, 52), (14, 53), (10, 50), (14, 50)));
        foreach ((double x, double y) in ((double, double)[])[(9.999, 52), (14.001, 52), (12, 53.001), (12, 49.999), (double.NaN, 52),
            (12, double.NaN), (double.PositiveInfinity, 52)])
        {
            Assert.Equal(SampleStatus.Outside, One(scene.Grid, x, y, SamplingRule.Nearest).Status);
            Assert.Equal(SampleStatus.Outside, One(scene.Grid, x, y, SamplingRule.Bilinear, 1e5).Status);
            Assert.Null(One(scene.Grid, x, y, SamplingRule.Bilinear).Value);
        }
    }

    [Fact]
    public void A_longitude_is_turned_once_round_the_Earth_onto_the_grid()
    {
        using Scene degrees360 = new(new GridLattice(36, 18, 0, 90, 10, 10), i => i % 36);
        Assert.Equal([35, 18, 0, 0], Values(degrees360.Grid, (-5, 0), (-180, 0), (360, 0), (-360, 0)));
        using Scene degrees180 = new(new GridLattice(36, 18, -180, 90, 10, 10), i => i % 36);
        Assert.Equal([0, 0, 18, 35], Values(degrees180.Grid, (180, 0), (-180, 0), (365, 0), (179, 0)));
        using Scene regional = new(new GridLattice(4, 3, 178, 1.5, 1, 1), i => i % 4);
        Assert.Equal([1, 2, 3, 3], Values(regional.Grid, (179.5, 0), (-179.5, 0), (-178.5, 0), (-178, 0)));
    }

    [Fact]
    public void Bilinear_goes_on_across_the_seam_of_a_grid_round_the_Earth()
    {
        using Scene scene = new(new GridLattice(36, 18, -180, 90, 10, 10), i => i % 36 == 0 ? 10 : i % 36 == 35 ? 20 : 0);
        Assert.Equal(15, One(scene.Grid, 180, 0, SamplingRule.Bilinear).Value!.Value, 1e-12);
        Assert.Equal(17.5, One(scene.Grid, 177.5, 0, SamplingRule.Bilinear).Value!.Value, 1e-12);
        Assert.Equal(12.5, One(scene.Grid, -177.5, 0, SamplingRule.Bilinear).Value!.Value, 1e-12);
    }

    [Fact]
    public void Bilinear_beside_a_missing_cell_or_at_the_edge_says_that_it_used_one_cell()
    {
        using Scene scene = new(new GridLattice(4, 4, 0, 4, 1, 1), i => i == 5 ? float.NaN : i);
        GridSample beside = One(scene.Grid, 2.2, 2.2, SamplingRule.Bilinear);
        Assert.Equal((6, SampleStatus.Sampled, SamplingRule.Nearest), (beside.Value, beside.Status, beside.Rule));
        Assert.Equal(new GeoPoint(2.2, 2.2).GroundDistanceMetres(new GeoPoint(2.5, 2.5)), beside.DistanceMetres);
        GridSample edge = One(scene.Grid, 0.2, 3.9, SamplingRule.Bilinear);
        Assert.Equal((0, SamplingRule.Nearest), (edge.Value, edge.Rule));
        Assert.Equal((SampleStatus.Missing, (double?)null),
            (One(scene.Grid, 1.4, 2.6, SamplingRule.Bilinear).Status, One(scene.Grid, 1.4, 2.6, SamplingRule.Bilinear).Value));
        GridSample whole = One(scene.Grid, 2.75, 1.25, SamplingRule.Bilinear);
        Assert.Equal((SamplingRule.Bilinear, (double?)null), (whole.Rule, whole.DistanceMetres));
    }

    [Fact]
    public void The_nearest_valid_cell_is_the_one_that_a_search_through_all_cells_finds()
    {
        Random random = new(5);
        GridLattice geometry = new(80, 60, -20, 75, 0.5, 0.25);
        bool[] valid = [.. Enumerable.Range(0, 80 * 60).Select(_ => random.Next(60) == 0)];
        using Scene scene = new(geometry, i => valid[i] ? i : float.NaN);
        GeoPoint[] points = [.. Enumerable.Range(0, 400)
            .Select(_ => new GeoPoint(-20 + random.NextDouble() * 40, 60 + random.NextDouble() * 15))];
        IReadOnlyList<GridSample> samples = GridSampler.Sample(scene.Grid, points, SamplingRule.Nearest, 60_000);
        int found = 0;
        for (int i = 0; i < points.Length; i++)
        {
            (double distance, int cell) = Enumerable.Range(0, valid.Length).Where(c => valid[c])
                .Select(c => (points[i].GroundDistanceMetres(geometry.CentreOf(c % 80, c / 80)), c)).Min();
            if (samples[i].Status == SampleStatus.Sampled)
                continue;

            Assert.Equal(distance <= 60_000 ? SampleStatus.NearestValid : SampleStatus.Missing, samples[i].Status);
            Assert.Equal(distance <= 60_000 ? cell : null, samples[i].Value);
            Assert.Equal(distance <= 60_000 ? distance : null, samples[i].DistanceMetres);
            found += distance <= 60_000 ? 1 : 0;
        }

        Assert.InRange(found, 50, 399);
    }

    [Fact]
    public void Of_cells_equally_far_the_northernmost_then_the_lowest_column_wins_and_the_seam_is_no_wall()
    {
        using Scene square = new(new GridLattice(3, 3, -1.5, 1.5, 1, 1), i => i == 4 ? float.NaN : i);
        Assert.Equal(1, One(square.Grid, 0, 0, SamplingRule.Nearest, 200_000).Value);
        using Scene row = new(new GridLattice(3, 1, -1.5, 0.5, 1, 1), i => i == 1 ? float.NaN : i);
        Assert.Equal(0, One(row.Grid, 0, 0, SamplingRule.Nearest, 200_000).Value);
        using Scene round = new(new GridLattice(36, 18, -180, 90, 10, 10), i => i % 36 == 35 ? i : float.NaN);
        GridSample sample = One(round.Grid, -179, 5, SamplingRule.Nearest, 700_000);
        Assert.Equal((8 * 36 + 35, SampleStatus.NearestValid), (sample.Value, sample.Status));
    }

    [Fact]
    public void Every_block_is_decoded_once_for_any_order_of_the_points()
    {
        // 4 x 4 tiles of 256; the points jump between them.
        using Scene scene = new(new GridLattice(1000, 1000, 0, 50, 0.05, 0.05), i => i % 977);
        Random random = new(3);
        GeoPoint[] points = [.. Enumerable.Range(0, 5000).Select(_ => new GeoPoint(random.NextDouble() * 50, random.NextDouble() * 50))];
        GridSampler.Sample(scene.Grid, points, SamplingRule.Bilinear, null);
        Assert.Equal(16, scene.Grid.BlocksDecoded);
    }

    [Fact]
    public void A_quarter_of_the_meridian_is_ten_thousand_kilometres()
    {
        // The metre was defined so; the quadrant of the WGS 84 ellipsoid is 10 001 965.729 m (textbook value).
        Assert.Equal(10_001_965.729, new GeoPoint(30, 0).GroundDistanceMetres(new GeoPoint(77, 90)), 1e-3);
    }

    internal static GridSample One(Grid grid, double x, double y, SamplingRule rule, double? within = null) =>
        GridSampler.Sample(grid, [new GeoPoint(x, y)], rule, within)[0];

    private static double?[] Values(Grid grid, params (double X, double Y)[] points) =>
        [.. GridSampler.Sample(grid, [.. points.Select(p => new GeoPoint(p.X, p.Y))], SamplingRule.Nearest, null).Select(s => s.Value)];
}
