using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using SkiaSharp;

namespace DecayAtlas.Prediction.Tests;

/// <summary>S mapped like k, half-lives, and both together, over an invented island whose S falls below 0 at the warm shore.</summary>
public sealed class MapsOfTwoTargets(MapsOfTwoTargets.Island island) : IClassFixture<MapsOfTwoTargets.Island>
{
    private const int Columns = 300, Rows = 280;

    [Fact]
    public void Every_cell_of_a_map_of_S_lies_near_the_invented_truth_and_is_not_cut_off()
    {
        double[] s = Band(island.SharesTif, 1), lower = Band(island.SharesTif, 2), upper = Band(island.SharesTif, 3),
            applies = Band(island.SharesTif, 5), truth = island.TrueShares();
        int[] predicted = [.. Enumerable.Range(0, s.Length).Where(i => !double.IsNaN(s[i]))];
        int[] applicable = [.. predicted.Where(i => applies[i] == 1)];
        Assert.True(predicted.Length > 10_000);
        // rows err by 0.02 x uniform, a standard deviation of 0.006; a line through four covariates is what was planted
        Assert.True(Math.Sqrt(applicable.Average(i => (s[i] - truth[i]) * (s[i] - truth[i]))) < 0.006);
        Assert.True(applicable.Count(i => lower[i] <= truth[i] && truth[i] <= upper[i]) > 0.9 * applicable.Length);

        StabilisationRange range = island.ShareSummary.Stabilisation!;
        Assert.Equal(predicted.Count(i => s[i] < 0), range.BelowZeroCells);
        Assert.True(range.BelowZeroCells > 100 && range.Minimum < -0.02, $"{range}");
        Assert.Contains($"{range.BelowZeroCells} cells have S below 0", range.OutOfRangeSentence(), StringComparison.Ordinal);
        Assert.Equal((0, null), (range.AboveOneCells, island.ShareSummary.MeanRatePerDay));
        Assert.Null(island.RateSummary.Stabilisation);
        Assert.Equal(predicted.Min(i => s[i]), range.Minimum, 1e-9);
    }

    [Fact]
    public void Half_lives_are_ln_2_over_k_in_single_precision_and_their_ends_change_sides()
    {
        double[][] bands = [.. Enumerable.Range(1, 8).Select(b => Band(island.RatesTif, b))];
        foreach ((int days, int rate) in new[] { (5, 0), (6, 2), (7, 1) })
        {
            for (int i = 0; i < Columns * Rows; i++)
                Assert.Equal((float)(Math.Log(2) / bands[rate][i]), (float)bands[days][i]);
            using Grid grid = GridFile.Open(island.Invented.Of("k.nc"), new(Variable: MapBands.Tif(MapQuantity.DecayRate)[days].Name));
            double[] values = new double[Columns * Rows];
            grid.ReadWindow(0, 0, Columns, Rows, values);
            Assert.Equal(bands[days], values);
        }

        Assert.All(Enumerable.Range(0, Columns * Rows).Where(i => !double.IsNaN(bands[5][i])),
            i => Assert.True(bands[6][i] < bands[5][i] && bands[5][i] < bands[7][i]));
    }

    [Fact]
    public void A_region_is_drawn_alone_and_fills_the_picture()
    {
        // a box of a degree by 0.4 on land: beyond it 4 % of its longer side is shown, and nothing in colour
        RegionSet regions = Regions("[[[-1.5,50.9],[-0.5,50.9],[-0.5,51.3],[-1.5,51.3],[-1.5,50.9]]]");
        using SKBitmap picture =
            SKBitmap.Decode(RegionPicture.Draw(island.RatesTif, regions.Regions[0], island.Rates.Card, island.RateSummary, new("k", [])));
        SKColor paper = Ink.Paper, missing = Ink.NoData;
        int[] coloured = [.. Enumerable.Range(0, picture.Width).Where(x => Enumerable.Range(130, 200)
            .Count(y => picture.GetPixel(x, y) is var p && p != paper && p != missing) > 150)];
        int[] frame = [.. Enumerable.Range(0, picture.Width).Where(x => Enumerable.Range(130, 200)
            .Count(y => picture.GetPixel(x, y) != paper) > 190)];
        Assert.Equal(1 / 1.08, (double)coloured.Length / frame.Length, 0.03);

        PredictionException off = Assert.Throws<PredictionException>(() => RegionPicture.Draw(island.RatesTif,
            Regions("[[[10,0],[11,0],[11,1],[10,0]]]").Regions[0], island.Rates.Card, island.RateSummary, new("k", [])));
        Assert.Equal("The region 1 lies off the map; draw another.", off.Message);

        RegionSet Regions(string rings)
        {
            string file = island.Invented.Of("region.geojson");
            File.WriteAllText(file, $$"""{ "type": "Polygon", "coordinates": {{rings}} }""");
            return RegionSet.Read(file);
        }
    }

    [Fact]
    public void GDAL_finds_the_bands_their_units_and_the_values()
    {
        SkipUnless("gdalinfo");
        JsonElement[] ofRate = BandsByGdal(island.RatesTif), ofShare = BandsByGdal(island.SharesTif);
        Assert.Equal(["stabilisation", "stabilisation_lower", "stabilisation_upper", "dissimilarity", "applicable"],
            ofShare.Select(b => b.GetProperty("description").GetString()));
        Assert.Equal(["half_life", "half_life_lower", "half_life_upper"],
            ofRate.Skip(5).Select(b => b.GetProperty("description").GetString()));
        Assert.All(ofRate.Skip(5), b => Assert.Equal("d", b.GetProperty("unit").GetString()));

        double[] s = Band(island.SharesTif, 1), days = Band(island.RatesTif, 6);
        foreach (int cell in new[] { 140 * Columns + 150, 100 * Columns + 90, 200 * Columns + 170 })
        {
            Assert.Equal(s[cell], ByGdal(island.SharesTif, 1, cell), 1e-7);
            Assert.Equal(days[cell], ByGdal(island.RatesTif, 6, cell), days[cell] * 1e-7);
            Assert.Equal(Math.Log(2) / ByGdal(island.RatesTif, 1, cell), ByGdal(island.RatesTif, 6, cell), days[cell] * 1e-6);
        }
    }

    [Fact]
    public void The_classes_are_cut_at_the_medians_and_told_where_both_intervals_lie_on_one_side()
    {
        JointSummary joint = island.Joint;
        double[][] k = [.. Enumerable.Range(1, 5).Select(b => Band(island.RatesTif, b))],
            s = [.. Enumerable.Range(1, 5).Select(b => Band(island.SharesTif, b))],
            made = [.. Enumerable.Range(1, 3).Select(b => Band(island.JointTif, b))];
        int[] both = [.. Enumerable.Range(0, Columns * Rows).Where(i => !double.IsNaN(k[0][i]) && !double.IsNaN(s[0][i]))];
        int[] applicable = [.. both.Where(i => k[4][i] == 1 && s[4][i] == 1)];
        double cutK = Median([.. applicable.Select(i => k[0][i])]), cutS = Median([.. applicable.Select(i => s[0][i])]);
        Assert.Equal((1, cutK, cutS), (joint.EveryAsked, joint.Cuts.RatePerDay, joint.Cuts.Stabilisation));
        Assert.Equal(Math.Log(2) / cutK, joint.Cuts.HalfLifeDays, 1e-9);

        double[] areas = new double[5], told = new double[5];
        foreach (int i in both)
        {
            int expected = (k[0][i] >= cutK ? 1 : 3) + (s[0][i] >= cutS ? 1 : 0);
            bool isTold = (k[1][i] >= cutK || k[2][i] < cutK) && (s[1][i] >= cutS || s[2][i] < cutS);
            Assert.Equal((expected, isTold ? 1 : 0, k[4][i] * s[4][i]), (made[0][i], made[1][i], made[2][i]));
            double ground = island.Lattice.AreaOf(i % Columns, i / Columns) / 1e6;
            areas[expected] += k[4][i] * s[4][i] * ground;
            told[expected] += isTold ? k[4][i] * s[4][i] * ground : 0;
        }

        Assert.Equal(both.Length, made[0].Count(v => !double.IsNaN(v)));
        foreach (JointShare share in joint.Classes)
        {
            Assert.Equal(areas[share.Code], share.SquareKilometres, 1e-6);
            Assert.Equal(told[share.Code], share.ToldSquareKilometres, 1e-6);
        }

        Assert.True(joint.ToldSquareKilometres > 0 && joint.ToldSquareKilometres < joint.ApplicableSquareKilometres);
        Assert.Equal(Correlation([.. applicable.Select(i => Math.Log(k[0][i]))], [.. applicable.Select(i => s[0][i])]),
            joint.Correlation!.Value, 1e-9);
    }

    [Fact]
    public void GDAL_names_the_classes_and_finds_nothing_wrong_with_the_layout()
    {
        SkipUnless("gdalinfo");
        JsonElement band = BandsByGdal(island.JointTif)[0];
        string text = Run("gdalinfo", island.JointTif);
        Assert.Equal("class", band.GetProperty("description").GetString());
        foreach (JointClass one in JointClass.All)
        {
            Assert.Contains(one.Words, text, StringComparison.Ordinal);
            Assert.Contains($"CLASS_{one.Code}={one.Words}", text, StringComparison.Ordinal);
        }

        Assert.Contains("<GDALRasterAttributeTable", text, StringComparison.Ordinal);
        Assert.Contains("Categories:", text, StringComparison.Ordinal);
        const string validator = "from osgeo_utils.samples.validate_cloud_optimized_geotiff import validate";
        Assert.SkipUnless(
            File.Exists("/usr/bin/python3") && Run("/usr/bin/python3", "-c", validator + "; print('there')").Trim() == "there", "osgeo_utils (Debian package python3-gdal) is not installed.");
        foreach (string tif in new[] { island.RatesTif, island.SharesTif, island.JointTif })
        {
            Assert.Equal("[] []", Run("/usr/bin/python3", "-c",
                validator + "; import sys; w, e, d = validate(sys.argv[1], full_check=True); print(w, e)", tif).Trim());
        }
    }

    [Fact]
    public void S_changes_by_a_difference_of_which_identical_grids_give_nothing()
    {
        MapOptions options = new("Change", []);
        IReadOnlyList<CatalogueEntry> cool = island.Invented.Entries, warm = [cool[0] with { Offset = 2, Scale = 1 }, .. cool.Skip(1)];
        string tif = island.Invented.Of("d.tif");
        DifferenceSummary same = DifferenceMap.Make(new("a", island.Shares, cool), new("b", island.Shares, cool), options,
            new(tif, null, island.Invented.Of("d.png")));
        Assert.Equal((0, 0, null), (same.MeanDifference!.Value, same.ToldApart, same.MeanRatio));
        foreach (int band in new[] { 3, 4, 5 })
            Assert.All(Band(tif, band).Where(x => !double.IsNaN(x)), x => Assert.Equal(0, x));

        DifferenceSummary made = DifferenceMap.Make(new("now", island.Shares, cool), new("then", island.Shares, warm), options,
            new(tif, island.Invented.Of("d.nc"), island.Invented.Of("d.png")));
        double[][] d = [.. Enumerable.Range(1, 7).Select(b => Band(tif, b))];
        foreach (int i in Enumerable.Range(0, d[0].Length).Where(i => !double.IsNaN(d[2][i])))
        {
            Assert.Equal(d[1][i] - d[0][i], d[2][i], 1e-6);
            Assert.True(d[3][i] <= d[2][i] && d[2][i] <= d[4][i]);
            Assert.Equal(d[3][i] > 0 || d[4][i] < 0 ? 1 : 0, d[6][i]);
        }

        // two kelvins of the planted 0.045 a kelvin
        Assert.Equal(-0.09, made.MeanDifference!.Value, 0.01);
        Assert.True(made.ToldApart > 0.9 * made.ApplicableOnBoth);
        PredictionException apart = Assert.Throws<PredictionException>(() => DifferenceMap.Make(
            new("k", island.Rates, cool), new("S", island.Shares, cool), options, new(tif, null, island.Invented.Of("d.png"))));
        Assert.Contains("predicts k and model", apart.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Maps_that_cannot_be_put_together_are_one_clear_sentence()
    {
        JointSide rate = new(island.RatesTif, island.Rates.Card), shares = new(island.SharesTif, island.Shares.Card);
        JointFiles files = JointFiles.In(island.Invented.Of("apart"));
        MapOptions options = new("T", []);
        string small = island.Invented.Of("small.tif");
        RateMap.Make(island.Shares, island.Invented.Entries, options with { Region = MapRegion.Of(new BoundingBox(-2, 50.8, -1, 51.4)) },
            new(small, null, island.Invented.Of("small.png")));
        (JointSide, JointSide, string)[] cases =
        [
            (rate, shares with { TifPath = small }, "have other cells"),
            (rate, rate, "has 8 bands, and a map of S has 5"),
            (shares, shares, "has 5 bands, and a map of k has 8"),
            (rate with { TifPath = Flat(0.01f, 1, 8) }, shares with { TifPath = Flat(0.3f, 1, 5) }, "k is predicted the same"),
            (rate with { TifPath = Flat(0.01f, 0, 8) }, shares with { TifPath = Flat(0.3f, 0, 5) }, "No two cells are applicable"),
        ];
        foreach ((JointSide first, JointSide second, string says) in cases)
        {
            Assert.Contains(says, Assert.Throws<PredictionException>(() => JointMap.Make(first, second, options, files)).Message,
                StringComparison.Ordinal);
        }

        Assert.False(File.Exists(files.Tif) || File.Exists(files.Labels) || File.Exists(files.Png));
    }

    [Fact]
    public void The_same_maps_give_the_same_bytes()
    {
        JointFiles again = JointFiles.In(island.Invented.Of("again"));
        island.Together(again);
        foreach ((string one, string two) in new[] { (island.JointTif, again.Tif), (island.JointTif + ".aux.xml", again.Labels) })
            Assert.Equal(File.ReadAllBytes(one), File.ReadAllBytes(two));
    }

    private string Flat(float value, float applicable, int bands)
    {
        string path = island.Invented.Of($"flat-{bands}-{applicable}.tif");
        MapQuantity of = bands == 8 ? MapQuantity.DecayRate : MapQuantity.Stabilisation;
        using GeoTiffWriter writer = new(path, Projection.Wgs84, new(10, 10, 0, 1, 0.1, 0.1), MapBands.Tif(of));
        writer.WriteTiles(0, 0,
            [.. Enumerable.Range(0, bands).Select(b => Enumerable.Repeat(b == 4 ? applicable : value, 256 * 256).ToArray())]);
        return path;
    }

    private double ByGdal(string tif, int band, int cell)
    {
        GeoPoint at = island.Lattice.CentreOf(cell % Columns, cell / Columns);
        string[] place = [Invariant($"{at.LongitudeDegrees:R}"), Invariant($"{at.LatitudeDegrees:R}")];
        return double.Parse(Run("gdallocationinfo", ["-valonly", "-b", $"{band}", "-wgs84", tif, .. place]), CultureInfo.InvariantCulture);
    }

    private static JsonElement[] BandsByGdal(string tif) =>
        [.. JsonDocument.Parse(Run("gdalinfo", "-json", tif)).RootElement.GetProperty("bands").EnumerateArray()];

    private static void SkipUnless(string tool) => Assert.SkipUnless((Environment.GetEnvironmentVariable("PATH") ?? "")
        .Split(Path.PathSeparator).Any(p => File.Exists(Path.Combine(p, tool))), $"{tool} (Debian package gdal-bin) is not installed.");

    private static string Run(string tool, params string[] arguments)
    {
        using Process process =
            Process.Start(new ProcessStartInfo(tool, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return output;
    }

    private static double Median(double[] values) => values.Order().ToArray() is var sorted && sorted.Length % 2 == 1
        ? sorted[sorted.Length / 2] : (sorted[sorted.Length / 2 - 1] + sorted[sorted.Length / 2]) / 2;

    private static double Correlation(double[] x, double[] y)
    {
        double meanX = x.Average(), meanY = y.Average();
        return x.Zip(y, (a, b) => (a - meanX) * (b - meanY)).Sum()
            / Math.Sqrt(x.Sum(a => (a - meanX) * (a - meanX)) * y.Sum(b => (b - meanY) * (b - meanY)));
    }

    private static double[] Band(string path, int band)
    {
        using Grid grid = GridFile.Open(path, new(Band: band));
        double[] values = new double[grid.Columns * grid.Rows];
        grid.ReadWindow(0, 0, grid.Columns, grid.Rows, values);
        return values;
    }

    /// <summary>One island, both models and their three maps for all tests here.</summary>
    public sealed class Island : IDisposable
    {
        public Island()
        {
            TrainingOptions options =
                new() { Folds = 3, Trees = 20, BlockDegrees = 0.3, SettingsTried = 1, ImportanceRepeats = 1, Members = 20 };
            Rates = ModelTrainer.Train(Invented.Training, options);
            Random random = new(3);
            Shares = ModelTrainer.Train(Invented.Training with
            {
                Target = PredictionTarget.Stabilisation,
                Rows = [.. Invented.Training.Rows
                    .Select(r => r with { Target = Share(r.Covariates) + 0.02 * (random.NextDouble() - 0.5) })],
            }, options);
            RateSummary = RateMap.Make(Rates, Invented.Entries, new("k", []), new(RatesTif, Invented.Of("k.nc"), Invented.Of("k.png")));
            ShareSummary = RateMap.Make(Shares, Invented.Entries, new("S", []), new(SharesTif, Invented.Of("s.nc"), Invented.Of("s.png")));
            GridLattice cells = RateSummary.Lattice;
            Lattice = MapLattice.OfBox(new(cells.West, cells.South, cells.East, cells.North), cells.Columns, cells.Rows);
            Joint = Together(JointFiles.In(Invented.Of()));
        }

        internal InventedIsland Invented { get; } = new(Columns, Rows, new(-2.5, 50.2, 0.1, 51.8));

        internal RateModel Rates { get; }

        internal RateModel Shares { get; }

        internal MapSummary RateSummary { get; }

        internal MapSummary ShareSummary { get; }

        internal JointSummary Joint { get; }

        internal MapLattice Lattice { get; }

        internal string RatesTif => Invented.Of("k.tif");

        internal string SharesTif => Invented.Of("s.tif");

        internal string JointTif => Invented.Of("joint.tif");

        internal JointSummary Together(JointFiles files) =>
            JointMap.Make(new(RatesTif, Rates.Card), new(SharesTif, Shares.Card), new("Both", []), files);

        /// <summary>The planted S in every cell, from the grids by the sampler.</summary>
        internal double[] TrueShares()
        {
            GeoPoint[] centres = [.. Enumerable.Range(0, Columns * Rows).Select(i => Lattice.CentreOf(i % Columns, i / Columns))];
            double[][] covariates = [.. Invented.Entries.Select(e =>
            {
                using Grid grid = e.Made.Layers[0].Open();
                return GridSampler.Sample(grid, centres, e.Rule, null).Select(s => s.Value ?? double.NaN).ToArray();
            })];
            return [.. Enumerable.Range(0, centres.Length).Select(i => Share([.. covariates.Select(c => c[i])]))];
        }

        public void Dispose()
        {
            Rates.Dispose();
            Shares.Dispose();
            Invented.Dispose();
        }

        private static double Share(IReadOnlyList<double> x) => 0.26 - 0.045 * (x[0] - 12) + 0.2 * (x[1] - 0.25);
    }
}
