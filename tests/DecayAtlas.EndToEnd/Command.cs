using System.Diagnostics;
using System.Globalization;

namespace DecayAtlas.EndToEnd;

/// <summary>What a command printed, and its exit code.</summary>
internal sealed record CommandResult(int ExitCode, string Output, string Error)
{
    public string Everything => Output + Error;
}

/// <summary>Runs programs as a user would: as processes of their own.</summary>
internal static class Command
{
    /// <summary>Runs decayatlas in a folder.</summary>
    public static CommandResult DecayAtlas(string folder, params string[] args) => Run(folder, "dotnet", [Program, .. args]);

    /// <summary>Starts decayatlas and gives the process, for tests that kill it. Its loops are compiled quickly first: with little to
    /// compute that takes a third less of the processor, and is the same code otherwise.</summary>
    public static Process StartDecayAtlas(string folder, params string[] args)
    {
        ProcessStartInfo info = StartInfo(folder, "dotnet", [Program, .. args]);
        info.Environment["DOTNET_TC_QuickJitForLoops"] = "1";
        return Process.Start(info)!;
    }

    public static CommandResult Run(string folder, string program, params string[] args)
    {
        using Process process = Process.Start(StartInfo(folder, program, args))!;
        Task<string> output = process.StandardOutput.ReadToEndAsync(), error = process.StandardError.ReadToEndAsync();
        if (!process.WaitForExit(TimeSpan.FromMinutes(20)))
        {
            process.Kill(entireProcessTree: true);
            throw new TimeoutException($"{program} {string.Join(' ', args)} did not end within twenty minutes.");
        }

        return new CommandResult(process.ExitCode, output.Result, error.Result);
    }

    /// <summary>Whether a Debian tool is there; where it is not, the test that needs it skips.</summary>
    public static bool Has(string program) => (Environment.GetEnvironmentVariable("PATH") ?? "")
        .Split(Path.PathSeparator).Any(folder => File.Exists(Path.Combine(folder, program)));

    /// <summary>Whether this process ignores the signal of the terminal's Ctrl-C, which a child takes over: what a shell starts in the
    /// background does. Read where Linux says it (proc(5): SigIgn, a bit per signal from 1; SIGINT is 2).</summary>
    public static bool IgnoresInterrupts => OperatingSystem.IsLinux() && File.ReadLines("/proc/self/status")
        .Where(line => line.StartsWith("SigIgn:", StringComparison.Ordinal))
        .Any(line => (ulong.Parse(line["SigIgn:".Length..].Trim(), NumberStyles.HexNumber, CultureInfo.InvariantCulture) & 2) != 0);

    private static string Program => Path.Combine(AppContext.BaseDirectory, "decayatlas.dll");

    private static ProcessStartInfo StartInfo(string folder, string program, string[] args)
    {
        ProcessStartInfo info = new(program) { WorkingDirectory = folder, RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string arg in args)
            info.ArgumentList.Add(arg);
        return info;
    }
}
