using System.Diagnostics;
using System.Globalization;

namespace DecayAtlas.Grids.Tests;

/// <summary>
/// A measurement, run by hand: DECAYATLAS_SPEED_GRID names a large grid, DECAYATLAS_SPEED_POINTS a CSV of longitudes and
/// latitudes without a header. The times and the peak memory go to a file beside the points (.times); a checksum shows that the values are
/// the same as another program's.
/// </summary>
public sealed class SpeedTests
{
    [Fact]
    public void Many_points_are_taken_from_a_large_grid()
    {
        string? path = Environment.GetEnvironmentVariable("DECAYATLAS_SPEED_GRID"),
            list = Environment.GetEnvironmentVariable("DECAYATLAS_SPEED_POINTS");
        Assert.SkipUnless(path is not null && list is not null, "Set DECAYATLAS_SPEED_GRID and DECAYATLAS_SPEED_POINTS to measure.");
        GeoPoint[] points = [.. File.ReadLines(list!).Select(line => line.Split(','))
            .Select(c => new GeoPoint(double.Parse(c[0], CultureInfo.InvariantCulture), double.Parse(c[1], CultureInfo.InvariantCulture)))];
        foreach (SamplingRule rule in (SamplingRule[])[SamplingRule.Nearest, SamplingRule.Bilinear, SamplingRule.Nearest])
        {
            TimeSpan before = Process.GetCurrentProcess().TotalProcessorTime;
            Stopwatch clock = Stopwatch.StartNew();
            using Grid grid = GridFile.Open(path!);
            IReadOnlyList<GridSample> samples = GridSampler.Sample(grid, points, rule, null);
            clock.Stop();
            double sum = samples.Sum(s => s.Value ?? 0);
            using Process self = Process.GetCurrentProcess();
            File.AppendAllText(list + ".times", string.Create(
                CultureInfo.InvariantCulture,
                $"{rule}: {points.Length} points, {grid.BlocksDecoded} blocks, {clock.Elapsed.TotalSeconds:F2} s "
                + $"({(self.TotalProcessorTime - before).TotalSeconds:F2} s of all cores), sum {sum:R}, peak "
                + $"{self.PeakWorkingSet64 >> 20} MB\n"));
            Assert.Equal(points.Length, samples.Count);
        }
    }
}
