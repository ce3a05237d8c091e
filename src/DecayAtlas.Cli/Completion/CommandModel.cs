using Spectre.Console.Cli;
using Spectre.Console.Cli.Help;
using Spectre.Console.Rendering;

namespace DecayAtlas.Cli.Completion;

/// <summary>
/// The commands as the command library has them, so that completion and help cannot say different things. The library hands its
/// model to whoever writes the help; this one takes it down and writes nothing.
/// </summary>
internal sealed class CommandModel : IHelpProvider
{
    private static readonly CompletedOption Help = new(["help"], ["h"], "Prints help information", null);
    private static readonly CompletedOption Version = new(["version"], ["v"], "Prints version information", null);

    private ICommandModel? _model;

    /// <summary>Asks an application for its commands.</summary>
    /// <param name="configure">As the application is configured.</param>
    public static CompletedCommand Of(Action<IConfigurator> configure)
    {
        CommandModel taker = new();
        CommandApp app = new();
        app.Configure(config =>
        {
            configure(config);
            config.SetHelpProvider(taker);
        });
        app.Run(["--help"]);
        return new("", "", Below("", taker._model!), [Help, Version], []);
    }

    public IEnumerable<IRenderable> Write(ICommandModel model, ICommandInfo? command)
    {
        _model = model;
        return [];
    }

    private static List<CompletedCommand> Below(string path, ICommandContainer container) =>
        [.. container.Commands.Where(command => !command.IsHidden)
            .Select(command => Command($"{path} {command.Name}".TrimStart(), command))];

    private static CompletedCommand Command(string path, ICommandInfo command)
    {
        List<ICommandParameter> parameters = [.. command.Parameters.Where(parameter => !parameter.IsHidden)];
        return new(
            path, FirstSentence(command.Description), Below(path, command),
            [Help, .. parameters.OfType<ICommandOption>().Select(option => Option(path, option))],
            [.. parameters.OfType<ICommandArgument>().OrderBy(a => a.Position).Select(a => Value(path, a.Value, a.Value))]);
    }

    private static CompletedOption Option(string path, ICommandOption option) => new(
        option.LongNames, option.ShortNames, FirstSentence(option.Description),
        option.IsFlag ? null : Value(path, "--" + option.LongNames[0], option.ValueName ?? "VALUE"));

    private static CompletedValue Value(string path, string parameter, string name)
    {
        IReadOnlyList<string> choices = KnownValues.Of(path, parameter);
        ValueKind kind = choices.Count > 0 ? ValueKind.OneOf : name switch
        {
            "FOLDER" => ValueKind.Folder,
            "FILE" or "PATH" or "CSV" or "CATALOGUE" or "CONFIG" => ValueKind.File,
            _ => ValueKind.Free,
        };
        return new(name, kind, choices);
    }

    private static string FirstSentence(string? text)
    {
        string line = (text ?? "").ReplaceLineEndings(" ");
        int end = line.IndexOf(". ", StringComparison.Ordinal);
        return (end < 0 ? line : line[..end]).TrimEnd('.');
    }
}
