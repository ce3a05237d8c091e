using System.Globalization;

namespace DecayAtlas.Grids.Tests;

/// <summary>
/// Circles of uncertainty against brute force: a fine lattice of places over the circle, each asked which cell it lies in
/// and how far it is from the centre.
/// </summary>
public sealed class DiscTests
{
    public static TheoryData<string, double, double, double> Circles => new()
    {
        { "regional", 7.3, 51.2, 900 }, // inside one cell or on an edge
        { "regional", 7.5, 51.25, 20_000 }, // across many cells, centred on a corner
        { "regional", 5.02, 54.9, 60_000 }, // over the edge of the grid
        { "world", 179.9, -17, 90_000 }, // over the antimeridian
        { "world", 30, 89.6, 150_000 }, // over the pole
        { "world", -75, -89.99, 60_000 },
        { "EPSG:3035", 12.1, 55.3, 35_000 },
        { "EPSG:3995", -60, 88.7, 200_000 },
        { "ESRI:54009", -100.3, 48.2, 150_000 },
    };

    [Theory]
    [MemberData(nameof(Circles))]
    public void Mean_deviation_share_and_mode_are_those_of_brute_force(string kind, double longitude, double latitude, double radius)
    {
        using TestFolder folder = new();
        using Grid grid = Make(folder, kind);
        GeoPoint centre = new(longitude, latitude);
        GridSample disc = GridSampler.Sample(grid, [centre], SamplingRule.Disc, null, [radius])[0];
        GridSample mode = GridSampler.Sample(grid, [centre], SamplingRule.Mode, null, [radius])[0];

        double n = 0, valid = 0, sum = 0, squares = 0;
        Dictionary<double, double> classes = [];
        const int side = 350;
        for (int i = 0; i < side * side; i++)
        {
            GeoPoint place = Around(centre, (i % side + 0.5) / side * 2.04 - 1.02, (i / side + 0.5) / side * 2.04 - 1.02, radius);
            if (centre.GroundDistanceMetres(place) > radius)
                continue;

            n++;
            if (grid.TryLocate(place, out double column, out double row)
                && grid.ReadCell(Math.Min((int)column, grid.Columns - 1), Math.Min((int)row, grid.Rows - 1)) is var value
                && !double.IsNaN(value))
            {
                valid++;
                sum += value;
                squares += value * value;
                classes[value] = classes.GetValueOrDefault(value) + 1;
            }
        }

        double mean = sum / valid, deviation = Math.Sqrt(Math.Max(0, squares / valid - mean * mean));
        Assert.Equal(SampleStatus.Sampled, disc.Status);
        Assert.Equal(mean, disc.Value!.Value, 0.01 * mean);
        Assert.Equal(deviation, disc.StandardDeviation!.Value, 0.01 * mean);
        Assert.Equal(valid / n, disc.ValidShare!.Value, 0.01);
        Assert.Equal(disc.ValidShare, mode.ValidShare);
        (double most, double times) = classes.OrderByDescending(c => c.Value).Select(c => (c.Key, c.Value)).First();
        Assert.Equal(times / valid, mode.ClassShare!.Value, 0.01);
        if (classes.Count == 1 || classes.Values.Order().TakeLast(2).First() < 0.97 * times)
            Assert.Equal(most, mode.Value);
    }

    /// <summary>Two hundred random circles of every size, on grids in degrees and on maps, against the same brute force.</summary>
    [Theory]
    [InlineData("regional", 5.5, 50.5, 12, 54.5)]
    [InlineData("world", -180, -90, 180, 90)]
    [InlineData("EPSG:3035", 8, 53, 13, 57)]
    [InlineData("EPSG:3995", -180, 85.5, 180, 89.9)]
    [InlineData("ESRI:54009", -150, -70, 150, 70)]
    public void Forty_random_circles_weigh_their_cells_as_brute_force_does(string kind, double west, double south, double east,
        double north)
    {
        using TestFolder folder = new();
        using Grid grid = Make(folder, kind);
        double[] values = new double[grid.Columns * grid.Rows];
        grid.ReadWindow(0, 0, grid.Columns, grid.Rows, values);
        double cell = grid.Projection.IsGeographic ? grid.Lattice.CellHeight * 111_000 : grid.Lattice.CellHeight;
        Random random = new(5);
        GeoPoint[] centres = [.. Enumerable.Range(0, 40)
            .Select(_ => new GeoPoint(west + random.NextDouble() * (east - west), south + random.NextDouble() * (north - south)))];
        double?[] radii = [.. centres.Select(_ => (double?)(cell * Math.Pow(10, random.NextDouble() * 1.2 - 0.7)))];
        IReadOnlyList<GridSample> discs = GridSampler.Sample(grid, centres, SamplingRule.Disc, null, radii);
        int compared = 0;
        for (int c = 0; c < centres.Length; c++)
        {
            (double n, double valid, double sum) = (0, 0, 0);
            const int side = 160;
            for (int i = 0; i < side * side; i++)
            {
                (double x, double y) = ((i % side + 0.5) / side * 2.04 - 1.02, (i / side + 0.5) / side * 2.04 - 1.02);
                if (x * x + y * y > 1.01
                    || Around(centres[c], x, y, radii[c]!.Value) is var place && centres[c].GroundDistanceMetres(place) > radii[c])
                {
                    continue;
                }

                n++;
                if (grid.TryLocate(place, out double column, out double row)
                    && values[Math.Min((int)row, grid.Rows - 1) * grid.Columns + Math.Min((int)column, grid.Columns - 1)] is var value
                    && !double.IsNaN(value))
                {
                    (valid, sum) = (valid + 1, sum + value);
                }
            }

            if (discs[c].Status == SampleStatus.Outside)
                continue;

            Assert.Equal(valid / n, discs[c].ValidShare!.Value, 0.01);
            if (valid > 0.02 * n)
            {
                compared++;
                Assert.Equal(sum / valid, discs[c].Value!.Value, 0.01 * (sum / valid) * Math.Max(1, 0.2 * n / valid));
            }
        }

        Assert.InRange(compared, 25, 40);
    }

    [Fact]
    public void A_point_without_an_uncertainty_takes_its_cell_and_a_circle_without_values_looks_further()
    {
        using Scene scene = new(new GridLattice(10, 10, 0, 10, 1, 1), i => i % 10 < 5 ? float.NaN : i);
        GridSample cell = GridSampler.Sample(scene.Grid, [new GeoPoint(7.5, 5.5)], SamplingRule.Disc, null)[0];
        Assert.Equal((47, SamplingRule.Nearest, null), (cell.Value, cell.Rule, cell.ValidShare));
        IReadOnlyList<GridSample> samples = GridSampler.Sample(
            scene.Grid, [new GeoPoint(2.5, 5.5), new GeoPoint(7.5, 5.5), new GeoPoint(20, 5)], SamplingRule.Disc, 400_000, [5000, 0, 5000]);
        Assert.Equal((45, SampleStatus.NearestValid), (samples[0].Value, samples[0].Status));
        Assert.Equal((47, SamplingRule.Nearest), (samples[1].Value, samples[1].Rule));
        Assert.Equal(SampleStatus.Outside, samples[2].Status);
        Assert.Throws<GridException>(() => GridSampler.Sample(scene.Grid, [new GeoPoint(7.5, 5.5)], SamplingRule.Disc, null, [-5]));
        Assert.Throws<GridException>(() => GridSampler.Sample(scene.Grid, [new GeoPoint(7.5, 5.5)], SamplingRule.Mode, null, [double.NaN]));
    }

    [Theory]
    [InlineData("world", 15, 89.9)]
    [InlineData("world", -179.95, -40)]
    [InlineData("EPSG:3035", 14, 55)]
    [InlineData("EPSG:3995", 130, 89.5)]
    public void The_nearest_cell_with_a_value_is_the_nearest_on_the_ellipsoid(string kind, double longitude, double latitude)
    {
        using TestFolder folder = new();
        using Grid grid = Make(folder, kind, every: 97);
        Random random = new(8);
        double[] values = new double[grid.Columns * grid.Rows];
        grid.ReadWindow(0, 0, grid.Columns, grid.Rows, values);
        int looked = 0;
        for (int trial = 0; trial < 12; trial++)
        {
            GeoPoint point = new(longitude + random.NextDouble() * 0.1, Math.Min(90, latitude + random.NextDouble() * 0.1));
            GridSample found = GridSampler.Sample(grid, [point], SamplingRule.Nearest, 5_000_000)[0];
            (double metres, int cell) = Enumerable.Range(0, values.Length).Where(i => !double.IsNaN(values[i]))
                .Select(i => (point.GroundDistanceMetres(grid.CentreOf(i % grid.Columns, i / grid.Columns)), i)).Min();
            if (found.Status == SampleStatus.NearestValid)
            {
                looked++;
                Assert.Equal(values[cell], found.Value);
                Assert.Equal(metres, found.DistanceMetres!.Value, 1e-6);
            }
        }

        Assert.InRange(looked, 1, 12);
    }

    /// <summary>
    /// Flinders Peak to Buninyong, the worked example of the GDA technical manual (Intergovernmental Committee on Surveying and
    /// Mapping): 54 972.271 m, 306 deg 52' 05.37" (from memory).
    /// </summary>
    [Fact]
    public void The_line_from_Flinders_Peak_to_Buninyong_has_the_published_length_and_direction()
    {
        GeoPoint flinders = new(144 + 25 / 60.0 + 29.52440 / 3600, -(37 + 57 / 60.0 + 3.72030 / 3600));
        GeoPoint buninyong = new(143 + 55 / 60.0 + 35.38390 / 3600, -(37 + 39 / 60.0 + 10.15610 / 3600));
        (double metres, double azimuth) = Geodesic.Between(flinders, buninyong);
        Assert.Equal(54_972.271, metres, 1e-3);
        Assert.Equal(306 + 52 / 60.0 + 5.37 / 3600, double.RadiansToDegrees(azimuth) + 360, 2e-6);
        Assert.Equal(0, flinders.GroundDistanceMetres(flinders));
        Assert.Equal(0, new GeoPoint(10, 90).GroundDistanceMetres(new GeoPoint(70, 90)), 1e-6);
        Assert.InRange(new GeoPoint(0, 0).GroundDistanceMetres(new GeoPoint(179.9, 0.1)), 19_900_000, 20_040_000);
    }

    [Fact]
    public void Short_lines_have_the_same_length_by_the_short_way()
    {
        Random random = new(2);
        for (int i = 0; i < 2000; i++)
        {
            GeoPoint from = new(random.NextDouble() * 360 - 180, random.NextDouble() * 170 - 85);
            GeoPoint to = new(from.LongitudeDegrees + random.NextDouble() * 0.18 - 0.09, from.LatitudeDegrees + random.NextDouble() * 0.18
                - 0.09);
            Assert.Equal(Geodesic.Between(from, to).Metres, from.GroundDistanceMetres(to), 1e-3);
        }
    }

    /// <summary>A place at (x, y) radii east and north of the centre, on the sphere, by rotation of the local frame.</summary>
    private static GeoPoint Around(GeoPoint centre, double x, double y, double radius)
    {
        double r = radius * Math.Sqrt(x * x + y * y) / 6_371_000;
        double angle = 2 * Math.Asin(r / 2), bearing = Math.Atan2(x, y); // equal areas of the lattice stay equal
        double lat = double.DegreesToRadians(centre.LatitudeDegrees);
        double sin = Math.Sin(lat) * Math.Cos(angle) + Math.Cos(lat) * Math.Sin(angle) * Math.Cos(bearing);
        double east = Math.Atan2(Math.Sin(bearing) * Math.Sin(angle) * Math.Cos(lat), Math.Cos(angle) - Math.Sin(lat) * sin);
        return new GeoPoint(
            Math.IEEERemainder(centre.LongitudeDegrees + double.RadiansToDegrees(east), 360),
            double.RadiansToDegrees(Math.Asin(Math.Clamp(sin, -1, 1))));
    }

    /// <summary>Ten classes in patches, every seventh cell missing; or, where told, only every so manieth cell with a value.</summary>
    private static Grid Make(TestFolder folder, string kind, int every = 0)
    {
        (int columns, int rows, double west, double south, double cell, string crs) = kind switch
        {
            "regional" => (60, 40, 5.0, 50.0, 0.125, "EPSG:4326"),
            "world" => (360, 180, -180.0, -90.0, 1.0, "EPSG:4326"),
            "EPSG:3035" => (80, 90, 4_200_000.0, 3_300_000.0, 9_000.0, kind),
            "EPSG:3995" => (70, 70, -700_000.0, -700_000.0, 20_000.0, kind),
            _ => (300, 150, -18_000_000.0, -9_000_000.0, 120_000.0, kind),
        };
        Random random = new(4);
        IEnumerable<string> cells = Enumerable.Range(0, columns * rows).Select(i =>
            (every == 0 ? random.Next(7) == 0 : random.Next(every) != 0) ? "-1"
            : (every > 0 ? i + 10 : 10 + i % columns / 2 * 31 % 10 * 10 + i / columns / 2 % 3 * 5).ToString(CultureInfo.InvariantCulture));
        string text = string.Create(
            CultureInfo.InvariantCulture,
            $"ncols {columns}\nnrows {rows}\nxllcorner {west}\nyllcorner {south}\ncellsize {cell}\nNODATA_value "
            + $"-1\n{string.Join(' ', cells)}\n");
        return GridFile.Open(folder.Write("made.asc", text), new GridReadOptions(Crs: crs));
    }
}
