using System.Diagnostics;
using System.Globalization;

namespace DecayAtlas.Benchmarks;

/// <summary>Wall time (s) and peak resident memory (MiB) of a process.</summary>
internal sealed record Measured(double Seconds, double PeakMebibytes, int ExitCode)
{
    /// <summary>What it printed.</summary>
    public string Output { get; private init; } = "";

    /// <summary>Runs a program to its end. Peak memory is the kernel's own high-water mark (Linux); elsewhere the largest seen.</summary>
    public static Measured Of(string program, params string[] args)
    {
        ProcessStartInfo info = new(program) { RedirectStandardOutput = true };
        foreach (string arg in args)
            info.ArgumentList.Add(arg);
        Stopwatch watch = Stopwatch.StartNew();
        using Process process = Process.Start(info)!;
        System.Text.StringBuilder output = new();
        process.OutputDataReceived += (_, line) => output.Append(line.Data).Append('\n');
        process.BeginOutputReadLine();
        double peak = 0;
        while (!process.WaitForExit(20))
            peak = Math.Max(peak, PeakOf(process));
        double seconds = watch.Elapsed.TotalSeconds;
        process.WaitForExit(); // until all output is there
        return new Measured(seconds, peak, process.ExitCode) { Output = output.ToString() };
    }

    private static double PeakOf(Process process)
    {
        try
        {
            if (OperatingSystem.IsLinux())
            {
                string? line = File.ReadLines($"/proc/{process.Id}/status")
                    .FirstOrDefault(l => l.StartsWith("VmHWM:", StringComparison.Ordinal));
                return line is null ? 0
                    : double.Parse(line.Split((char[])[' ', '\t'], StringSplitOptions.RemoveEmptyEntries)[1], CultureInfo.InvariantCulture)
                        / 1024;
            }

            process.Refresh();
            return process.PeakWorkingSet64 / 1048576.0;
        }
        catch (Exception e) when (e is IOException or InvalidOperationException)
        {
            return 0;   // it has just ended
        }
    }
}
