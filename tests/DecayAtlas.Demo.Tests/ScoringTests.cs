namespace DecayAtlas.Demo.Tests;

public sealed class ScoringTests(ScenarioFixture scenario)
{
    [Fact]
    public void The_true_map_compared_with_itself_has_no_error()
    {
        string truth = Path.Combine(scenario.Folder, "truth", "decay-rate.tif");
        TruthComparison comparison = TruthComparison.OfFiles(truth, truth);
        Assert.Equal(scenario.Summary.LandCells, comparison.Cells);
        Assert.Equal(0, comparison.RootMeanSquareErrorLn, 12);
        Assert.Equal(1, comparison.RSquared, 12);
        Assert.Equal(1, comparison.Correlation, 12);
    }

    [Fact]
    public void Errors_are_those_worked_out_by_hand()
    {
        // ln k true 0, 1, 2, 3 (mean 1.5, sum of squares 5); predicted 0.5, 1, 2, 2.5: errors 0.5, 0, 0, -0.5.
        // RMSE = sqrt(0.5 / 4), bias 0, R2 = 1 - 0.5 / 5; correlation: Sxy = 3.5, Sxx = 2.5, so 3.5 / sqrt(2.5 x 5).
        float e = MathF.E;
        string predicted = Write("predicted.tif", [MathF.Sqrt(e), e, e * e, MathF.Exp(2.5f), 1, float.NaN, -1, 0]);
        string truth = Write("truth.tif", [1, e, e * e, e * e * e, float.NaN, 1, 1, 1]);
        TruthComparison comparison = TruthComparison.OfFiles(predicted, truth);
        Assert.Equal(4, comparison.Cells);
        Assert.Equal(Math.Sqrt(0.125), comparison.RootMeanSquareErrorLn, 6);
        Assert.Equal(0, comparison.BiasLn, 6);
        Assert.Equal(0.9, comparison.RSquared, 6);
        Assert.Equal(3.5 / Math.Sqrt(12.5), comparison.Correlation, 6);
    }

    [Fact]
    public void A_map_on_a_window_of_the_lattice_is_held_against_the_right_cells()
    {
        string truth = Write("whole.tif", [1, 2, 3, 4, 5, 6, 7, 8]);
        string window = scenario.NewFolder("window.tif");
        // Columns 1 to 2 of both rows.
        GeoTiffWriter.WriteSingle(window, new GridLattice(2, 2, 11, 50, 1, 1), [2, 3, 6, 7], new GeoTiffBand("k", "d-1"));
        TruthComparison comparison = TruthComparison.OfFiles(window, truth);
        Assert.Equal(4, comparison.Cells);
        Assert.Equal(0, comparison.RootMeanSquareErrorLn, 12);
    }

    [Fact]
    public void Maps_without_a_common_cell_are_refused()
    {
        string truth = Write("here.tif", [1, 2, 3, 4, 5, 6, 7, 8]);
        string far = scenario.NewFolder("far.tif");
        GeoTiffWriter.WriteSingle(far, new GridLattice(2, 1, 100, 0, 1, 1), [2, 3], new GeoTiffBand("k", "d-1"));
        Assert.Contains("0 cells", Assert.Throws<DemoException>(() => TruthComparison.OfFiles(far, truth)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Recall_misses_and_false_alarms_are_counted()
    {
        PlantedFault[] planted =
        [
            new("c", "bag", "1", "mass-gain", ""),
            new("c", "bag", "2", "mass-gain", ""),
            new("c", "site", "A", "coordinates-zero", ""),
            new("c", "site", "A", "far-from-country", "") { FollowsFrom = "coordinates-zero" },
        ];
        RaisedFlag[] raised =
        [
            new("c", "bag", "1", "mass-gain", true),
            new("c", "site", "A", "coordinates-zero", true),
            new("c", "site", "A", "far-from-country", true),
            new("c", "bag", "2", "exposure-short", true),
            new("c", "bag", "3", "exposure-short", true),
            new("c", "bag", "3", "depth-out-of-range", true),
            new("c", "bag", "4", "drying-not-oven", false),
            new("other", "bag", "2", "mass-gain", true),
        ];
        DemoRecord[] records = [new("c", "bag", "1"), new("c", "bag", "2"), new("c", "bag", "3"), new("c", "bag", "4"),
            new("c", "site", "A"), new("other", "bag", "2")];
        FaultScore score =
            FaultScore.Of(planted, raised, records, code => code.StartsWith("mass", StringComparison.Ordinal) ? "physical" : "place");
        Assert.Equal((3, 2), (score.Planted, score.Found));
        Assert.Equal(
            [new FaultRecall("coordinates-zero", 1, 1, 0), new("depth-out-of-range", 0, 0, 1), new("drying-not-oven", 0, 0, 1),
            new("exposure-short", 0, 0, 2), new("mass-gain", 2, 1, 1)],
            score.ByCode);
        Assert.Equal([new FaultRecall("physical", 2, 1, 1), new FaultRecall("place", 1, 1, 4)], score.ByFamily);
        Assert.Equal("2", Assert.Single(score.Missed).RecordId);
        Assert.Equal((3, 2), (score.SoundRecords, score.SoundRecordsFlagged));
        Assert.Equal("exposure-short", Assert.Single(score.Unforeseen).Code);
    }

    [Fact]
    public void Faults_that_come_in_sizes_are_counted_by_size()
    {
        PlantedFault[] planted =
        [
            new("c", "burial", "1", "multivariate-outlier", "") { Size = 0.1, SizeOf = "g" },
            new("c", "burial", "2", "multivariate-outlier", "") { Size = 0.3, SizeOf = "g" },
            new("c", "burial", "3", "multivariate-outlier", "") { Size = 0.3, SizeOf = "g" },
        ];
        FaultScore score = FaultScore.Of(planted, [new("c", "burial", "3", "multivariate-outlier", false)], [], _ => "outlier");
        Assert.Equal([new SizedRecall("multivariate-outlier", 0.1, "g", 1, 0), new SizedRecall("multivariate-outlier", 0.3, "g", 2, 1)],
            score.BySize);
    }

    [Fact]
    public void A_missing_list_of_faults_is_named()
    {
        string folder = scenario.NewFolder("nothing-here");
        Assert.Contains("planted-faults.csv", Assert.Throws<DemoException>(() => PlantedFaults.Load(folder)).Message,
            StringComparison.Ordinal);
    }

    private string Write(string name, float[] values)
    {
        string path = scenario.NewFolder(name);
        GeoTiffWriter.WriteSingle(path, new GridLattice(4, 2, 10, 50, 1, 1), values, new GeoTiffBand("k", "d-1"));
        return path;
    }
}
