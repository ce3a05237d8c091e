using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands;

/// <summary>What every command that works on an atlas takes.</summary>
internal class ConfigurationFileSettings : CommandSettings
{
    [CommandArgument(0, "<FILE>")]
    [Description("Pipeline configuration (YAML).")]
    public required string File { get; init; }

    [CommandOption("--json")]
    [Description("Print the result as JSON and nothing else.")]
    public bool Json { get; init; }
}
