using System.ComponentModel;
using Spectre.Console;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Nights;

/// <summary>Takes away old releases and what only they held.</summary>
internal sealed class PruneCommand(Screen screen) : PlainCommand<PruneCommand.Settings>
{
    internal sealed class Settings : ConfigurationFileSettings
    {
        [CommandOption("--keep <COUNT>")]
        [Description("How many of the newest releases stay; the current one stays besides.")]
        public int? Keep { get; init; }

        [CommandOption("--keep-runs <COUNT>")]
        [Description("How many of the newest run records stay.")]
        [DefaultValue(400)]
        public int KeepRuns { get; init; }

        [CommandOption("--dry-run")]
        [Description("Only say what would go.")]
        public bool DryRun { get; init; }
    }

    public override ValidationResult Validate(CommandContext context, Settings settings) =>
        settings.Keep is not >= 1 ? ValidationResult.Error("--keep is needed, and is at least 1")
        : settings.KeepRuns < 0 ? ValidationResult.Error("--keep-runs must be 0 or more")
        : ValidationResult.Success();

    protected override int Execute(Settings settings)
    {
        AtlasFolder atlas = new(ConfigurationReader.Read(settings.File).Atlas);
        if (!Directory.Exists(atlas.Root))
            throw new AtlasException($"There is no atlas at {atlas.Root}; run once first.");
        using AtlasLock held = AtlasLock.Take(atlas);
        Pruning pruning = new(atlas);
        Pruned plan = pruning.Plan(settings.Keep!.Value, settings.KeepRuns);
        if (!settings.DryRun)
            pruning.Carry(plan);
        if (settings.Json)
        {
            screen.Json(plan);
        }
        else
        {
            screen.Line($"{(settings.DryRun ? "Would take away" : "Taken away")}: {plan.Releases.Count} releases, {plan.Parts.Count} "
                + $"parts, {plan.Models.Count} models, {plan.Maps.Count} maps, {plan.Runs.Count} run records.");
            screen.Lines(plan.Releases.Select(release => $"  {release}"));
        }

        return RecordedRun.Done;
    }
}
