namespace DecayAtlas.Cli.Commands;

/// <summary>Names that an option joins by commas.</summary>
internal static class CovariateList
{
    public static string[] Of(string? joined) =>
        [.. (joined ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)
            .Distinct(StringComparer.Ordinal)];
}
