namespace DecayAtlas.Cli.Completion;

/// <summary>The shells that can be told what may be typed.</summary>
internal static class ShellScripts
{
    public static IReadOnlyDictionary<string, Func<CompletedCommand, string>> All { get; } =
        new SortedDictionary<string, Func<CompletedCommand, string>>(StringComparer.Ordinal)
        {
            ["bash"] = BashScript.Of,
            ["powershell"] = PowerShellScript.Of,
            ["zsh"] = BashScript.Of,
        };
}
