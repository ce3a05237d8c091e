using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Nights;

/// <summary>Runs the flow up to one stage; train and map start from what is current.</summary>
internal sealed class StageCommand(Screen screen) : Command<ConfigurationFileSettings>
{
    public override int Execute(CommandContext context, ConfigurationFileSettings settings, CancellationToken cancellationToken)
    {
        PipelineConfiguration configuration = ConfigurationReader.Read(settings.File);
        (FlowResult result, RunRecord record) = screen.WithProgress(settings.Json ? ProgressStyle.Silent : ProgressStyle.ForPeople,
            observer => Flow.Execute(configuration, observer, (string)context.Data!));
        if (settings.Json)
            screen.Json(new { run = record });
        else
            RunReport.Write(screen, result, record);
        return record.ExitCode;
    }
}
