using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>What a question is asked of, and what is adjusted for.</summary>
internal abstract class AskedSettings : ConfigurationFileSettings
{
    [CommandOption("--of <QUANTITY>")]
    [Description("k, the decay rate, or s, the stabilisation factor.")]
    [DefaultValue("k")]
    public string Of { get; init; } = "k";

    [CommandOption("--with <COVARIATES>")]
    [Description("Covariates to adjust for, joined by commas, for example soil_ph,clay.")]
    public string? With { get; init; }

    /// <exception cref="ConfigurationException">It is neither k nor s.</exception>
    public AskedOf Asked => AskedOfNames.Parse(Of);

    public string[] Covariates => CovariateList.Of(With);
}
