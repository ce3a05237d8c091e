namespace DecayAtlas.Cli.Completion;

/// <summary>The options and arguments whose values are known: the lists that the commands themselves hold what was typed against.</summary>
internal static class KnownValues
{
    /// <summary>The values of a parameter; none where they are not known beforehand.</summary>
    /// <param name="path">The command, for example "grids add".</param>
    /// <param name="parameter">An option as --name, or an argument as help names it.</param>
    public static IReadOnlyList<string> Of(string path, string parameter) => All.GetValueOrDefault((path, parameter), []);

    public static IReadOnlyDictionary<(string Path, string Parameter), IReadOnlyList<string>> All { get; } =
        new Dictionary<(string, string), IReadOnlyList<string>>
        {
            [("compare", "--by")] = [.. GroupQuestion.Groupings],
            [("compare", "--of")] = [.. AskedOfNames.Codes],
            [("warmth", "--of")] = [.. AskedOfNames.Codes],
            [("relate", "--of")] = [.. AskedOfNames.Codes],
            [("trend", "--of")] = [.. AskedOfNames.Codes],
            [("predict", "--of")] = [.. AskedOfNames.Codes],
            [("regions", "--of")] = [.. AskedOfNames.Codes],
            [("difference", "--of")] = [.. AskedOfNames.Codes],
            [("plan", "--of")] = [.. AskedOfNames.Codes],
            [("plan", "--design")] = [.. PlanQuestion.Designs.Keys],
            [("grids add", "--kind")] = GridsAddCommand.Kinds,
            [("grids add", "--rule")] = GridsAddCommand.Rules,
            [("export", "--as")] = ExportCommand.Formats,
            [("completion", "SHELL")] = [.. ShellScripts.All.Keys],
        };
}
