using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands;

/// <summary>A command that needs to know nothing but what was typed.</summary>
internal abstract class PlainCommand<T> : Command<T>
    where T : CommandSettings
{
    public override int Execute(CommandContext context, T settings, CancellationToken cancellationToken) => Execute(settings);

    protected abstract int Execute(T settings);
}
