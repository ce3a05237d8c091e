using System.Text.Json;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>What a configuration assumes, as the question of sensitivity takes it.</summary>
public static class SensitivitySettings
{
    public static SensitivityBasis Of(PipelineConfiguration configuration)
    {
        double fastOverSlow = configuration.Flags.OfType<PlateauNotReached>().Single().FastOverSlow;
        return new(
            configuration.Assumptions,
            configuration.Flags.OfType<ExposureShort>().Single().ExposureMinDays,
            configuration.Flags.OfType<ExposureLong>().Single().ExposureMaxDays,
            fastOverSlow, configuration.Train?.Covariates ?? [])
        {
            Warmth = (configuration.Train?.Options.TemperatureCovariate ?? configuration.Pages?.Temperature) is { } temperature
                ? new WarmthRequest(
                    temperature, configuration.Train?.Options.MoistureCovariate, configuration.Answers.WarmthWith,
                    FastOverSlow: fastOverSlow)
                : null,
        };
    }

    /// <summary>Stands for all of it.</summary>
    internal static string DigestOf(SensitivityBasis basis) => JsonSerializer.Serialize(basis, JsonText.Options);
}
