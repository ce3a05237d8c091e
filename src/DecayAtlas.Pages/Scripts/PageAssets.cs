namespace DecayAtlas.Pages.Scripts;

/// <summary>What the pages look like and do, and what they took from others with its licences.</summary>
internal static class PageAssets
{
    /// <summary>Paths from the folder of the pages, in ordinal order.</summary>
    public static IEnumerable<string> Names => typeof(PageAssets).Assembly.GetManifestResourceNames()
        .Where(name => name.StartsWith("assets/", StringComparison.Ordinal)).Order(StringComparer.Ordinal);

    public static string Text(string name)
    {
        if (name.EndsWith("/pages.css", StringComparison.Ordinal))
            return HouseStyle.Css;
        using StreamReader reader = new(typeof(PageAssets).Assembly.GetManifestResourceStream(name)!);
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }
}
