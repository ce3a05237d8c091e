using System.Text.Json;
using System.Text.Json.Nodes;

namespace DecayAtlas.Pipeline.Configuration;

/// <summary>Every flag the pipeline can raise; docs/flags.md, docs/settings.md and the schema of the configuration are made from
/// it.</summary>
public static class FlagCatalogue
{
    /// <summary>The flags with the limits they have where a configuration sets none.</summary>
    public static IReadOnlyList<FlagDefinition> All { get; } = Fresh();

    /// <summary>The same, to be given other limits by nobody but the caller. Releases list the limits in this order, so that it
    /// stays.</summary>
    internal static IReadOnlyList<FlagDefinition> Fresh() =>
    [
        .. ExposureFlags.All, .. ProtocolFlags.All, .. BasisFlags.All, .. PlaceFlags.All, .. CopyFlags.All, .. OutlierFlags.All,
        new MultivariateCheck(), new BiasCheck(), new SurpriseCheck(), new PastedCheck(), .. PhysicalFlags.All,
        .. ResultFlags.All,
    ];

    /// <summary>The limits by the names under which a release states them.</summary>
    internal static JsonObject LimitsOf(IEnumerable<FlagDefinition> flags) => new(
        from flag in flags
        from setting in DeclaredSetting.Of(flag)
        where setting.ValueIn(flag) is not null
        select KeyValuePair.Create(
            JsonNamingPolicy.SnakeCaseLower.ConvertName(setting.PropertyName),
            JsonSerializer.SerializeToNode(setting.ValueIn(flag), JsonText.Options)));
}
