namespace DecayAtlas.Prediction.Tests;

/// <summary>Sums of a map over polygons, and how uncertain they are.</summary>
public sealed class RegionTests : IDisposable
{
    private const double HalfWidth = 0.4;

    private readonly TemporaryFolder _folder = new();

    private static readonly MapLattice Degrees = new(Projection.Wgs84, new(60, 40, 10, 52, 0.05, 0.05), false);

    public void Dispose() => _folder.Dispose();

    /// <summary>S, below 0 in the north-west.</summary>
    private static double Share(int column, int row) => -0.1 + 0.004 * column + 0.006 * row;

    private static double Rate(int column, int row) => 0.01 + 0.0001 * column + 0.0002 * row;

    [Fact]
    public void A_polygon_that_follows_the_cells_gives_their_exact_areas_and_means()
    {
        // columns 10 to 29, rows 4 to 23; the southern half is not applicable
        RegionRow row =
            Assert.Single(Summarise(Degrees, "[[[10.5,51.8],[10.5,50.8],[11.5,50.8],[11.5,51.8],[10.5,51.8]]]", new(0.1, 0, 0)));
        Assert.Equal(EllipsoidalArea.OfBox(10.5, 50.8, 11.5, 51.8) / 1e6, row.SquareKilometres, 1e-6);
        Assert.Equal(row.SquareKilometres, row.PredictedSquareKilometres, 1e-6);
        Assert.Equal(EllipsoidalArea.OfBox(10.5, 51.3, 11.5, 51.8) / 1e6 / row.SquareKilometres, row.ApplicableShare!.Value, 1e-9);
        double sum = 0, area = 0;
        for (int r = 4; r < 24; r++)
        {
            for (int c = 10; c < 30; c++)
                (sum, area) = (sum + Rate(c, r) * Degrees.AreaOf(c, r), area + Degrees.AreaOf(c, r));
        }

        Assert.Equal(sum / area, row.MeanRatePerDay!.Value, 1e-9);
        Assert.Equal(400, row.Cells);
    }

    [Fact]
    public void Cells_on_the_border_count_by_the_share_that_lies_inside()
    {
        RegionRow row = Assert.Single(Summarise(Degrees, "[[[10.33,51.71],[11.07,50.52],[12.41,51.44],[10.33,51.71]]]", new(0.1, 0, 0)));
        Assert.Equal(row.SquareKilometres, row.PredictedSquareKilometres, row.SquareKilometres * 1e-5);
        // the mean by a net of points, another way
        double sum = 0, count = 0;
        for (double x = 10.3; x < 12.5; x += 0.004)
        {
            for (double y = 50.5; y < 51.8; y += 0.004)
            {
                if (!InTriangle(x, y))
                    continue;
                double weight = Math.Cos(double.DegreesToRadians(y));
                (sum, count) = (sum + weight * Rate((int)((x - 10) / 0.05), (int)((52 - y) / 0.05)), count + weight);
            }
        }

        Assert.Equal(sum / count, row.MeanRatePerDay!.Value, row.MeanRatePerDay.Value * 1e-3);

        static bool InTriangle(double x, double y)
        {
            (double, double)[] p = [(10.33, 51.71), (11.07, 50.52), (12.41, 51.44)];
            double Side(int i) => (p[(i + 1) % 3].Item1 - p[i].Item1) * (y - p[i].Item2)
                - (p[(i + 1) % 3].Item2 - p[i].Item2) * (x - p[i].Item1);
            return Side(0) > 0 && Side(1) > 0 && Side(2) > 0;
        }
    }

    [Fact]
    public void The_same_ground_on_an_equal_area_map_has_the_same_area()
    {
        MapLattice laea = new(Projection.FromText("EPSG:3035"), new(300, 300, 4_300_000, 3_200_000, 1000, 1000), false);
        RegionRow row =
            Assert.Single(Summarise(laea, "[[[10.5,51.5],[10.5,50.8],[11.5,50.8],[11.5,51.5],[10.5,51.5]]]", new(0.1, 0, 0)));
        Assert.Equal(EllipsoidalArea.OfBox(10.5, 50.8, 11.5, 51.5) / 1e6, row.PredictedSquareKilometres, 0.5);
    }

    [Theory]
    [InlineData(0.3, 0.7, 20_000)]
    [InlineData(0, 1, 60_000)]
    [InlineData(1, 0, 0)]
    public void The_interval_of_what_places_are_off_by_is_the_double_sum_over_all_cells(double nugget, double sill, double range)
    {
        ErrorCorrelation errors = new(nugget, sill, range);
        // 20 x 20 cells: few enough for squares of one cell
        RegionRow row = Assert.Single(Summarise(Degrees, "[[[10.5,51.8],[10.5,50.8],[11.5,50.8],[11.5,51.8],[10.5,51.8]]]", errors));
        (int Column, int Row)[] cells = Enumerable.Range(0, 400).Select(i => (Column: 10 + i % 20, Row: 4 + i / 20)).ToArray();
        double[] g = [.. cells.Select(c => Rate(c.Column, c.Row) * Degrees.AreaOf(c.Column, c.Row) * HalfWidth)];
        double square = 0;
        for (int a = 0; a < g.Length; a++)
        {
            for (int b = 0; b < g.Length; b++)
            {
                double distance = Degrees.CentreOf(cells[a].Column, cells[a].Row)
                    .GroundDistanceMetres(Degrees.CentreOf(cells[b].Column, cells[b].Row));
                double likeness = a == b ? 1 : range > 0 ? sill / (nugget + sill) * Math.Exp(-distance / range) : 0;
                square += g[a] * g[b] * likeness;
            }
        }

        double relative = Math.Sqrt(square) / (g.Sum() / HalfWidth);
        Assert.Equal(Math.Exp(relative), row.MeanUpperRatePerDay!.Value / row.MeanRatePerDay!.Value, 1e-6);
        Assert.Equal(g.Sum() * g.Sum() / square, row.IndependentCells!.Value, g.Sum() * g.Sum() / square * 1e-5);
    }

    /// <summary>S errs by differences: the mean and its interval as sums by hand, and half-lives only where there are rates.</summary>
    [Fact]
    public void A_region_of_S_has_the_mean_by_area_and_an_interval_of_differences()
    {
        const double nugget = 0.3, sill = 0.7, range = 20_000;
        RegionRow row = Assert.Single(Summarise(Degrees, "[[[10.5,51.8],[10.5,50.8],[11.5,50.8],[11.5,51.8],[10.5,51.8]]]",
            new(nugget, sill, range), MapQuantity.Stabilisation));
        (int Column, int Row, double Area)[] cells =
            [.. Enumerable.Range(0, 400).Select(i => (10 + i % 20, 4 + i / 20, Degrees.AreaOf(10 + i % 20, 4 + i / 20)))];
        double area = cells.Sum(c => c.Area), mean = cells.Sum(c => c.Area * Share(c.Column, c.Row)) / area, square = 0;
        foreach ((int Column, int Row, double Area) a in cells)
        {
            foreach ((int Column, int Row, double Area) b in cells)
            {
                double distance = Degrees.CentreOf(a.Column, a.Row).GroundDistanceMetres(Degrees.CentreOf(b.Column, b.Row));
                square += a.Area * b.Area * HalfWidth * HalfWidth
                    * (a == b ? 1 : sill / (nugget + sill) * Math.Exp(-distance / range));
            }
        }

        MeanStabilisation s = row.Stabilisation!;
        // cells are held in single precision
        Assert.Equal(mean, s.Mean!.Value, 1e-8);
        Assert.Equal(Math.Sqrt(square) / area, s.Upper!.Value - s.Mean.Value, 1e-6);
        Assert.Equal(s.Mean.Value - s.Lower!.Value, s.Upper.Value - s.Mean.Value, 1e-12);
        (int Column, int Row, double Area)[] applicable = [.. cells.Where(c => c.Row < 14)];
        Assert.Equal(applicable.Sum(c => c.Area * Share(c.Column, c.Row)) / applicable.Sum(c => c.Area), s.ApplicableMean!.Value, 1e-8);
        Assert.Equal((null, null, null), (row.MeanRatePerDay, row.HalfLifeDays, row.ApplicableMeanRatePerDay));
    }

    [Fact]
    public void The_half_life_of_a_region_is_that_of_its_mean_rate_and_the_faster_end_is_the_shorter()
    {
        RegionRow row =
            Assert.Single(Summarise(Degrees, "[[[10.5,51.8],[10.5,50.8],[11.5,50.8],[11.5,51.8],[10.5,51.8]]]", new(0.1, 0, 0)));
        Assert.Equal(0.5, Math.Exp(-row.MeanRatePerDay!.Value * row.HalfLifeDays!.Value), 1e-12);
        Assert.Equal(0.5, Math.Exp(-row.MeanUpperRatePerDay!.Value * row.HalfLifeLowerDays!.Value), 1e-12);
        Assert.True(row.HalfLifeLowerDays < row.HalfLifeDays && row.HalfLifeDays < row.HalfLifeUpperDays);
    }

    /// <summary>Means of simulated fields with the same correlation scatter as the interval says.</summary>
    [Fact]
    public void The_interval_is_as_wide_as_the_scatter_of_simulated_means()
    {
        const double range = 15_000;
        GeoPoint[] places = Enumerable.Range(0, 144).Select(i => new GeoPoint(10 + i % 12 * 0.05, 50 + i / 12 * 0.05)).ToArray();
        double[,] root = Cholesky(places, (a, b) => Math.Exp(-a.GroundDistanceMetres(b) / range));
        Random random = new(5);
        double sum = 0;
        const int fields = 4000;
        for (int f = 0; f < fields; f++)
        {
            double mean = Field(root, random).Average();
            sum += mean * mean;
        }
        MeanError error = new(new(0, 1, range));
        for (int i = 0; i < places.Length; i++)
            error.Add((i % 12, i / 12), places[i], 1.0 / places.Length);
        Assert.Equal(Math.Sqrt(sum / fields), error.Result(Fixed(1)).Local, 0.04 * Math.Sqrt(sum / fields));
    }

    /// <summary>The variogram of simulated residuals gives back what they were simulated with.</summary>
    [Fact]
    public void The_variogram_finds_range_and_share_of_simulated_residuals()
    {
        Random random = new(3);
        GeoPoint[] places = Enumerable.Range(0, 500).Select(_ => new GeoPoint(10 + 3 * random.NextDouble(), 50 + 2 * random.NextDouble()))
            .ToArray();
        double[,] root = Cholesky(places, (a, b) => 0.7 * Math.Exp(-a.GroundDistanceMetres(b) / 30_000) + (a.Equals(b) ? 0.3 : 0));
        ErrorCorrelation[] fits = Enumerable.Range(0, 12).Select(_ => ErrorCorrelation.Of(places, Field(root, random))).ToArray();
        double[] ranges = [.. fits.Select(f => f.RangeMetres).Order()], shares = [.. fits.Select(f => f.StructuredShare).Order()];
        Assert.InRange(ranges[6], 18_000, 50_000);
        Assert.InRange(shares[6], 0.55, 0.85);

        ErrorCorrelation noise = ErrorCorrelation.Of(places, [.. places.Select(_ => random.NextDouble() - 0.5)]);
        Assert.True(noise.At(20_000) < 0.15, $"{noise}");
    }

    [Theory]
    [InlineData("{\n", "cannot be read as GeoJSON (line 2, byte 1 is not what was expected there)")]
    [InlineData("", "cannot be read as GeoJSON (line 1, byte 1 ")]
    [InlineData("{\"type\":\"Topology\"}", "its type is Topology")]
    [InlineData("{\"type\":\"FeatureCollection\",\"features\":[]}", "holds no feature")]
    [InlineData("{\"type\":\"Feature\",\"properties\":{},\"geometry\":{\"type\":\"Point\",\"coordinates\":[1,2]}}", "feature 1 is a Point")]
    [InlineData("{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[2,2],[2,0],[0,2],[0,0]]]}", "no sound polygon")]
    [InlineData("{\"type\":\"Polygon\",\"coordinates\":[[[400000,0],[400002,2],[400002,0],[400000,0]]]}", "are not WGS 84 degrees")]
    public void Polygons_that_cannot_be_used_are_one_clear_sentence(string text, string says)
    {
        File.WriteAllText(_folder.Of("p.geojson"), text);
        Assert.Contains(says, Assert.Throws<PredictionException>(() => RegionSet.Read(_folder.Of("p.geojson"))).Message,
            StringComparison.Ordinal);
    }

    private IReadOnlyList<RegionRow> Summarise(MapLattice lattice, string rings, ErrorCorrelation errors, MapQuantity? quantity = null)
    {
        MapQuantity of = quantity ?? MapQuantity.DecayRate;
        string map = _folder.Of("map.tif");
        using (GeoTiffWriter writer = new(map, lattice.Projection, lattice.Cells, MapBands.Tif(of)))
        {
            for (int t = 0; t < writer.TilesAcross * writer.TilesDown; t++)
            {
                float[][] bands = [.. MapBands.Tif(of).Select(_ => new float[256 * 256])];
                for (int i = 0; i < 256 * 256; i++)
                {
                    (int column, int row) = (t % writer.TilesAcross * 256 + i % 256, t / writer.TilesAcross * 256 + i / 256);
                    double k = of.IsRatio ? Rate(column, row) : Share(column, row);
                    (bands[0][i], bands[1][i], bands[2][i], bands[3][i], bands[4][i]) =
                        ((float)k, (float)(k * Math.Exp(-HalfWidth)), (float)(k * Math.Exp(HalfWidth)), 0.2f, row < 14 ? 1 : 0);
                }
                writer.WriteTiles(t % writer.TilesAcross, t / writer.TilesAcross, bands);
            }
        }
        File.WriteAllText(_folder.Of("r.geojson"), "{\"type\":\"Polygon\",\"coordinates\":" + rings + "}");
        return RegionSummary.Of(map, of, RegionSet.Read(_folder.Of("r.geojson")), errors, Fixed(HalfWidth), null);
    }

    /// <summary>Every place is off by as much.</summary>
    private static Func<IReadOnlyList<GeoPoint>, PlaceErrors> Fixed(double halfWidth) =>
        places => new([.. places.Select(_ => halfWidth)], []);

    private static double[,] Cholesky(GeoPoint[] places, Func<GeoPoint, GeoPoint, double> covariance)
    {
        int n = places.Length;
        double[,] root = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double sum = covariance(places[i], places[j]);
                for (int k = 0; k < j; k++)
                    sum -= root[i, k] * root[j, k];
                root[i, j] = i == j ? Math.Sqrt(Math.Max(sum, 1e-12)) : sum / root[j, j];
            }
        }

        return root;
    }

    private static double[] Field(double[,] root, Random random)
    {
        int n = root.GetLength(0);
        double[] z = [.. Enumerable.Range(0, n)
            .Select(_ => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble()))];
        return [.. Enumerable.Range(0, n).Select(i => Enumerable.Range(0, i + 1).Sum(j => root[i, j] * z[j]))];
    }
}
