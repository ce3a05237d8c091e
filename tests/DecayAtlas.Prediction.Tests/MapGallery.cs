namespace DecayAtlas.Prediction.Tests;

/// <summary>Pictures to look at, made on request only: run with <c>-explicit only</c> and DECAYATLAS_GALLERY naming a folder.</summary>
public class MapGallery
{
    public static TheoryData<string, int, int, double, double, double, double> Shapes => new()
    {
        { "island", 420, 380, -2.5, 50.2, 0.1, 51.8 },
        { "wide", 800, 160, 100, -12, 116, -9 },
        { "tall", 150, 700, -75, -52, -68, -24 },
        { "tiny", 60, 50, 10.001, 60.002, 10.008, 60.006 },
        { "large", 2400, 2000, -30, -20, 30, 30 },
    };

    [Theory(Explicit = true)]
    [MemberData(nameof(Shapes))]
    public void Draw(string name, int columns, int rows, double west, double south, double east, double north)
    {
        string folder = Environment.GetEnvironmentVariable("DECAYATLAS_GALLERY")!;
        using var island = new InventedIsland(columns, rows, new(west, south, east, north));
        using var model = ModelTrainer.Train(island.Training, new(BlockDegrees: (east - west) / 8));
        var watch = System.Diagnostics.Stopwatch.StartNew();
        var summary = RateMap.Make(model, island.Entries, null, new MapOptions("Decay rate of the standard litters on an invented island", name == "large" ? [] : island.Sites),
            Path.Combine(folder, name + ".tif"), Path.Combine(folder, name + ".png"));
        File.WriteAllText(Path.Combine(folder, name + ".txt"), $"{summary} {watch.Elapsed}");
        model.Save(Path.Combine(folder, name + "-model"));
    }
}
