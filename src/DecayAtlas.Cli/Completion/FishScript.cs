using System.Text;

namespace DecayAtlas.Cli.Completion;

/// <summary>Completion for fish, with what each command and option does beside it.</summary>
internal static class FishScript
{
    public static string Of(CompletedCommand program)
    {
        StringBuilder rules = new();
        foreach (CompletedCommand command in program.All)
        {
            string rule = $"complete -c decayatlas -n '__decayatlas_at \"{command.Path}\"'";
            foreach (CompletedCommand below in command.Commands)
                rules.Append($"{rule} -a {below.Name} -d {Quoted(below.Description)}\n");
            if (command.Commands.Count == 0 && command.Arguments is [{ } argument, ..])
                rules.Append($"{rule}{Answer(argument)}\n");
            foreach (CompletedOption option in command.Options)
            {
                string names = string.Concat([.. option.Long.Select(name => $" -l {name}"), .. option.Short.Select(name => $" -s {name}")]);
                string value = option.Value is { } wanted ? (wanted.Kind == ValueKind.File ? " -r" : " -x") + Answer(wanted) : "";
                rules.Append($"{rule}{names}{value} -d {Quoted(option.Description)}\n");
            }
        }

        string steps = string.Join(' ', program.QuotedSteps);
        return $$"""
            # Completion of decayatlas for fish. Made by: decayatlas completion fish
            function __decayatlas_at
                set -l at ''
                for word in (commandline -opc)[2..-1]
                    switch "$at $word"
                        case {{steps}}
                            set at (string trim -- "$at $word")
                    end
                end
                test "$at" = "$argv[1]"
            end
            complete -c decayatlas -f
            {{rules}}
            """;
    }

    private static string Answer(CompletedValue value) => value.Kind switch
    {
        ValueKind.File => " -F",
        ValueKind.Folder => " -a '(__fish_complete_directories)'",
        ValueKind.OneOf => $" -a '{string.Join(' ', value.Choices)}'",
        _ => "",
    };

    private static string Quoted(string text) =>
        "'" + text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("'", "\\'", StringComparison.Ordinal) + "'";
}
