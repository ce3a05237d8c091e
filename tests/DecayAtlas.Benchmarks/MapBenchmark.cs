using System.Diagnostics;
using System.Globalization;
using System.Text;
using System.Text.Json;

namespace DecayAtlas.Benchmarks;

/// <summary>
/// Maps of growing size by a forest over six covariates, whole (grids read, interval, dissimilarity and applicability of every cell,
/// GeoTIFF with overviews, NetCDF and picture written), beside the forests of scikit-learn and R ranger, of as many trees, that only
/// predict what is in memory already.
/// </summary>
internal static class MapBenchmark
{
    private const int Sites = 600;
    private const int Leaves = 64;

    private static readonly int[] Millions = [1, 3, 10];

    /// <summary>Seconds on the clock and of processor for so many cells.</summary>
    private sealed record Timing(long Cells, double Seconds, double ProcessorSeconds);

    public static int Run(int trees)
    {
        string work = Directory.CreateTempSubdirectory("decayatlas-bench-").FullName;
        try
        {
            Console.WriteLine("making six grids of 4000 x 2500 cells");
            MakeGrids(work);
            WriteTraining(work);
            Console.WriteLine(
                "| work | million cells | seconds | processor s | processor µs a cell | peak MiB | peer over ours, whole map | peer "
                + "over ours, predicting only |\n| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |");
            Timing map = new(0, 0, 0), predicting = new(0, 0, 0);
            foreach (int millions in Millions)
            {
                Measured whole =
                    Measured.Of("dotnet", typeof(MapBenchmark).Assembly.Location, "map-once", work, Text(trees), Text(millions));
                Timing[] done = JsonSerializer.Deserialize<Timing[]>(File.ReadAllText(Path.Combine(work, "ours.json")))!;
                (map, predicting) = (done[0], done[1]);
                Row($"DecayAtlas: whole map, {trees} trees", map, whole.PeakMebibytes, null, null);
                Row($"DecayAtlas: only predicting, {trees} trees", predicting, null, null, null);
            }

            File.WriteAllText(Path.Combine(work, "peer.py"), Python);
            File.WriteAllText(Path.Combine(work, "peer.R"), Ranger);
            Peer("scikit-learn", "/usr/bin/python3", [Path.Combine(work, "peer.py"), work, Text(trees), Text(Leaves)], map, predicting);
            Peer("R ranger", "Rscript", [Path.Combine(work, "peer.R"), work, Text(trees), Text(Leaves)], map, predicting);
            return 0;
        }
        finally
        {
            Directory.Delete(work, recursive: true);
        }
    }

    /// <summary>One map in a process of its own, whose peak memory is measured from outside.</summary>
    public static int Once(string work, int trees, int millions)
    {
        using RateModel model = ForestModel.Train(Training(work), trees, Leaves);
        int rows = 250 * millions;
        BoundingBox box = new(0, 25 - rows * 0.01, 40, 25);
        MapOptions options = new("Benchmark", []) { Region = MapRegion.Of(box) };
        MapFiles files = new(Path.Combine(work, "map.tif"), Path.Combine(work, "map.nc"), Path.Combine(work, "map.png"));
        Timing map = Time(() => RateMap.Make(model, Entries(work), options, files).Cells);

        PredictionBlock[] blocks = Enumerable.Range(0, Environment.ProcessorCount).Select(_ => new PredictionBlock(6, 4096)).ToArray();
        // cells beside each other, as the peers get them
        for (int b = 0; b < blocks.Length; b++)
        {
            for (int i = 0; i < 4096; i++)
            {
                for (int c = 0; c < 6; c++)
                    blocks[b].Covariates[c][i] = (float)Covariate(c, (i % 4000 + 0.5) / 4000, (100 * b + i / 4000 + 0.5) / 2500);
            }
        }

        long cells = rows * 4000L;
        Timing predicting = Time(() =>
        {
            Parallel.For(0, blocks.Length, b =>
            {
                for (long done = 0; done < cells / blocks.Length; done += 4096)
                    model.PredictOnly(blocks[b], 4096);
            });
            return cells;
        });
        File.WriteAllText(Path.Combine(work, "ours.json"), JsonSerializer.Serialize(new[] { map, predicting }));
        return 0;
    }

    private static Timing Time(Func<long> work)
    {
        TimeSpan before = Process.GetCurrentProcess().TotalProcessorTime;
        Stopwatch watch = Stopwatch.StartNew();
        long cells = work();
        return new(cells, watch.Elapsed.TotalSeconds, (Process.GetCurrentProcess().TotalProcessorTime - before).TotalSeconds);
    }

    private static void Peer(string name, string program, string[] arguments, Timing map, Timing predicting)
    {
        string result = Path.Combine(arguments[1], "peer.txt");
        File.Delete(result);
        Measured run = Measured.Of(program, arguments);
        if (run.ExitCode != 0 || !File.Exists(result))
        {
            Console.WriteLine($"| {name}: did not run (is it installed?) | | | | | | | |");
            return;
        }

        foreach (string[] parts in File.ReadLines(result).Select(l => l.Split('\t')))
        {
            Row($"{name}: only predicting, {parts[0]}",
                new(long.Parse(parts[1], CultureInfo.InvariantCulture), Number(parts[2]), Number(parts[3])), null, map, predicting);
        }
    }

    private static void Row(string what, Timing timing, double? peak, Timing? map, Timing? predicting)
    {
        double micro = 1e6 * timing.ProcessorSeconds / timing.Cells;
        string Against(Timing? ours) => ours is null ? ""
            : (micro / (1e6 * ours.ProcessorSeconds / ours.Cells)).ToString("0.0", CultureInfo.InvariantCulture) + " x";
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"| {what} | {timing.Cells / 1e6:0.#} | {timing.Seconds:0.0} | {timing.ProcessorSeconds:0.0} | {micro:0.00} | {peak:0} | "
            + $"{Against(map)} | {Against(predicting)} |"));
    }

    private static readonly string[] Names = ["warmth", "rain", "moisture", "acidity", "clay", "height"];

    private static double Covariate(int c, double u, double v) => c switch
    {
        0 => 25 * Math.Cos(1.2 * v) - 8 * Math.Sin(9 * u) * Math.Sin(7 * v),
        1 => 800 + 600 * Math.Sin(6 * u + 1) * Math.Cos(5 * v),
        2 => 0.4 + 0.3 * Math.Sin(15 * u) * Math.Cos(11 * v + 2),
        3 => 6 + 1.5 * Math.Cos(21 * u * v + u),
        4 => 25 + 15 * Math.Sin(30 * u + 3 * v),
        _ => 500 + 480 * Math.Sin(13 * v) * Math.Sin(17 * u),
    };

    private static void MakeGrids(string work)
    {
        GridLattice geometry = new(4000, 2500, 0, 25, 0.01, 0.01);
        Parallel.For(0, Names.Length, c =>
        {
            float[] cells = new float[4000 * 2500];
            for (int i = 0; i < cells.Length; i++)
                cells[i] = (float)Covariate(c, (i % 4000 + 0.5) / 4000, (i / 4000 + 0.5) / 2500);
            GeoTiffWriter.WriteSingle(Path.Combine(work, Names[c] + ".tif"), geometry, cells, new(Names[c], "1"));
        });
    }

    private static IReadOnlyList<CatalogueEntry> Entries(string work) =>
        [.. Names.Select(n =>
            new CatalogueEntry(n, n, Path.Combine(work, n + ".tif"), 1, "1", SamplingRule.Nearest, false, null, null, null, null, null))];

    private static TrainingSet Training(string work) => new(
        [.. Names.Select(n => new CovariateInfo(n, "1", n))],
        [.. File.ReadLines(Path.Combine(work, "train.csv")).Skip(1).Select(l => l.Split(',').Select(Number).ToArray()).Select((v, i) =>
            new TrainingRow($"s{i:0000}", "c", 25 - v[8] * 25, v[7] * 40, v[6], 1, new(2024, 4, 1), new(2024, 7, 1), v[..6]))],
        "benchmark", 0);

    private static void WriteTraining(string work)
    {
        Random random = new(7);
        StringBuilder text = new(string.Join(',', Names) + ",y,u,v\n");
        for (int s = 0; s < Sites; s++)
        {
            double u = random.NextDouble(), v = random.NextDouble();
            double[] x = [.. Enumerable.Range(0, 6).Select(c => Covariate(c, u, v))];
            double y = -4.5 + 0.06 * (x[0] - 12) - 1.5 * (x[2] - 0.5) * (x[2] - 0.5) + 0.0004 * x[1] - 0.1 * Math.Abs(x[3] - 6)
                + 0.3 * (random.NextDouble() - 0.5);
            text.AppendJoin(',', x.Append(y).Append(u).Append(v).Select(n => n.ToString("R", CultureInfo.InvariantCulture))).Append('\n');
        }

        File.WriteAllText(Path.Combine(work, "train.csv"), text.ToString());
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);

    // Both peers with trees as their makers grow them, and with as many leaves as ours; both on all cores; cells in memory, a million at a
    // time.
    private const string Python = """
        import sys, time, os, numpy as np, rasterio
        from sklearn.ensemble import RandomForestRegressor
        work, trees, leaves = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
        t = np.genfromtxt(work + '/train.csv', delimiter=',', skip_header=1)
        names = ['warmth', 'rain', 'moisture', 'acidity', 'clay', 'height']
        x = np.column_stack([rasterio.open(f'{work}/{n}.tif').read(1, window=((0, 500), (0, 4000))).ravel() for n in names]).astype('f4')
        with open(work + '/peer.txt', 'w') as out:
            for what, most in ((f'{trees} trees, {leaves} leaves', leaves), (f'{trees} trees, grown out', None)):
                m = RandomForestRegressor(n_estimators=trees, max_leaf_nodes=most, n_jobs=os.cpu_count(), random_state=1).fit(t[:, :6].astype('f4'), t[:, 6])
                w, c = time.time(), time.process_time()
                for i in range(0, len(x), 1000000):
                    m.predict(x[i:i + 1000000])
                out.write(f'{what}\t{len(x)}\t{time.time() - w}\t{time.process_time() - c}\n')
        """;

    private const string Ranger = """
        a <- commandArgs(TRUE); work <- a[1]; trees <- as.integer(a[2])
        suppressMessages({library(ranger); library(terra)})
        t <- read.csv(file.path(work, "train.csv"))[, 1:7]
        x <- as.data.frame(sapply(names(t)[1:6], function(n) values(rast(file.path(work, paste0(n, ".tif"))), row = 1, nrows = 250)))
        names(x) <- names(t)[1:6]
        m <- ranger(y ~ ., t, num.trees = trees, num.threads = parallel::detectCores(), seed = 1)
        s <- proc.time(); p <- predict(m, x, num.threads = parallel::detectCores())$predictions; e <- proc.time() - s
        cat(sprintf("%d trees, grown out\t%d\t%f\t%f\n", trees, nrow(x), e[["elapsed"]], e[["user.self"]] + e[["sys.self"]]), file = file.path(work, "peer.txt"))
        """;
}
