using DecayAtlas.Cli.Reporting;
using DecayAtlas.Pipeline;
using DecayAtlas.Pipeline.Configuration;
using DecayAtlas.Pipeline.Runs;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands;

/// <summary>Runs every stage of a configuration; where it has a demo, the scenario is made first and the result held against its truth.</summary>
internal sealed class RunCommand(Screen screen) : Command<ConfigurationSettings>
{
    public override int Execute(CommandContext context, ConfigurationSettings settings, CancellationToken cancellationToken)
    {
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        (FlowResult result, RunRecord record) = screen.WithProgress(settings.Json, observer =>
        {
            if (configuration.Demo is { } demo)
                DemoScenario.Make(demo.Folder, demo.Seed, observer);
            return RecordedRun.Execute(configuration, observer, "all");
        });
        DemoVerdict? verdict = configuration.Demo is { } scenario ? DemoVerdict.Of(scenario.Folder, configuration, result) : null;

        if (settings.Json)
        {
            screen.Json(verdict is null ? new { run = record } : (object)new { run = record, demo = verdict });
        }
        else
        {
            RunReport.Write(screen, result, record);
            verdict?.Write(screen);
        }

        // In the demo some contributions are broken on purpose: finding just those needs nobody.
        return verdict is { FoundWhatWasPlanted: true } ? RecordedRun.Done : record.ExitCode;
    }
}
