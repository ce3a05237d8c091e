using System.Diagnostics;

namespace DecayAtlas.Grids.Tests;

/// <summary>Readers that are not ours: tests that need one skip, with the reason, where it is not installed.</summary>
internal static class External
{
    public static void SkipUnlessThere(string program, string package) =>
        Assert.SkipUnless(Has(program), $"{program} (Debian package {package}) is not installed.");

    public static void SkipUnlessPython(string imports) =>
        Assert.SkipUnless(Runs("/usr/bin/python3", "-c", imports), $"/usr/bin/python3 with \"{imports}\" is not installed.");

    public static void SkipUnlessR(string package) =>
        Assert.SkipUnless(Has("Rscript") && Runs("Rscript", "-e", $"quit(status = !nzchar(system.file(package = '{package}')))"),
            $"R with package {package} is not installed.");

    private static bool Has(string program) => (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .Any(folder => File.Exists(Path.Combine(folder, program)));

    private static bool Runs(string program, params string[] arguments)
    {
        if (!File.Exists(program) && !Has(program))
            return false;

        ProcessStartInfo start = new(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true };
        using Process process = Process.Start(start)!;
        process.WaitForExit();
        return process.ExitCode == 0;
    }
}
