using System.Text;

namespace DecayAtlas.Cli.Completion;

/// <summary>Completion for zsh, with what each command and option does beside it: as a file <c>_decayatlas</c> in fpath, or sourced after
/// compinit.</summary>
internal static class ZshScript
{
    public static string Of(CompletedCommand program)
    {
        StringBuilder functions = new();
        foreach (CompletedCommand branch in program.All.Where(command => command.Commands.Count > 0))
        {
            string names = string.Concat(branch.Commands.Select(below => $"        {Quoted($"{below.Name}:{below.Description}")}\n"));
            string cases = string.Concat(branch.Commands.Select(below => $"        {below.Name}) {Call(below)} ;;\n"));
            functions.Append($$"""
                {{Function(branch)}}() {
                  local curcontext=$curcontext state state_descr line
                  typeset -A opt_args
                  _arguments -C {{Options(branch)}} '1: :->command' '*:: :->rest'
                  case $state in
                    command)
                      local -a commands=(
                {{names}}      )
                      _describe command commands ;;
                    rest)
                      case $line[1] in
                {{cases}}      esac ;;
                  esac
                }

                """);
        }

        return $$"""
            #compdef decayatlas
            # Completion of decayatlas for zsh. Made by: decayatlas completion zsh
            {{functions}}if [ "$funcstack[1]" = _decayatlas ]; then _decayatlas "$@"; else compdef _decayatlas decayatlas; fi

            """;
    }

    private static string Function(CompletedCommand branch) =>
        "_decayatlas" + (branch.Path.Length > 0 ? "_" + branch.Path.Replace(' ', '_') : "");

    private static string Call(CompletedCommand command) => command.Commands.Count > 0
        ? Function(command)
        : $"_arguments {Options(command)} "
        + $"{string.Join(' ',
            command.Arguments
                .Select((value, i) => Quoted($"{i + 1}:{(value.IsRequired ? "" : ":")}{value.Name}:{Answer(value)}")))}".TrimEnd();

    private static string Options(CompletedCommand command) => string.Join(' ', command.Options.SelectMany(option =>
        option.Names
            .Select(name =>
                Quoted($"{name}{(option.Value is null ? "" : name.StartsWith("--", StringComparison.Ordinal) ? "=" : "+")}[{InBrackets(
                    option.Description)}]{(option.Value is { } value ? $":{value.Name}:{Answer(value)}" : "")}"))));

    private static string Answer(CompletedValue value) => value.Kind switch
    {
        ValueKind.File => "_files",
        ValueKind.Folder => "_files -/",
        ValueKind.OneOf => $"({string.Join(' ', value.Choices)})",
        _ => " ",
    };

    private static string InBrackets(string text) =>
        text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("[", "\\[", StringComparison.Ordinal)
            .Replace("]", "\\]", StringComparison.Ordinal).Replace(":", "\\:", StringComparison.Ordinal);

    private static string Quoted(string text) => "'" + text.Replace("'", "'\\''", StringComparison.Ordinal) + "'";
}
