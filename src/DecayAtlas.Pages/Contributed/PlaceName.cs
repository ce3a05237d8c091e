namespace DecayAtlas.Pages.Contributed;

/// <summary>What people called a place: as they wrote it or, where they sent an id alone, as far as that tells: it has hyphens where a
/// name has spaces.</summary>
internal static class PlaceName
{
    public static string Of(ReleasedSite site) => site.SiteName ?? OfId(site.SiteId);

    /// <summary>The name over the id, which shows when somebody points at it.</summary>
    public static Markup Over(ReleasedSite site) => GivenTitles.Over(Of(site), site.SiteId);

    /// <param name="sites">Those of the contribution; a place that is none of them is called by its id.</param>
    public static Markup Over(string siteKey, IEnumerable<SiteResult> sites) =>
        sites.FirstOrDefault(s => s.Site.SiteKey == siteKey)?.Site is { } site ? Over(site)
        : siteKey.Split('/', 2)[^1] is var id ? GivenTitles.Over(OfId(id), id) : Markup.None;

    // between words alone: 2024-1 and P-7 are no names
    private static string OfId(string id) => string.Concat(id.Select((letter, i) =>
        letter is '-' or '_' && IsWord(id, i - 2, i - 1) && IsWord(id, i + 1, i + 2) ? ' ' : letter));

    private static bool IsWord(string id, int first, int last) =>
        first >= 0 && last < id.Length && char.IsLetter(id[first]) && char.IsLetter(id[last]);
}
