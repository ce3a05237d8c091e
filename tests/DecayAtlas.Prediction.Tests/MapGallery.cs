using System.Diagnostics;

namespace DecayAtlas.Prediction.Tests;

/// <summary>Pictures to look at and times to note, on request only: run with <c>-explicit only</c> and DECAYATLAS_GALLERY naming a
/// folder.</summary>
public class MapGallery
{
    private static readonly (string Name, int Columns, int Rows, BoundingBox Extent)[] Shapes =
    [
        ("island", 420, 380, new(-2.5, 50.2, 0.1, 51.8)),
        ("wide", 800, 160, new(100, -12, 116, -9)),
        ("tall", 150, 700, new(-75, -52, -68, -24)),
        ("tiny", 60, 50, new(10.001, 60.002, 10.008, 60.006)),
        ("large", 2400, 2000, new(-30, -20, 30, 30)),
    ];

    private static string Folder => Environment.GetEnvironmentVariable("DECAYATLAS_GALLERY")!;

    private static double Cpu => Process.GetCurrentProcess().TotalProcessorTime.TotalSeconds;

    [Fact(Explicit = true)]
    public void Draw()
    {
        foreach ((string? name, int columns, int rows, BoundingBox? extent) in Shapes)
        {
            using InventedIsland island = new(columns, rows, extent);
            using RateModel model =
                ModelTrainer.Train(island.Training, new() { BlockDegrees = (extent.EastDegrees - extent.WestDegrees) / 8 });
            RateMap.Make(model, island.Entries,
                new MapOptions("Decay rate of the standard litters on an invented island", name == "large" ? [] : island.Sites),
                new(Path.Combine(Folder, name + ".tif"), null, Path.Combine(Folder, name + ".png")));
            model.Save(Path.Combine(Folder, name + "-model"));
        }
    }

    [Fact(Explicit = true)]
    public void Time()
    {
        List<string> lines = new();
        TrainingSet set = InventedSites.Make(400, InventedSites.CurvedTruth, 0.1);
        for (int i = 0; i < 3; i++)
        {
            (Stopwatch? watch, double cpu) = (Stopwatch.StartNew(), Cpu);
            using RateModel model = ModelTrainer.Train(set, new());
            lines.Add($"train 400 x 6, all candidates, winner {model.Card.Winner}: {watch.Elapsed.TotalSeconds:0.00} s, processor "
                + $"{Cpu - cpu:0.00} s");
        }
        CovariateTable table = CovariateTable.Of(set);
        foreach (Candidate candidate in CandidateSet.Of(InventedSites.Make(50, InventedSites.CurvedTruth, 0.1), new()).Learned)
        {
            Stopwatch watch = Stopwatch.StartNew();
            FittedModel trained = candidate.Fit(table, candidate.Settings(new())[0], new());
            lines.Add($"one fit {candidate.Name}: {watch.Elapsed.TotalMilliseconds:0} ms");
            float[] features = Enumerable.Range(0, 500_000).SelectMany(r => table.FeaturesOf(r % 400).ToArray()).ToArray();
            watch.Restart();
            double cpu = Cpu;
            trained.Predictor.Predict(features, new double[500_000]);
            lines.Add($"  500k rows, one thread: {watch.Elapsed.TotalSeconds:0.00} s, processor {Cpu - cpu:0.00} s");
        }
        using InventedIsland island = new(1120, 1000, new(-2.5, 50.2, 0.1, 51.8));
        foreach (Candidate candidate in CandidateSet.Of(InventedSites.Make(50, InventedSites.CurvedTruth, 0.1), new()).Learned)
        {
            using RateModel any = ModelTrainer.Train(island.Training, new() { BlockDegrees = 0.3, ImportanceRepeats = 1 });
            using RateModel model = new(any.Card,
                candidate.Fit(CovariateTable.Of(island.Training), candidate.Settings(new())[0], new()).Predictor, new("", []),
                any.Limits, any.Members, []);
            (Stopwatch? watch, double cpu) = (Stopwatch.StartNew(), Cpu);
            MapSummary summary =
                RateMap.Make(model, island.Entries, new MapOptions("T", []),
                    new(island.Of("t.tif"), island.Of("t.nc"), island.Of("t.png")));
            lines.Add($"map {summary.Cells} cells ({summary.Predicted} predicted) x 4 covariates, {candidate.Name}: "
                + $"{watch.Elapsed.TotalSeconds:0.00} s, processor {Cpu - cpu:0.00} s");
        }
        File.WriteAllLines(Path.Combine(Folder, "times.txt"), lines);
    }
}
