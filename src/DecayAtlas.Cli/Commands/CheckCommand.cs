using System.ComponentModel;
using DecayAtlas.Cli.Reporting;
using DecayAtlas.Contributions;
using DecayAtlas.Pipeline.Runs;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands;

/// <summary>Reads one contribution as the intake would, and says what is wrong with it.</summary>
internal sealed class CheckCommand(Screen screen) : Command<CheckCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<PATH>")]
        [Description("A folder with datapackage.json, or a .zip of one.")]
        public required string Path { get; init; }

        [CommandOption("--json")]
        [Description("Print the result as JSON and nothing else.")]
        public bool Json { get; init; }
    }

    public override int Execute(CommandContext context, Settings settings, CancellationToken cancellationToken)
    {
        ReadResult read = ContributionReader.Read(settings.Path, IntakeLimits.Default);

        if (settings.Json)
        {
            screen.Json(new { path = settings.Path, valid = read.Contribution is not null, findings = read.Findings });
        }
        else
        {
            foreach (Finding finding in read.Findings)
                screen.Line(finding.ToString());
            screen.Line(read.Contribution is { } contribution
                ? $"{settings.Path} is a valid contribution: {contribution.Sites.Count} sites, {contribution.Lots.Count} lots, {contribution.Bags.Count} bags, {contribution.Samples.Count} samples."
                : $"{settings.Path} can't be accepted yet: {read.Findings.Count} finding{(read.Findings.Count == 1 ? "" : "s")}.");
        }

        return read.Contribution is null ? RecordedRun.NeedsPerson : RecordedRun.Done;
    }
}
