using System.Diagnostics;
using System.Globalization;

namespace DecayAtlas.Grids.Tests;

/// <summary>R terra (Debian packages r-base-core and r-cran-terra), the second peer; it reads through GDAL but interpolates by
/// itself.</summary>
internal static class Terra
{
    private const string Script = """
        suppressMessages(library(terra))
        args <- commandArgs(TRUE)
        setwd(args[1])
        p <- as.matrix(read.csv("points.csv", header = FALSE))
        jobs <- read.csv("jobs.csv", header = FALSE, stringsAsFactors = FALSE)
        for (i in seq_len(nrow(jobs))) {
          r <- rast(jobs[i, 1])[[jobs[i, 2]]]
          v <- cbind(extract(r, p, method = "simple")[, 1], extract(r, p, method = "bilinear")[, 1])
          write.table(format(v, digits = 17, trim = TRUE), paste0(jobs[i, 1], ".", jobs[i, 2], ".csv"), sep = ",", row.names = FALSE, col.names = FALSE, quote = FALSE)
        }
        """;

    private static readonly Lazy<bool> Installed = new(() =>
    {
        try
        {
            return Run("-e", "quit(status = !nzchar(system.file(package = 'terra')))") == "";
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return false;
        }
    });

    public static void SkipUnlessInstalled() =>
        Assert.SkipUnless(Installed.Value, "R with terra (Debian package r-cran-terra) is not installed.");

    /// <summary>Values of bands of files at points, all in one run of R: nearest and bilinear, null where missing.</summary>
    public static IReadOnlyList<(double? Nearest, double? Bilinear)[]> Extract(TestFolder folder,
        IEnumerable<(string File, int Band)> jobs, IEnumerable<GeoPoint> points)
    {
        folder.Write("points.csv",
            string.Concat(
                points.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.LongitudeDegrees:R},{p.LatitudeDegrees:R}\n"))));
        folder.Write("jobs.csv", string.Concat(jobs.Select(j => $"{j.File},{j.Band}\n")));
        string said = Run(folder.Write("extract.R", Script), folder.Root);
        Assert.Equal("", said);
        return [.. jobs.Select(j => File.ReadLines(folder.File($"{j.File}.{j.Band}.csv")).Select(line => line.Split(','))
            .Select(c => (Number(c[0]), Number(c[1]))).ToArray())];
    }

    private static double? Number(string cell) => cell is "NA" or "NaN" ? null : double.Parse(cell, CultureInfo.InvariantCulture);

    private static string Run(params string[] arguments)
    {
        ProcessStartInfo start = new("Rscript", ["--vanilla", .. arguments])
        {
            RedirectStandardError = true,
            RedirectStandardOutput = true
        };
        using Process process = Process.Start(start)!;
        Task<string> output = process.StandardOutput.ReadToEndAsync(), error = process.StandardError.ReadToEndAsync();
        process.WaitForExit();
        return process.ExitCode == 0 ? "" : $"exit code {process.ExitCode}: {output.Result}{error.Result}";
    }
}
