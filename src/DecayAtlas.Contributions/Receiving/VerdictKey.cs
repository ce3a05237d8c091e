namespace DecayAtlas.Contributions.Receiving;

/// <summary>Names all that a verdict on received content depends on besides the content.</summary>
internal static class VerdictKey
{
    /// <summary>The limits, and the builds that read and check; the schema and that of the mapping lie inside them.</summary>
    public static string Of(IntakeLimits limits) =>
        string.Join(' ', new[] { typeof(VerdictKey), typeof(YamlDocument), typeof(TwoLitterIndex) }
        .Select(type => type.Module.ModuleVersionId.ToString("N"))
        .Append(Invariant($"{limits.MaxFileBytes}/{limits.MaxPackageBytes}/{limits.MaxFiles}/{limits.MaxRows}")
            + Invariant($"/{limits.MaxCompressionRatio}")
            + Invariant($"/{limits.MaxSpreadsheetBytes}/{limits.MaxColumns}/{limits.MaxSeconds}")));
}
