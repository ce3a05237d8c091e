using System.Diagnostics;
using System.Globalization;

namespace DecayAtlas.Prediction.Tests;

public sealed class RateMapTests : IClassFixture<RateMapTests.Island>
{
    private readonly InventedIsland _island;
    private readonly RateModel _model;

    public RateMapTests(Island fixture)
    {
        _island = fixture.Invented;
        _model = fixture.Model;
    }

    private static MapOptions Options => new("Decay rate on an invented island", []);

    private MapSummary Make(BoundingBox? box, string name, IReadOnlyList<CatalogueEntry>? entries = null) => RateMap.Make(
        _model, entries ?? _island.Entries, Options with { Region = box is null ? MapRegion.Whole : MapRegion.Of(box) },
        new(_island.Of(name + ".tif"), _island.Of(name + ".nc"), _island.Of(name + ".png")));

    [Fact]
    public void Every_cell_equals_the_model_at_its_centre()
    {
        string tif = _island.Of("all.tif");
        MapSummary summary = Make(null, "all");

        MapLattice lattice =
            MapLattice.OfBox(new(summary.Lattice.West, summary.Lattice.South, summary.Lattice.East, summary.Lattice.North),
                summary.Lattice.Columns, summary.Lattice.Rows);
        Assert.Equal((300, 280), (lattice.Columns, lattice.Rows));
        List<GeoPoint> centres = Enumerable.Range(0, 300 * 280).Select(i => lattice.CentreOf(i % 300, i / 300)).ToList();
        // Expected values by another way: the sampler for every covariate and cell, aligned or not.
        List<double[]> covariates = _island.Entries.Select(e =>
        {
            using Grid grid = e.Made.Layers[0].Open();
            return GridSampler.Sample(grid, centres, e.Rule, null).Select(s => s.Value ?? double.NaN).ToArray();
        }).ToList();
        PredictionBlock block = new(covariates.Count, centres.Count);
        for (int c = 0; c < covariates.Count; c++)
        {
            for (int i = 0; i < centres.Count; i++)
                block.Covariates[c][i] = (float)covariates[c][i];
        }

        _model.Predict(block, centres.Count);
        float[][] expected = [block.Predictions, block.Lower, block.Upper,
            block.Dissimilarity, [.. block.Applicable.Select((a, i) => float.IsNaN(block.Predictions[i]) ? float.NaN : a ? 1 : 0)]];

        double[][] bands = [.. Enumerable.Range(1, 5).Select(b => ReadAll(tif, b))];
        for (int b = 0; b < 5; b++)
        {
            // Bilinear at a cell centre carries rounding of the ninth digit, so a tree may step at a threshold: none does here.
            for (int i = 0; i < centres.Count; i++)
                Assert.Equal(expected[b][i], bands[b][i], (x, y) => Math.Abs(x - y) < 1e-6 || (double.IsNaN(x) && double.IsNaN(y)));
            // the NetCDF file holds the same numbers
            using Grid grid = GridFile.Open(_island.Of("all.nc"), new(Variable: MapBands.Tif(MapQuantity.DecayRate)[b].Name));
            double[] values = new double[centres.Count];
            grid.ReadWindow(0, 0, grid.Columns, grid.Rows, values);
            Assert.Equal(bands[b], values);
        }
        int[] predicted = [.. Enumerable.Range(0, centres.Count).Where(i => !double.IsNaN(bands[0][i]))];
        double AreaOf(int cell) => lattice.AreaOf(cell % 300, cell / 300);
        Assert.Equal((predicted.Length, predicted.Count(i => bands[4][i] == 1)), ((int)summary.Predicted, (int)summary.Applicable));
        Assert.Equal(84_000 - predicted.Length, summary.Missing);
        Assert.True(predicted.Length > 10_000 && summary.Applicable < predicted.Length - 500, $"{predicted.Length} {summary.Applicable}");
        Assert.Equal(predicted.Sum(AreaOf) / 1e6, summary.PredictedSquareKilometres, 1e-3);
        Assert.Equal(predicted.Sum(i => AreaOf(i) * bands[0][i]) / predicted.Sum(AreaOf), summary.MeanRatePerDay!.Value, 1e-9);
        Assert.Equal(predicted.Max(i => bands[0][i]), summary.MaximumRatePerDay!.Value, 1e-9);
    }

    [Fact]
    public void The_same_request_gives_the_same_bytes()
    {
        foreach (string name in new[] { "one", "two" })
            Make(null, name);
        foreach (string kind in new[] { ".tif", ".nc", ".png" })
            Assert.Equal(File.ReadAllBytes(_island.Of("one" + kind)), File.ReadAllBytes(_island.Of("two" + kind)));
    }

    [Fact]
    public void A_part_of_the_region_equals_the_same_part_of_the_whole()
    {
        Make(null, "whole");
        // Columns 40 to 199 and rows 30 to 129 of the whole.
        GridLattice whole = GeometryOf(_island.Of("whole.tif"));
        BoundingBox box = new(
            whole.West + 40 * whole.CellWidth, whole.North - 130 * whole.CellHeight,
            whole.West + 200 * whole.CellWidth, whole.North - 30 * whole.CellHeight);
        MapSummary summary = Make(box, "part");
        Assert.Equal((160, 100, false), (summary.Lattice.Columns, summary.Lattice.Rows, summary.ClippedToGrids));
        double[] all = ReadAll(_island.Of("whole.tif"), 1), part = ReadAll(_island.Of("part.tif"), 1);
        for (int row = 0; row < 100; row++)
        {
            for (int column = 0; column < 160; column++)
                Assert.Equal(all[(row + 30) * 300 + column + 40], part[row * 160 + column]);
        }
    }

    [Fact]
    public void Polygons_keep_the_cells_whose_centres_they_hold_and_nothing_else()
    {
        Make(null, "round");
        // a box with a hole
        const string rings =
            "[[[-2,50.6],[-0.5,50.6],[-0.5,51.5],[-2,51.5],[-2,50.6]],[[-1.5,50.9],[-1,50.9],[-1,51.2],[-1.5,51.2],[-1.5,50.9]]]";
        File.WriteAllText(_island.Of("p.geojson"), "{\"type\":\"Polygon\",\"coordinates\":" + rings + "}");
        MapSummary summary =
            RateMap.Make(_model, _island.Entries, Options with { Region = MapRegion.Of(RegionSet.Read(_island.Of("p.geojson"))) },
            new(_island.Of("poly.tif"), null, _island.Of("poly.png")));
        double[] all = ReadAll(_island.Of("round.tif"), 1), some = ReadAll(_island.Of("poly.tif"), 1);
        GridLattice whole = GeometryOf(_island.Of("round.tif"));
        int kept = 0;
        for (int i = 0; i < some.Length; i++)
        {
            double x = summary.Lattice.West + (i % summary.Lattice.Columns + 0.5) * summary.Lattice.CellWidth,
                y = summary.Lattice.North - (i / summary.Lattice.Columns + 0.5) * summary.Lattice.CellHeight;
            bool inside = x is > -2 and < -0.5 && y is > 50.6 and < 51.5 && !(x is > -1.5 and < -1 && y is > 50.9 and < 51.2);
            Assert.True(whole.TryLocate(new(x, y), out double column, out double row));
            double expected = inside ? all[(int)row * 300 + (int)column] : double.NaN;
            // bilinear at a centre carries rounding of the ninth digit
            Assert.Equal(expected, some[i], (a, b) => Math.Abs(a - b) < 1e-7 || (double.IsNaN(a) && double.IsNaN(b)));
            kept += double.IsNaN(some[i]) ? 0 : 1;
        }
        Assert.Equal(kept, summary.Predicted);
        Assert.True(kept > 5000);
    }

    [Fact]
    public void The_same_sides_differ_by_nothing_and_other_grids_by_the_ratio_of_their_maps()
    {
        using RateModel again =
            ModelTrainer.Train(_island.Training,
                new() { Folds = 3, Trees = 40, BlockDegrees = 0.3, SettingsTried = 1, ImportanceRepeats = 1, Members = 20 });
        DifferenceSummary same =
            DifferenceMap.Make(new("a", _model, _island.Entries), new("b", again, _island.Entries), Options,
                new(_island.Of("same.tif"), _island.Of("same.nc"), _island.Of("same.png")));
        Assert.Equal((1, 0), (same.MeanRatio!.Value, same.ToldApart));
        Assert.Empty(DifferenceMap.CautionsOf(same));
        foreach (int ofRatio in new[] { 3, 4, 5 })
            Assert.All(ReadAll(_island.Of("same.tif"), ofRatio).Where(x => !double.IsNaN(x)), x => Assert.Equal(1, x));

        IReadOnlyList<CatalogueEntry> warmer = [_island.Entries[0] with { Offset = 2, Scale = 1 }, .. _island.Entries.Skip(1)];
        Make(null, "cool");
        Make(null, "warm", warmer);
        DifferenceSummary warmed = DifferenceMap.Make(new("now", _model, _island.Entries), new("then", _model, warmer), Options,
            new(_island.Of("d.tif"), null, _island.Of("d.png")));
        Assert.Equal(DifferenceMap.SpaceForTime, Assert.Single(DifferenceMap.CautionsOf(warmed)));
        double[][] d = [.. Enumerable.Range(1, 7).Select(b => ReadAll(_island.Of("d.tif"), b))];
        double[][] cool = [.. Enumerable.Range(1, 5).Select(b => ReadAll(_island.Of("cool.tif"), b))],
            warm = [.. Enumerable.Range(1, 5).Select(b => ReadAll(_island.Of("warm.tif"), b))];
        bool Near(double x, double y) => Math.Abs(x - y) < 1e-6 * Math.Max(1, Math.Abs(x)) || (double.IsNaN(x) && double.IsNaN(y));
        for (int i = 0; i < d[0].Length; i++)
        {
            Assert.Equal(warm[0][i] / cool[0][i], d[2][i], Near);
            Assert.Equal(cool[4][i] * warm[4][i], d[5][i], Near);
            Assert.Equal(double.IsNaN(d[2][i]) ? double.NaN : d[3][i] > 1 || d[4][i] < 1 ? 1 : 0, d[6][i], Near);
            // the two share what places are off by, and most of the rest: surer than either side
            Assert.True(double.IsNaN(d[2][i]) || Math.Log(d[4][i] / d[3][i]) < Math.Log(cool[2][i] / cool[1][i]));
        }
    }

    [Fact]
    public void A_region_reaching_beyond_the_grids_is_cut_and_says_so()
    {
        MapSummary summary = Make(new(-10, 51, 10, 60), "cut");
        Assert.True(summary.ClippedToGrids);
        Assert.Equal(300, summary.Lattice.Columns);
        Assert.Equal(51, summary.Lattice.South, 0.01);
    }

    [Fact]
    public void Requests_that_cannot_be_mapped_are_one_clear_sentence_and_leave_nothing_behind()
    {
        CatalogueEntry first = _island.Entries[0];
        IReadOnlyList<CatalogueEntry> With(CatalogueEntry other) => [other, .. _island.Entries.Skip(1)];
        (IReadOnlyList<CatalogueEntry> Entries, BoundingBox? Box, string Says)[] cases =
        [
            ([.. _island.Entries.Skip(1)], null, "needs covariate 'temperature'"),
            (With(first with { Unit = "K" }), null, "trained in unit 'degC' but the grid catalogue gives 'K'"),
            (With(first with { IsClass = true }), null, "class grid"),
            (_island.Entries, new(170, -20, -170, -10), "outside the area"),
            (_island.Entries, new(170, -20, 190, -10), "is not a region"),
            (_island.Entries, new(0, 10, 1, 5), "is not a region"),
            (_island.Entries, new(40, 10, 50, 20), "outside the area that all covariate grids share"),
            (_island.Entries, new(-1.00001, 51, -1, 51.00001), "no cell centre"),
        ];
        foreach ((IReadOnlyList<CatalogueEntry>? entries, BoundingBox? box, string? says) in cases)
        {
            PredictionException e = Assert.Throws<PredictionException>(() => Make(box, "bad", entries));
            Assert.Contains(says, e.Message, StringComparison.Ordinal);
        }
        Assert.Empty(Directory.GetFiles(_island.Of(), "bad.*"));
    }

    [Fact]
    public void A_damaged_grid_leaves_the_map_of_before()
    {
        Make(null, "kept");
        byte[] before = File.ReadAllBytes(_island.Of("kept.tif"));
        byte[] damaged = File.ReadAllBytes(_island.Entries[0].Path);
        File.WriteAllBytes(_island.Of("damaged.tif"), damaged[..(damaged.Length / 2)]);
        IReadOnlyList<CatalogueEntry> entries = [_island.Entries[0] with { Path = _island.Of("damaged.tif") }, .. _island.Entries.Skip(1)];
        Assert.ThrowsAny<GridException>(() => Make(null, "kept", entries));
        Assert.Equal(before, File.ReadAllBytes(_island.Of("kept.tif")));
        Assert.Empty(Directory.GetFiles(_island.Of(), "*.unfinished"));
    }

    [Fact]
    public void GDAL_reads_the_same_place_values_and_tags()
    {
        Assert.SkipUnless(HasTool("gdalinfo"), "gdalinfo and gdallocationinfo (Debian package gdal-bin) are not installed.");
        string tif = _island.Of("gdal.tif");
        MapSummary summary = Make(null, "gdal");
        string info = Run("gdalinfo", tif);
        foreach (string part in new[]
        {
            "Size is 300, 280", "WGS 84", "Origin = (-2.5", "Block=256x256", "NoData Value=nan", "COMPRESSION=DEFLATE",
            "AREA_OR_POINT=Area",
            "Description = decay_rate", "Unit Type: d-1", "Description = applicable",
                "Overviews: 150x140", "MODEL_ID=" + _model.Card.ModelId, "RELEASE_ID=2026-01-a1b2c3d4",
        })
        {
            Assert.Contains(part, info, StringComparison.Ordinal);
        }

        double[] rates = ReadAll(tif, 1);
        foreach (int cell in new[] { 140 * 300 + 150, 100 * 300 + 90, 200 * 300 + 170, 0 })
        {
            GeoPoint centre = GeometryOf(tif).CentreOf(cell % 300, cell / 300);
            string text =
                Run("gdallocationinfo", "-valonly", "-b", "1", "-wgs84", tif, centre.LongitudeDegrees.ToString("R", null),
                    centre.LatitudeDegrees.ToString("R", null)).Trim();
            double theirs = text.Contains("nan", StringComparison.OrdinalIgnoreCase) ? double.NaN
                : double.Parse(text, CultureInfo.InvariantCulture);
            Assert.Equal(rates[cell], theirs, 1e-8);
        }
    }

    private static GridLattice GeometryOf(string path)
    {
        using Grid grid = GridFile.Open(path);
        return grid.LatticeInDegrees;
    }

    private static double[] ReadAll(string path, int band)
    {
        using Grid grid = GridFile.Open(path, new(Band: band));
        double[] values = new double[grid.LatticeInDegrees.Columns * grid.LatticeInDegrees.Rows];
        grid.ReadWindow(0, 0, grid.LatticeInDegrees.Columns, grid.LatticeInDegrees.Rows, values);
        return values;
    }

    private static bool HasTool(string name) =>
        (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator).Any(p => File.Exists(Path.Combine(p, name)));

    private static string Run(string tool, params string[] arguments)
    {
        using Process process = Process.Start(new ProcessStartInfo(tool, arguments) { RedirectStandardOutput = true })!;
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return output;
    }

    /// <summary>One island and model for all tests here.</summary>
    public sealed class Island : IDisposable
    {
        public Island() =>
            Model = ModelTrainer.Train(
                Invented.Training,
                new() { Folds = 3, Trees = 40, BlockDegrees = 0.3, SettingsTried = 1, ImportanceRepeats = 1, Members = 20 });

        internal InventedIsland Invented { get; } = new(300, 280, new(-2.5, 50.2, 0.1, 51.8));

        internal RateModel Model { get; }

        public void Dispose()
        {
            Model.Dispose();
            Invented.Dispose();
        }
    }
}
