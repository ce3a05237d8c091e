using System.Text;

namespace DecayAtlas.Cli.Completion;

/// <summary>Completion for PowerShell 5.1 and newer, on every system. Where the script says nothing, PowerShell completes file
/// names.</summary>
internal static class PowerShellScript
{
    public static string Of(CompletedCommand program)
    {
        StringBuilder words = new(), values = new();
        foreach (CompletedCommand command in program.All)
        {
            IEnumerable<(string Name, string Description)> offered =
            [
                .. command.Commands.Select(below => (below.Name, below.Description)),
                .. command.Commands.Count == 0 && command.Arguments is [{ Kind: ValueKind.OneOf } argument, ..]
                    ? argument.Choices.Select(choice => (choice, choice)) : [],
                .. command.Options.SelectMany(option => option.Names.Select(name => (name, option.Description))),
            ];
            words.Append($"        {Quoted(command.Path)} = "
                + $"@({string.Join(", ", offered.Select(word => $"@({Quoted(word.Name)}, {Quoted(word.Description)})"))})\n");
            foreach (CompletedOption option in command.Options.Where(option => option.Value is not null))
            {
                string choices = string.Join(", ", option.Value!.Choices.Select(Quoted));
                values.AppendJoin("", option.Names.Select(name => $"        {Quoted($"{command.Path} {name}")} = @({choices})\n"));
            }
        }

        return $$"""
            # Completion of decayatlas for PowerShell. Made by: decayatlas completion powershell
            Register-ArgumentCompleter -Native -CommandName decayatlas -ScriptBlock {
                param($current, $line, $position)
                $words = @{
            {{words}}    }
                $values = @{
            {{values}}    }
                $typed = @($line.CommandElements | Select-Object -Skip 1 | Where-Object { $_.Extent.EndOffset -lt $position } | ForEach-Object { $_.ToString() })
                $at = ''
                foreach ($word in $typed) {
                    if ($words.ContainsKey("$at $word".Trim())) { $at = "$at $word".Trim() }
                }
                $option = if ($typed.Count) { "$at $($typed[-1])" } else { '' }
                $offered = if ($values.ContainsKey($option)) { $values[$option] | ForEach-Object { , @($_, $_) } }
                    else { $words[$at] | Where-Object { $_[0].StartsWith('-') -eq $current.StartsWith('-') } }
                $offered | Where-Object { $_ -and $_[0] -like "$current*" } | ForEach-Object {
                    $about = if ($_[1]) { $_[1] } else { $_[0] }
                    [System.Management.Automation.CompletionResult]::new($_[0], $_[0], 'ParameterValue', $about)
                }
            }

            """;
    }

    private static string Quoted(string text) => "'" + text.Replace("'", "''", StringComparison.Ordinal) + "'";
}
