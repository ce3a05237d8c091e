using FsCheck.Xunit;

namespace DecayAtlas.Grids.Tests;

public sealed class GridProperties
{
    [Property]
    public bool The_centre_of_a_cell_lies_in_that_cell(ushort columns, ushort rows, byte west, byte north, byte finer)
    {
        int across = columns % 5000 + 1;
        int down = rows % 2500 + 1;
        double cell = Math.Min(360.0 / across, 170.0 / down) / (1 + finer);
        GridLattice geometry = new(across, down, west - 180, 85 - north % 80 * (85 - down * cell) / 85, cell, cell);
        int column = across * 7 / 11;
        int row = down * 5 / 13;
        return geometry.TryLocate(geometry.CentreOf(column, row), out double x, out double y)
            && Math.Abs(x - column - 0.5) < 1e-6 && Math.Abs(y - row - 0.5) < 1e-6;
    }

    [Property(MaxTest = 25)]
    public bool Sampling_a_plane_bilinearly_is_exact(sbyte a, sbyte b, sbyte c, byte seed)
    {
        GridLattice geometry = new(40, 30, -5, 60, 0.5, 0.25);
        // The coefficients keep the plane at cell centres exact in single precision.
        using Scene scene = new(geometry, i => a + b * 0.5f * (i % 40) + c * 0.25f * (i / 40));
        Random random = new(seed);
        for (int i = 0; i < 50; i++)
        {
            double column = 0.5 + random.NextDouble() * 39 * 0.999;
            double row = 0.5 + random.NextDouble() * 29 * 0.999;
            GeoPoint point = new(-5 + column * 0.5, 60 - row * 0.25);
            GridSample sample = GridSampler.Sample(scene.Grid, [point], SamplingRule.Bilinear, null)[0];
            double expected = a + b * 0.5 * (column - 0.5) + c * 0.25 * (row - 0.5);
            if (sample.Rule != SamplingRule.Bilinear || Math.Abs(sample.Value!.Value - expected) > 1e-8)
                return false;
        }

        return true;
    }

    [Property(MaxTest = 25)]
    public bool The_order_of_the_points_does_not_matter(int seed, bool bilinear, bool searches)
    {
        Random random = new(seed);
        using Scene scene = new(new GridLattice(300, 280, -180, 84, 1.2, 0.6), i => i * 31 % 17 < 6 ? float.NaN : i);
        GeoPoint[] points = [.. Enumerable.Range(0, 200)
            .Select(_ => new GeoPoint(random.NextDouble() * 400 - 200, random.NextDouble() * 200 - 100))];
        SamplingRule rule = bilinear ? SamplingRule.Bilinear : SamplingRule.Nearest;
        double? within = searches ? 300_000 : null;
        IReadOnlyList<GridSample> asked = GridSampler.Sample(scene.Grid, points, rule, within);
        int[] order = [.. Enumerable.Range(0, 200)];
        random.Shuffle(order);
        IReadOnlyList<GridSample> shuffled = GridSampler.Sample(scene.Grid, [.. order.Select(i => points[i])], rule, within);
        return order.Select((i, at) => asked[i] == shuffled[at]).All(same => same)
            && asked.Zip(points).All(pair => GridSampler.Sample(scene.Grid, [pair.Second], rule, within)[0] == pair.First);
    }
}
