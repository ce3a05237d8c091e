using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Exporting;

/// <summary>Says what changed between two releases, and why.</summary>
internal sealed class ChangesCommand(Screen screen) : PlainCommand<ChangesCommand.Settings>
{
    internal sealed class Settings : ConfigurationFileSettings
    {
        [CommandArgument(1, "[FROM]")]
        [Description("The release before, by its id; the one before TO where none is named.")]
        public string? From { get; init; }

        [CommandArgument(2, "[TO]")]
        [Description("The release after; the current one where none is named.")]
        public string? To { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        AtlasFolder atlas = new(ConfigurationReader.Read(settings.File).Atlas);
        ReleaseName to = NamedRelease.Of(atlas, settings.To);
        ReleaseName from = settings.From is { } named ? NamedRelease.Of(atlas, named)
            : atlas.ReleaseNames().LastOrDefault(r => r.Number < to.Number) ?? throw new ConfigurationException(
                $"{to.Id} is the first release of {atlas.Root}, and there is none before it to hold it against.");
        ReleaseChanges changes = ReleaseChanges.Of(new(atlas, from.Id), new(atlas, to.Id));
        if (settings.Json)
            screen.Json(changes);
        else
            ChangesReport.Write(screen, changes);
        return RecordedRun.Done;
    }
}
