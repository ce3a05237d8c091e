using System.Text;

namespace DecayAtlas.Cli.Completion;

/// <summary>
/// Completion for bash 3.2 and newer, by itself: nothing of the package bash-completion is called; and for zsh, which reads such
/// scripts through its own bashcompinit. Where the script says nothing, both complete file names.
/// </summary>
internal static class BashScript
{
    public static string Of(CompletedCommand program)
    {
        StringBuilder values = new(), options = new(), words = new();
        foreach (CompletedCommand command in program.All)
        {
            foreach (CompletedOption option in command.Options.Where(option => option.Value is not null))
            {
                values.Append($"    {string.Join('|', option.Names.Select(name => $"'{command.Path} {name}'"))}) "
                    + $"{Answer(option.Value!)} ;;\n");
            }

            options.Append($"          '{command.Path}') "
                + $"choices='{string.Join(' ', command.Options.SelectMany(option => option.Names))}' ;;\n");
            if (command.Commands.Count > 0)
            {
                words.Append($"          '{command.Path}') choices='{string.Join(' ', command.Commands.Select(below => below.Name))}' "
                    + $";;\n");
            }
            else if (command.Arguments is [{ } argument, ..])
            {
                words.Append($"          '{command.Path}') {Answer(argument)} ;;\n");
            }
        }

        string steps = string.Join('|', program.QuotedSteps);
        return $$"""
            # Completion of decayatlas for bash and zsh. Made by: decayatlas completion bash
            if [ -n "${ZSH_VERSION-}" ]; then autoload -U +X bashcompinit && bashcompinit; fi
            _decayatlas() {
              local current=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} at= choices= option= word i
              # bash takes --option=value apart
              if [ "$current" = = ]; then current=; elif [ "$before" = = ]; then before=${COMP_WORDS[COMP_CWORD-2]}; fi
              # zsh leaves it whole
              case $current in --*=*) before=${current%%=*} option=$before= current=${current#*=} ;; esac
              for ((i = 1; i < COMP_CWORD; i++)); do
                word=${COMP_WORDS[i]}
                case "$at $word" in {{steps}}) at=${at:+$at }$word ;; esac
              done
              COMPREPLY=()
              case "$at $before" in
            {{values}}    *)
                  case $current in
                    -*)
                      case $at in
            {{options}}          esac ;;
                    *)
                      case $at in
            {{words}}          esac ;;
                  esac ;;
              esac
              COMPREPLY=($(compgen -P "$option" -W "$choices" -- "$current"))
            }
            complete -o bashdefault -o default -F _decayatlas decayatlas

            """;
    }

    private static string Answer(CompletedValue value) => value.Kind switch
    {
        ValueKind.File => "return",
        ValueKind.Folder => "compopt +o default +o bashdefault -o dirnames 2>/dev/null; return",
        ValueKind.OneOf => $"choices='{string.Join(' ', value.Choices)}'",
        _ => "compopt +o default +o bashdefault 2>/dev/null; return",
    };
}
