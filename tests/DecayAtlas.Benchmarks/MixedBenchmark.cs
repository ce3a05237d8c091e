using System.Diagnostics;
using System.Globalization;

namespace DecayAtlas.Benchmarks;

/// <summary>The joint mixed model of many burials, beside R lme4 on the part of it that lme4 can do.</summary>
internal static class MixedBenchmark
{
    private const int Lots = 40, Ecosystems = 12;

    private const string Peer = """
        suppressMessages(library(lme4))
        d <- read.csv(commandArgs(TRUE)[1])
        before <- proc.time()
        f <- lmer(k ~ group + x + (1 | fast) + (1 | slow) + (1 | ecosystem) + (1 | site) + (1 | campaign), d, REML = TRUE,
          control = lmerControl(calc.derivs = FALSE))
        cat(sprintf("%.2f %.6f\n", (proc.time() - before)[["elapsed"]], REMLcrit(f)))
        """;

    public static int Run(int sites)
    {
        string work = Directory.CreateTempSubdirectory("decayatlas-bench-").FullName;
        try
        {
            MixedRecord[] records = Make(sites);
            string data = Path.Combine(work, "data.csv"), script = Path.Combine(work, "peer.R");
            File.WriteAllLines(data, records.Select(r => string.Create(CultureInfo.InvariantCulture,
                $"{r.First},{r.FixedEffects[1]},{r.FixedEffects[2]},{string.Join(',', r.Units)}"))
                .Prepend("k,group,x,fast,slow,ecosystem,site,campaign"));
            File.WriteAllText(script, Peer);
            Console.WriteLine($"{records.Length} burials, {sites} sites, {Lots} lots\n");
            Console.WriteLine("| work | seconds | MiB | -2 l |\n| --- | ---: | ---: | ---: |");
            // without known errors and the shared quantities, one outcome: what lme4 can do
            Row("ln k alone, no known errors", [.. records.Select(r => r with { Second = null, Error = default, Shared = [] })], 1);
            Measured peer = Measured.Of("/usr/bin/Rscript", script, data);
            string[] said = peer.Output.Trim().Split(' ');
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"| the same, R lme4 | {said[0]} | {peer.PeakMebibytes:0} | {said[1]} |"));
            Row("ln k and S, known errors", [.. records.Select(r => r with { Shared = [] })], 2);
            Row("ln k and S, known errors, shared quantities", records, 2);
            return 0;
        }
        finally
        {
            Directory.Delete(work, recursive: true);
        }
    }

    private static void Row(string what, MixedRecord[] records, int outcomes)
    {
        MixedFactor[] factors =
            [new("fast"), new("slow", outcomes == 2 ? 0 : null), new("ecosystem"), new("site"), new("campaign at site")];
        GC.Collect();
        Stopwatch clock = Stopwatch.StartNew();
        Answer<MixedFit> answer = MixedModel.Fit(records, factors, outcomes);
        double seconds = clock.Elapsed.TotalSeconds;
        using Process self = Process.GetCurrentProcess();
        if (answer.Value is not { } fit)
        {
            Console.WriteLine($"| {what} | {answer.Statement!.Sentence} | | |");
            return;
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"| {what} | {seconds:0.00} | {self.PeakWorkingSet64 / 1048576.0:0} | {fit.RestrictedDeviance:0.000000} |"));
        clock.Restart();
        FixedEffect effect = fit.Effect(0, [0, 1, 0]);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"| its first contrast, {effect.DegreesOfFreedom:0.0} df | {clock.Elapsed.TotalSeconds:0.00} | | |"));
    }

    private static MixedRecord[] Make(int sites)
    {
        RandomStream random = new(1, "joint");
        List<MixedRecord> records = new();
        Dictionary<string, (double, double)> effects = new(StringComparer.Ordinal);
        for (int s = 0; s < sites; s++)
        {
            int contributor = s / 10, group = random.NextIndex(2);
            double x = 20 * random.NextUniform();
            for (int c = 0; c < 1 + random.NextIndex(3); c++)
            {
                int fast = random.NextIndex(Lots / 2), slow = random.NextIndex(Lots / 2);
                string batch = $"b{contributor}.{c}";
                (string, double)[] units =
                    [($"f{fast}", 0.1), ($"w{slow}", 0.1), ($"e{s % Ecosystems}", 0.2), ($"s{s}", 0.35), ($"s{s}.{c}", 0.15)];
                for (int b = 0; b < 1 + random.NextIndex(4); b++)
                {
                    double k = -4.5 + 0.2 * group + 0.02 * x, v = 0.25 - 0.02 * group;
                    foreach ((string unit, double sd) in units.Append(("r", 0.2)))
                    {
                        (double e1, double e2) = random.NextNormalPair();
                        if (unit != "r")
                        {
                            if (effects.TryGetValue(unit, out (double, double) known))
                                (e1, e2) = known;
                            effects[unit] = (e1, e2);
                        }

                        k += sd * e1;
                        v += unit[0] == 'w' ? 0 : 0.2 * sd * (-0.4 * e1 + 0.9 * e2);
                    }

                    double s1 = 0.05 + 0.1 * random.NextUniform(), s2 = 0.3 * s1;
                    (double n1, double n2) = random.NextNormalPair();
                    records.Add(new MixedRecord(k + s1 * n1, random.NextIndex(10) == 0 ? null : v + s2 * (0.5 * n1 + 0.87 * n2),
                        [.. units.Select(u => u.Item1)], [1, group, x])
                    {
                        Error = new OutcomeCovariance(s1 * s1, 0.5 * s1 * s2, s2 * s2),
                        Shared =
                        [
                            new($"f{fast} chemistry", 0.1 + 0.2 * s1, -0.03), new($"w{slow} chemistry", 0.12 + 0.1 * s1),
                            new($"{batch} water", 0.05 + 0.1 * s1, 0.01), new($"{batch} balance", 0.01, 0.002),
                        ],
                    });
                }
            }
        }

        return [.. records];
    }
}
