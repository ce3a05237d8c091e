using System.Text.RegularExpressions;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Completion;

/// <summary>The command or option that was meant where there is none of a name.</summary>
internal static partial class MeantOption
{
    /// <summary>A question to add to what the command library says; empty where nothing is close.</summary>
    public static string Of(string message, string[] args, Action<IConfigurator> commands)
    {
        if (Unknown().Match(message) is not { Success: true } match)
            return "";
        (bool isCommand, string name) = (match.Groups["kind"].Value == "command", match.Groups["name"].Value);
        CompletedCommand root = CommandModel.Of(commands);
        string typed = string.Join(' ', args) + " ";
        CompletedCommand? command = root.All
            .Where(c => typed.StartsWith(c.Path + " ", StringComparison.Ordinal)).MaxBy(c => c.Path.Length);
        return isCommand ? Nearest.Question(name, (command ?? root).Commands.Select(c => c.Name))
            : Nearest.Of(name, command?.Options.SelectMany(o => o.Long) ?? []) is { } near ? $" Did you mean --{near}?" : "";
    }

    [GeneratedRegex("^Unknown (?<kind>option|command) '(?<name>.*)'", RegexOptions.Singleline | RegexOptions.NonBacktracking)]
    private static partial Regex Unknown();
}
