using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using System.Text.Json;

namespace DecayAtlas.Benchmarks;

/// <summary>k and S with first-order uncertainty, and by Monte Carlo, beside the same equations vectorised with NumPy.</summary>
internal static class IndexBenchmark
{
    private const double Tare = 0.25, TareSd = 0.01, Resolution = 0.001;
    private const int Draws = 10_000;
    private static readonly LitterLot Fast = new(0.80, 0.02, TareGrams: Tare, TareSdGrams: TareSd),
        Slow = new(0.55, 0.04, TareGrams: Tare, TareSdGrams: TareSd);

    public static int Run(int burials, int drawn)
    {
        string work = Directory.CreateTempSubdirectory("decayatlas-bench-").FullName;
        try
        {
            double[] data = Masses(burials), few = Masses(drawn);
            Intervals(data, burials);
            Console.WriteLine("| work | seconds | NumPy, seconds | NumPy / ours | agreement |\n| --- | ---: | ---: | ---: | --- |");
            FirstOrder(work, data, burials);
            MonteCarloDraws(work, few, drawn);
            return 0;
        }
        finally
        {
            Directory.Delete(work, recursive: true);
        }
    }

    /// <summary>Initial and final masses of fast and slow bags (g) and days, one quantity after the other.</summary>
    private static double[] Masses(int n)
    {
        RandomStream random = new(1, "masses");
        double[] data = new double[5 * n];
        for (int i = 0; i < n; i++)
        {
            double fast = 1.7 + (0.6 * random.NextUniform()), slow = 1.7 + (0.6 * random.NextUniform());
            data[i] = Math.Round(fast + Tare, 3);
            data[n + i] = Math.Round((fast * (0.35 + (0.15 * random.NextUniform()))) + Tare, 3);
            data[(2 * n) + i] = Math.Round(slow + Tare, 3);
            data[(3 * n) + i] = Math.Round((slow * (0.75 + (0.12 * random.NextUniform()))) + Tare, 3);
            data[(4 * n) + i] = 80 + random.NextIndex(30);
        }

        return data;
    }

    /// <summary>The interval of k, which no peer makes, with all water measured and with that before burial unspoken.</summary>
    private static void Intervals(double[] data, int n)
    {
        MeasurementAssumptions assumptions = MeasurementAssumptions.Default;
        foreach ((string name, Water water) in new[] { ("water measured", Water.Measured(0, 0.005)), ("water unspoken", Water.UpTo(0.1)) })
        {
            (RemainingFraction Fast, RemainingFraction Slow, Exposure Exposure)[] burials =
            [
                .. Enumerable.Range(0, n).Select(i => (
                    Left(data[i], data[n + i], Fast), Left(data[(2 * n) + i], data[(3 * n) + i], Slow),
                    new Exposure(data[(4 * n) + i], assumptions.DateHalfWidthDays * Math.Sqrt(2.0 / 3)))),
            ];
            double[] seconds = new double[3];
            int given = 0;
            for (int round = 0; round < 3; round++)
            {
                Stopwatch clock = Stopwatch.StartNew();
                given = burials.Count(b => RateInterval.Of(b.Fast, b.Slow, b.Exposure) is { Lower95PerDay: not null });
                seconds[round] = clock.Elapsed.TotalSeconds;
            }

            Console.WriteLine($"Interval of k, {name}: {1e9 * seconds.Min() / n:0} ns a burial, {given} of {n} with a lower end\n");

            RemainingFraction Left(double initial, double final, LitterLot lot) => RemainingFraction.Of(
                new BagWeighing(initial, final, MassBasis.Gross, null, Resolution, water), lot, assumptions).Value!;
        }
    }

    private static void FirstOrder(string work, double[] data, int n)
    {
        MeasurementAssumptions assumptions = MeasurementAssumptions.Default;
        // best of three, as the peer's first call is not timed either
        double[] result = [], seconds = new double[3];
        for (int round = 0; round < 3; round++)
        {
            Stopwatch clock = Stopwatch.StartNew();
            result = new double[5 * n];
            for (int i = 0; i < n; i++)
            {
                RemainingFraction fast =
                    RemainingFraction.Of(new BagWeighing(data[i], data[n + i], MassBasis.Gross, null, Resolution), Fast,
                        assumptions).Value!;
                RemainingFraction slow =
                    RemainingFraction.Of(new BagWeighing(data[(2 * n) + i], data[(3 * n) + i], MassBasis.Gross, null, Resolution), Slow,
                        assumptions).Value!;
                if (RateAndStabilisation.Of(fast, slow,
                    new Exposure(data[(4 * n) + i], assumptions.DateHalfWidthDays * Math.Sqrt(2.0 / 3))).Value is { } both)
                {
                    result[i] = both.RatePerDay.Value;
                    result[n + i] = both.RatePerDay.Uncertainty;
                    result[(2 * n) + i] = both.StabilisationFactor.Value;
                    result[(3 * n) + i] = both.StabilisationFactor.Uncertainty;
                    result[(4 * n) + i] = both.Covariance;
                }
                else
                {
                    result[i] = double.NaN;
                }
            }

            seconds[round] = clock.Elapsed.TotalSeconds;
        }

        (double peer, double[] theirs) = Peer(work, data, "first-order");
        double worst = Enumerable.Range(0, 5 * n).Where(j => double.IsFinite(result[j % n]) && double.IsFinite(theirs[j]))
            .Max(j => Math.Abs(result[j] - theirs[j]) / Math.Abs(theirs[j]));
        Row($"first order, {n} burials, one core", seconds.Min(), peer, $"to {worst:0e0} of each number");
    }

    private static void MonteCarloDraws(string work, double[] data, int n)
    {
        BurialInputs[] burials =
        [
            .. Enumerable.Range(0, n).Select(i => new BurialInputs(
                $"b{i}", new SharedKeys("f", "s", "b", "b"), new BagWeighing(data[i], data[n + i], MassBasis.Gross, null, Resolution), Fast,
                new BagWeighing(data[(2 * n) + i], data[(3 * n) + i], MassBasis.Gross, null, Resolution), Slow,
                new Exposure(data[(4 * n) + i], MeasurementAssumptions.Default.DateHalfWidthDays * Math.Sqrt(2.0 / 3)))),
        ];
        Stopwatch clock = Stopwatch.StartNew();
        IReadOnlyList<Computed<BurialDraws>> drawn =
            MonteCarlo.Propagate(burials, MeasurementAssumptions.Default, new MonteCarloOptions(Draws));
        double seconds = clock.Elapsed.TotalSeconds;
        (double peer, double[] theirs) = Peer(work, data, "monte-carlo", $"{Draws}", $"{Environment.ProcessorCount}");
        double[] ratios = [.. Enumerable.Range(0, n).Where(i => drawn[i].Value is not null && double.IsFinite(theirs[n + i]))
            .Select(i => drawn[i].Value!.RatePerDay.Uncertainty / theirs[n + i]).Order()];
        Row($"Monte Carlo, {Draws} draws for {n} burials, {Environment.ProcessorCount} cores", seconds,
            peer, $"median u(k) {ratios[ratios.Length / 2]:0.000} of NumPy's");
    }

    private static (double Seconds, double[] Result) Peer(string work, double[] data, string what, params string[] more)
    {
        string source = Path.Combine(work, "in.bin"), target = Path.Combine(work, "out.bin");
        File.WriteAllBytes(source, MemoryMarshal.AsBytes(data.AsSpan()));
        using Process process =
            Process.Start(new ProcessStartInfo(
                "/usr/bin/python3", [Path.Combine(AppContext.BaseDirectory, "index_peer.py"), what, source, target, .. more])
            {
                RedirectStandardOutput = true,
            })!;
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (JsonDocument.Parse(output).RootElement.GetProperty("seconds")
            .GetDouble(), MemoryMarshal.Cast<byte, double>(File.ReadAllBytes(target)).ToArray());
    }

    private static void Row(string work, double seconds, double peer, string agreement) => Console.WriteLine(string.Create(
        CultureInfo.InvariantCulture, $"| {work} | {seconds:0.00} | {peer:0.00} | {peer / seconds:0.0} x | {agreement} |"));
}
