namespace DecayAtlas.Pipeline.Steps;

/// <summary>One site in one campaign under one treatment: what is averaged and fitted together.</summary>
internal readonly record struct SeriesKey(string SiteKey, string Campaign, string? Treatment)
{
    public static SeriesKey Of(SentResult result) => new(result.SiteKey, result.Header.Campaign, result.Row.Treatment);

    public static SeriesKey Of(Burial burial) => new(burial.SiteKey, burial.Header.Campaign, burial.Lead.Row.Treatment);
}

/// <summary>The order of released tables.</summary>
internal static class SeriesOrder
{
    public static IEnumerable<IGrouping<SeriesKey, T>> InOrder<T>(this IEnumerable<IGrouping<SeriesKey, T>> groups) => groups
        .OrderBy(g => g.Key.SiteKey, StringComparer.Ordinal).ThenBy(g => g.Key.Campaign, StringComparer.Ordinal)
        .ThenBy(g => g.Key.Treatment, StringComparer.Ordinal);
}
