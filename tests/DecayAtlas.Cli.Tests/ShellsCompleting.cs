using System.Diagnostics;

namespace DecayAtlas.Cli.Tests;

/// <summary>The scripts in the shells themselves: keys are typed at a prompt, a tab among them, and what the command got is looked
/// at.</summary>
public sealed class ShellsCompleting : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("decayatlas-shell-").FullName;

    public ShellsCompleting()
    {
        Directory.CreateDirectory(At("pipeline"));
        File.WriteAllText(At("pipeline/demo.yaml"), "");
        File.WriteAllText(At("clay.tif"), "");
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    /// <summary>What is typed, and the arguments that the command gets.</summary>
    public static TheoryData<string, string, string[]> Typed
    {
        get
        {
            TheoryData<string, string, string[]> typed = new();
            foreach (string shell in new[] { "bash", "zsh" })
            {
                typed.Add(shell, "decayatlas ru\tpip\td\t", ["run", "pipeline/demo.yaml"]);
                typed.Add(shell, "decayatlas grids in\tcl\t", ["grids", "inspect", "clay.tif"]);
                typed.Add(shell, "decayatlas compare x.yaml --by=tr\t", ["compare", "x.yaml", "--by=treatment"]);
                typed.Add(shell,
                    "decayatlas grids add g.yaml cl\t --rule b\t", ["grids", "add", "g.yaml", "clay.tif", "--rule", "bilinear"]);
                typed.Add(shell, "decayatlas completion z\t", ["completion", "zsh"]);
            }

            return typed;
        }
    }

    [Theory]
    [MemberData(nameof(Typed))]
    public void A_tab_at_the_prompt_completes(string shell, string keys, string[] arguments)
    {
        RequireShell(shell);
        Assert.SkipUnless(OperatingSystem.IsLinux() && Has("script"),
            "script of util-linux, which gives a shell a terminal, is not installed");
        string start = shell == "zsh" ? "autoload -U compinit; compinit -u -D\n" : "";
        File.WriteAllText(At("start"), $"{start}. ./completion.{shell}\ndecayatlas() {{ printf '%s\\n' \"$@\" > got; }}\n");
        Run("script", $". ./start\n{keys}\nexit\n", "-qec", shell == "zsh" ? "zsh -f -i" : "bash --norc --noprofile -i", "/dev/null");
        Assert.Equal(arguments, File.ReadAllLines(At("got")));
    }

    [Theory]
    [InlineData("ru", "run")]
    [InlineData("grids ", "add check inspect")]
    [InlineData("compare x.yaml --", "--by --help --json --of --variance --with")]
    [InlineData("compare x.yaml --by ", "ecosystem land_use management treatment")]
    public void Bash_offers(string typed, string offered)
    {
        RequireShell("bash");
        string[] words = [.. $"decayatlas {typed}".Split(' ')];
        string answer =
            Run("bash", "",
                "-c", $". ./completion.bash; COMP_WORDS=({string.Join(' ', words.Select(w => $"'{w}'"))}); "
                + $"COMP_CWORD={words.Length - 1}; _decayatlas; printf '%s\\n' \"${{COMPREPLY[@]}}\"");
        Assert.Equal(offered.Split(' '), answer.Split('\n', StringSplitOptions.RemoveEmptyEntries).Where(word => word != "-h")
            .Order(StringComparer.Ordinal));
    }

    private string At(string name) => Path.Combine(_folder, name);

    private void RequireShell(string shell)
    {
        Assert.SkipUnless(Has(shell), $"{shell} is not installed");
        File.WriteAllText(At($"completion.{shell}"), ShellScripts.All[shell](CommandModel.Of(CommandLine.Configure))
            .ReplaceLineEndings("\n"));
    }

    private static bool Has(string program) => (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .Any(folder => File.Exists(Path.Combine(folder, program)));

    private string Run(string program, string input, params string[] args)
    {
        using Process process = Process.Start(new ProcessStartInfo(program, args)
        {
            WorkingDirectory = _folder,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            Environment = { ["HOME"] = _folder, ["TERM"] = "xterm" },
        })!;
        process.StandardInput.Write(input);
        process.StandardInput.Close();
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        if (!process.WaitForExit(TimeSpan.FromMinutes(2)))
        {
            process.Kill(entireProcessTree: true);
            throw new TimeoutException($"{program} did not end.");
        }

        return output.Result;
    }
}
