using System.ComponentModel;
using Spectre.Console;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Nights;

/// <summary>Makes the invented scenario in a folder.</summary>
internal sealed class DemoCommand(Screen screen) : PlainCommand<DemoCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FOLDER>")]
        [Description("Where the scenario goes; made when it is not there.")]
        public required string Folder { get; init; }

        [CommandOption("--seed <SEED>")]
        [Description("The same seed makes the same bytes.")]
        [DefaultValue(1)]
        public int Seed { get; init; }

        [CommandOption("--graded")]
        [Description("Plant only faults that show among others, in steps of size, instead of a few of every kind.")]
        public bool Graded { get; init; }

        [CommandOption("--json")]
        [Description("Print the result as JSON and nothing else.")]
        public bool Json { get; init; }
    }

    public override ValidationResult Validate(CommandContext context, Settings settings) =>
        settings.Seed < 0 ? ValidationResult.Error("--seed must be 0 or more") : ValidationResult.Success();

    protected override int Execute(Settings settings)
    {
        ScenarioSummary summary = screen.WithProgress(settings.Json ? ProgressStyle.Silent : ProgressStyle.ForPeople,
            observer => DemoScenario.Make(settings.Folder, settings.Seed, settings.Graded, observer));
        if (settings.Json)
        {
            screen.Json(summary);
        }
        else
        {
            screen.Line($"{settings.Folder}: {summary.SoundContributions} sound and {summary.BrokenContributions} broken "
                + $"contributions, {summary.Sites} sites, {summary.Bags} bags, {summary.Grids} grids, {summary.PlantedFaults} planted "
                + $"faults{(summary.AlreadyThere ? " (was there already)" : "")}.");
        }

        return RecordedRun.Done;
    }
}

/// <summary>Makes the scenario as if it were a stage.</summary>
internal static class DemoScenario
{
    private const string Stage = "demo";

    public static ScenarioSummary Make(string folder, int seed, bool isGraded, IRunObserver observer)
    {
        observer.StageStarted(Stage);
        ScenarioSummary summary = Scenario.Make(new DemoOptions(folder, seed, isGraded ? FaultSet.Graded : FaultSet.Every),
            (what, done, of) => observer.StageProgressed(Stage, what, done, of));
        observer.StageFinished(Stage, summary.AlreadyThere
            ? "the scenario is there already"
            : $"{summary.Sites} sites, {summary.Bags} bags, {summary.SoundContributions + summary.BrokenContributions} contributions "
            + "invented");
        return summary;
    }
}
