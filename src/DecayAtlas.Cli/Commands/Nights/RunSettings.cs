using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Nights;

/// <summary>What a run takes besides its configuration.</summary>
internal sealed class RunSettings : ConfigurationFileSettings
{
    [CommandOption("--dry-run")]
    [Description("Only say what would be done, and why.")]
    public bool DryRun { get; init; }

    [CommandOption("--log-json")]
    [Description("Tell progress on standard error as JSON, one object a line, for a log collector.")]
    public bool LogJson { get; init; }
}
