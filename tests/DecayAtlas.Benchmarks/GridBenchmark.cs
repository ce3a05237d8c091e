using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;

namespace DecayAtlas.Benchmarks;

/// <summary>Values at scattered points of a large GeoTIFF and of a monthly NetCDF stack, beside R terra, rasterio and xarray.</summary>
internal static class GridBenchmark
{
    /// <summary>Runs all; each taking of values in a process of its own.</summary>
    /// <param name="points">Points of the main comparison.</param>
    /// <param name="folder">Where the grids are made and kept; null for a folder that goes away.</param>
    public static int Run(int points, string? folder)
    {
        string work = folder ?? Directory.CreateTempSubdirectory("decayatlas-bench-grids-").FullName;
        Directory.CreateDirectory(work);
        try
        {
            Console.WriteLine("making the grids");
            string world = Path.Combine(work, "world.tif"), months = Path.Combine(work, "months.nc");
            world = File.Exists(world) ? world : GridScene.WriteGeoTiff(work);
            months = File.Exists(months) ? months : GridScene.WriteNetCdf(work);
            foreach ((string name, string text) in new[] { ("terra.R", GridPeers.Terra), ("peer_rasterio.py", GridPeers.Rasterio),
                ("peer_xarray.py", GridPeers.Xarray) })
            {
                File.WriteAllText(Path.Combine(work, name), text);
            }

            string list = GridScene.WritePoints(work, points), tenth = GridScene.WritePoints(work, points / 10);

            Console.WriteLine($"\n{GridScene.Columns} x {GridScene.Rows} GeoTIFF, {new FileInfo(world).Length >> 20} MiB, {points} "
                + "clustered points\n");
            Head();
            foreach ((string rule, string method) in new[] { ("nearest", "simple"), ("bilinear", "bilinear") })
            {
                Taken peer = Peer("Rscript", Path.Combine(work, "terra.R"), world, list, method);
                Row($"R terra extract, {rule}", peer, points, peer);
                Row($"DecayAtlas, {rule}", Ours(world, list, rule, ""), points, peer);
            }

            Row($"rasterio sample, nearest, {points / 10} points",
                Peer("/usr/bin/python3", Path.Combine(work, "peer_rasterio.py"), world, tenth, "simple"), points / 10, null);

            Console.WriteLine($"\n12 x 4320 x 2160 NetCDF-4, {new FileInfo(months).Length >> 20} MiB, {points} clustered points in "
                + "every month\n");
            Head();
            foreach ((string rule, string method) in new[] { ("nearest", "simple"), ("bilinear", "bilinear") })
            {
                Taken peer = Peer("Rscript", Path.Combine(work, "terra.R"), months, list, method);
                Row($"R terra extract, {rule}", peer, points, peer);
                Row($"xarray, {rule}", Peer("/usr/bin/python3", Path.Combine(work, "peer_xarray.py"), months, list, method), points, peer);
                Row($"DecayAtlas, {rule}", Ours(months, list, rule, "tas"), points, peer);
            }

            Console.WriteLine("\nGeoTIFF, nearest, how time grows\n");
            Head();
            foreach (int count in new[] { 10_000, 100_000, 1_000_000, 10_000_000 })
            {
                string some = GridScene.WritePoints(work, count);
                Taken peer = Peer("Rscript", Path.Combine(work, "terra.R"), world, some, "simple");
                Row($"R terra, {count} points", peer, count, peer);
                Row($"DecayAtlas, {count} points", Ours(world, some, "nearest", ""), count, peer);
            }

            return 0;
        }
        finally
        {
            if (folder is null)
                Directory.Delete(work, recursive: true);
        }
    }

    /// <summary>Takes values once and prints wall seconds, processor seconds, sum and count; run as a process of its own.</summary>
    public static int Sample(string path, string list, string rule, string variable)
    {
        ReadOnlySpan<double> numbers = MemoryMarshal.Cast<byte, double>(File.ReadAllBytes(list));
        GeoPoint[] points = new GeoPoint[numbers.Length / 2];
        for (int i = 0; i < points.Length; i++)
            points[i] = new GeoPoint(numbers[2 * i], numbers[2 * i + 1]);
        SamplingRule how = Enum.Parse<SamplingRule>(rule, ignoreCase: true);
        using Process self = Process.GetCurrentProcess();
        TimeSpan before = self.TotalProcessorTime;
        Stopwatch clock = Stopwatch.StartNew();
        double sum = 0;
        long count = 0;
        foreach (GridReadOptions options in variable.Length == 0
            ? [new GridReadOptions()]
            : Enumerable.Range(1, 12)
                .Select(m => new GridReadOptions(Variable: variable, Select: new Dictionary<string, string> { ["time"] = $"#{m}" })))
        {
            using Grid grid = GridFile.Open(path, options);
            foreach (GridSample sample in GridSampler.Sample(grid, points, how, null))
            {
                sum += sample.Value ?? 0;
                count += sample.Value is null ? 0 : 1;
            }
        }

        clock.Stop();
        self.Refresh();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"{clock.Elapsed.TotalSeconds:0.000} {(self.TotalProcessorTime - before).TotalSeconds:0.000} "
            + $"{sum:0.000000} {count}"));
        return 0;
    }

    private static Taken Ours(string grid, string list, string rule, string variable) =>
        Peer("dotnet", typeof(GridBenchmark).Assembly.Location, "grids-sample", grid, list, rule, variable);

    private static Taken Peer(string program, params string[] args)
    {
        Measured run = Measured.Of(program, args);
        string[] words = run.Output.Split((char[])[' ', '\n'], StringSplitOptions.RemoveEmptyEntries);
        return run.ExitCode == 0 && words.Length == 4
            ? new Taken(Number(words[0]), Number(words[1]), run.PeakMebibytes, Number(words[2]), Number(words[3]))
            : throw new InvalidOperationException($"{program} {string.Join(' ', args)} ended with exit code {run.ExitCode}: {run.Output}");
    }

    private static double Number(string word) => double.Parse(word, CultureInfo.InvariantCulture);

    private static void Head() =>
        Console.WriteLine(
            "| work | seconds | CPU seconds | M points/s | peak MiB | against terra, wall | CPU | mean of values |\n| --- | ---: | "
            + "---: | ---: | ---: | ---: | ---: | ---: |");

    private static void Row(string work, Taken taken, int points, Taken? peer) => Console.WriteLine(string.Create(
        CultureInfo.InvariantCulture,
        $"| {work} | {taken.Seconds:0.00} | {taken.ProcessorSeconds:0.00} | {points / taken.Seconds / 1e6:0.00} | "
        + $"{taken.PeakMebibytes:0} | {(peer is null || peer == taken ? "" : $"{peer.Seconds / taken.Seconds:0.0} x")} | "
        + $"{(peer is null || peer == taken ? "" : $"{peer.ProcessorSeconds / taken.ProcessorSeconds:0.0} x")} | "
        + $"{taken.Sum / taken.Count:0.0000} of {taken.Count:0} |"));

    /// <summary>One taking of values: without start and reading of points, but the peak is the whole process's.</summary>
    private sealed record Taken(double Seconds, double ProcessorSeconds, double PeakMebibytes, double Sum, double Count);
}
