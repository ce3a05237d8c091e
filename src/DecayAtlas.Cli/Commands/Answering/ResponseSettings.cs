using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>Which covariates a response of k is looked for in.</summary>
internal abstract class ResponseSettings : ConfigurationFileSettings
{
    [CommandOption("--temperature <COVARIATE>")]
    [Description("Covariate that is the temperature in degC.")]
    [DefaultValue("air_temperature_mean")]
    public string Temperature { get; init; } = "air_temperature_mean";

    [CommandOption("--moisture <COVARIATE>")]
    [Description("Covariate that is the moisture, as second factor.")]
    public string? Moisture { get; init; }
}
