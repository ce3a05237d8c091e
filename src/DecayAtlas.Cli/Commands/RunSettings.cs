using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands;

/// <summary>What a run takes besides its configuration.</summary>
internal sealed class RunSettings : CommandSettings
{
    [CommandArgument(0, "<FILE>")]
    [Description("Pipeline configuration (YAML).")]
    public required string File { get; init; }

    [CommandOption("--dry-run")]
    [Description("Only say what would be done, and why.")]
    public bool DryRun { get; init; }

    [CommandOption("--log-json")]
    [Description("Tell progress on standard error as JSON, one object a line, for a log collector.")]
    public bool LogJson { get; init; }

    [CommandOption("--json")]
    [Description("Print the result as JSON and nothing else.")]
    public bool Json { get; init; }
}
