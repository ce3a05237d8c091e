using System.Globalization;
using System.Text.Json;

namespace DecayAtlas.Benchmarks;

/// <summary>A curator's nights: the first with everything new, one with nothing new, one with a little.</summary>
internal static class NightBenchmark
{
    public static int Run(int bags)
    {
        string work = Directory.CreateTempSubdirectory("decayatlas-bench-").FullName;
        try
        {
            string inbox = Path.Combine(work, "inbox"), configuration = Path.Combine(work, "night.yaml");
            Console.WriteLine($"making {bags} bags");
            Campaign.Write(inbox, bags);
            File.WriteAllText(configuration, "version: 1\natlas: atlas\ninbox: inbox\n");

            Measured peer =
                Measured.Of("dotnet", typeof(NightBenchmark).Assembly.Location, "duckdb-convert", inbox, Path.Combine(work, "duckdb"));
            Measured first = DecayAtlas("run", configuration);
            PrintStages(Path.Combine(work, "atlas", "runs"));
            Measured unchanged = DecayAtlas("run", configuration);
            Campaign.WriteContribution(inbox, 99_999, 100);
            Measured little = DecayAtlas("run", configuration);

            Console.WriteLine("| work | seconds | peak MiB | against DuckDB |\n| --- | ---: | ---: | ---: |");
            Row("DuckDB: read_csv to COPY PARQUET, no checks", peer, peer);
            Row("first night: intake to release, every check", first, peer);
            Row("a night on which nothing changed", unchanged, null);
            Row("a night with one new contribution of 100 bags", little, null);
            return new[] { peer, first, unchanged, little }.All(m => m.ExitCode == 0) ? 0 : 3;
        }
        finally
        {
            Directory.Delete(work, recursive: true);
        }
    }

    /// <summary>Where the first night's time went, from its run record.</summary>
    private static void PrintStages(string runs)
    {
        foreach (JsonElement stage in JsonDocument.Parse(File.ReadAllText(Directory.GetFiles(runs, "*.json")[0])).RootElement
            .GetProperty("stages").EnumerateArray())
        {
            Console.WriteLine($"  {stage.GetProperty("stage")}: {stage.GetProperty("seconds")} s");
        }
    }

    private static Measured DecayAtlas(params string[] args) =>
        Measured.Of("dotnet", [Path.Combine(AppContext.BaseDirectory, "decayatlas.dll"), .. args]);

    private static void Row(string work, Measured measured, Measured? peer) => Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
        $"| {work} | {measured.Seconds:0.0} | {measured.PeakMebibytes:0} | "
        + $"{(peer is null ? "" : $"{measured.Seconds / peer.Seconds:0.0} x")} "
        + $"|{(measured.ExitCode == 0 ? "" : $" exit code {measured.ExitCode}")}"));
}
