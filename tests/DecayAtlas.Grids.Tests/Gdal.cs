using System.Diagnostics;
using System.Globalization;

namespace DecayAtlas.Grids.Tests;

/// <summary>Runs the command-line tools of GDAL (Debian package gdal-bin), the peer of these tests.</summary>
internal static class Gdal
{
    private static readonly Lazy<bool> Installed = new(() =>
        (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .Any(folder => File.Exists(Path.Combine(folder, "gdal_translate"))));

    public static void SkipUnlessInstalled() =>
        Assert.SkipUnless(Installed.Value, "GDAL's command-line tools (Debian package gdal-bin) are not installed.");

    public static string Run(string tool, string? input, params string[] arguments)
    {
        ProcessStartInfo start = new(tool, arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["GDAL_PAM_ENABLED"] = "NO";
        using Process process = Process.Start(start)!;
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        Task<string> error = process.StandardError.ReadToEndAsync();
        process.StandardInput.Write(input ?? "");
        process.StandardInput.Close();
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, $"{tool} {string.Join(' ', arguments)}: {error.Result}");
        return output.Result;
    }

    public static void Translate(string from, string to, params string[] options) =>
        Run("gdal_translate", null, [.. options, "-q", from, to]);

    /// <summary>Coordinates of WGS 84 points in another system; the datum is not changed (its difference is the caveat of the
    /// product).</summary>
    public static (double X, double Y)[] Transform(string target, IEnumerable<GeoPoint> points)
    {
        if (Projection.FromText(target).Caveat is null)
            return Transform("OGC:CRS84", target, points);

        string definition = Run("gdalsrsinfo", null, "-o", "proj4", target).Trim();
        // The same latitudes and longitudes on the map's own figure of the Earth.
        string[] figure = [.. definition.Split(' ').Where(p => p.StartsWith("+datum", StringComparison.Ordinal)
            || p.StartsWith("+ellps", StringComparison.Ordinal) || p.StartsWith("+R=", StringComparison.Ordinal)
            || p.StartsWith("+towgs84", StringComparison.Ordinal))];
        return Transform($"+proj=longlat {string.Join(' ', figure)} +no_defs", definition, points);
    }

    private static (double X, double Y)[] Transform(string source, string target, IEnumerable<GeoPoint> points)
    {
        string input = string.Join('\n', points.Select(p =>
            string.Create(CultureInfo.InvariantCulture, $"{p.LongitudeDegrees:R} {p.LatitudeDegrees:R}"))) + "\n";
        string output = Run("gdaltransform", input, "-s_srs", source, "-t_srs", target, "-output_xy");
        return [.. output.TrimEnd('\n').Split('\n').Select(line =>
        {
            string[] parts = line.Split(' ');
            return (double.Parse(parts[0], CultureInfo.InvariantCulture), double.Parse(parts[1], CultureInfo.InvariantCulture));
        })];
    }

    /// <summary>Stored values at points; null where GDAL prints nothing.</summary>
    public static double?[] ValuesAt(string path, IEnumerable<GeoPoint> points, int band, string coordinates = "-wgs84")
    {
        string input = string.Join('\n', points.Select(p =>
            string.Create(CultureInfo.InvariantCulture, $"{p.LongitudeDegrees:R} {p.LatitudeDegrees:R}"))) + "\n";
        string output = Run(
            "gdallocationinfo", input, "-valonly", coordinates, "-b", band.ToString(CultureInfo.InvariantCulture), path);
        return [.. output.TrimEnd('\n').Split('\n').Select(line => line.Length == 0
            ? (double?)null
            : double.Parse(line.Replace("nan", "NaN", StringComparison.Ordinal), CultureInfo.InvariantCulture))];
    }
}
