namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>The options by which a command is told what warmth and moisture are.</summary>
internal static class WarmthOptions
{
    public const string Temperature = "--temperature <COVARIATE>", TemperatureMeaning = "Covariate that is the temperature in degC.",
        UsualTemperature = "air_temperature_mean";

    public const string Moisture = "--moisture <COVARIATE>", MoistureMeaning = "Covariate that is the moisture, as second factor.";
}
