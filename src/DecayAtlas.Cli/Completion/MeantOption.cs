using System.Text.RegularExpressions;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Completion;

/// <summary>The option that was meant where a command has none of a name.</summary>
internal static partial class MeantOption
{
    /// <summary>A question to add to what the command library says; empty where no option of the command is close.</summary>
    public static string Of(string message, string[] args, Action<IConfigurator> commands)
    {
        if (Unknown().Match(message) is not { Success: true } match)
            return "";
        string typed = string.Join(' ', args) + " ";
        CompletedCommand? command = CommandModel.Of(commands).All
            .Where(c => typed.StartsWith(c.Path + " ", StringComparison.Ordinal)).MaxBy(c => c.Path.Length);
        return Nearest.Of(match.Groups[1].Value, command?.Options.SelectMany(o => o.Long) ?? []) is { } near
            ? $" Did you mean --{near}?" : "";
    }

    [GeneratedRegex("^Unknown option '(.*)'", RegexOptions.Singleline | RegexOptions.NonBacktracking)]
    private static partial Regex Unknown();
}
