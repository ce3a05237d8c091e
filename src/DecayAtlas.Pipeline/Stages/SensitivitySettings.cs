using System.Text.Json;

namespace DecayAtlas.Pipeline.Stages;

/// <summary>What a configuration assumes, as the question of sensitivity takes it.</summary>
public static class SensitivitySettings
{
    public static SensitivityBasis Of(PipelineConfiguration configuration) => new(
        configuration.Assumptions,
        configuration.Flags.OfType<ExposureShort>().Single().ExposureMinDays,
        configuration.Flags.OfType<ExposureLong>().Single().ExposureMaxDays,
        configuration.Flags.OfType<PlateauNotReached>().Single().FastOverSlow,
        configuration.Train?.Covariates ?? []);

    /// <summary>Stands for all of it.</summary>
    internal static string DigestOf(SensitivityBasis basis) => JsonSerializer.Serialize(basis, JsonText.Options);
}
