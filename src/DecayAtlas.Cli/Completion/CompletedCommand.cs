namespace DecayAtlas.Cli.Completion;

/// <summary>What may stand in the place of a value.</summary>
internal enum ValueKind
{
    File,
    Folder,
    OneOf,

    /// <summary>A number or a text that no shell can know.</summary>
    Free,
}

/// <summary>A value that is asked for.</summary>
/// <param name="Name">As help calls it, for example FILE.</param>
/// <param name="Choices">The known values, where it is one of them; else none.</param>
internal sealed record CompletedValue(string Name, ValueKind Kind, IReadOnlyList<string> Choices);

/// <summary>An option.</summary>
/// <param name="Long">Names with two dashes, without them.</param>
/// <param name="Short">Names of one letter, without the dash.</param>
/// <param name="Value">Missing where it is a switch.</param>
internal sealed record CompletedOption(IReadOnlyList<string> Long, IReadOnlyList<string> Short, string Description, CompletedValue? Value)
{
    /// <summary>All names as they are typed.</summary>
    public IEnumerable<string> Names => [.. Long.Select(name => "--" + name), .. Short.Select(name => "-" + name)];
}

/// <summary>A command, a branch of commands, or the program itself.</summary>
/// <param name="Path">What is typed after the program's name to come here, for example "grids add"; empty for the program.</param>
internal sealed record CompletedCommand(
    string Path, string Description, IReadOnlyList<CompletedCommand> Commands, IReadOnlyList<CompletedOption> Options,
    IReadOnlyList<CompletedValue> Arguments)
{
    /// <summary>The last word of the path.</summary>
    public string Name => Path[(Path.LastIndexOf(' ') + 1)..];

    /// <summary>Itself and everything below.</summary>
    public IEnumerable<CompletedCommand> All => [this, .. Commands.SelectMany(command => command.All)];

    /// <summary>Every word that leads on, behind the path so far and a space, in single quotes: how bash tells where it is.</summary>
    public IEnumerable<string> QuotedSteps => All.Where(command => command.Path.Length > 0)
        .Select(command => command.Path.Contains(' ', StringComparison.Ordinal) ? $"'{command.Path}'" : $"' {command.Path}'");
}
