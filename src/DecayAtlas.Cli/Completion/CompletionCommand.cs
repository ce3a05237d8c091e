using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Completion;

/// <summary>Prints the script that lets a shell complete commands, options and their values.</summary>
internal sealed class CompletionCommand(Screen screen) : Command<CompletionCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<SHELL>")]
        [Description("bash, powershell or zsh.")]
        public required string Shell { get; init; }
    }

    public override int Execute(CommandContext context, Settings settings, CancellationToken cancellationToken)
    {
        if (!ShellScripts.All.TryGetValue(settings.Shell, out Func<CompletedCommand, string>? scriptOf))
        {
            throw new ConfigurationException($"There is no completion for {settings.Shell}; expected one of "
                + $"{string.Join(", ", ShellScripts.All.Keys)}.");
        }
        // shells read line feeds only, and raw strings have those of the file they stand in
        screen.Output.Write(scriptOf(CommandModel.Of((Action<IConfigurator>)context.Data!)).ReplaceLineEndings("\n"));
        return RecordedRun.Done;
    }
}
