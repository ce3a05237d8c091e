using System.Globalization;

namespace DecayAtlas.Pages.Texts;

/// <summary>What people called a place: as they wrote it or, where they sent an id alone, as far as that tells: it has hyphens where a
/// name has spaces. One that is hidden has no name here, and where it is of a kit the number that stands in its id.</summary>
internal static class PlaceName
{
    private const string HiddenOfKit = "place-";

    public static string Of(ReleasedSite site, Language words) => site.SiteName
        ?? (HiddenNumber(site) is { } number ? words.Say("place.hidden", number.ToString(CultureInfo.InvariantCulture))
            : OfId(site.SiteId));

    /// <summary>The name over the id, which shows when somebody points at it.</summary>
    public static Markup Over(ReleasedSite site, Language words) => GivenTitles.Over(Of(site, words), site.SiteId);

    /// <param name="sites">Those of the contribution; a place that is none of them is called by its id.</param>
    public static Markup Over(string siteKey, IEnumerable<SiteResult> sites, Language words) =>
        sites.FirstOrDefault(s => s.Site.SiteKey == siteKey)?.Site is { } site ? Over(site, words)
        : siteKey.Split('/', 2)[^1] is var id ? GivenTitles.Over(OfId(id), id) : Markup.None;

    /// <summary>Which of the places of its kit a hidden one is; null where it is not hidden, or of no kit.</summary>
    public static int? HiddenNumber(ReleasedSite site) => site is { IsGeneralised: true, SiteName: null }
        && site.SiteId.StartsWith(HiddenOfKit, StringComparison.Ordinal)
        && int.TryParse(site.SiteId.AsSpan(HiddenOfKit.Length), NumberStyles.None, CultureInfo.InvariantCulture, out int number)
            ? number : null;

    // between words alone: 2024-1 and P-7 are no names
    private static string OfId(string id) => string.Concat(id.Select((letter, i) =>
        letter is '-' or '_' && IsWord(id, i - 2, i - 1) && IsWord(id, i + 1, i + 2) ? ' ' : letter));

    private static bool IsWord(string id, int first, int last) =>
        first >= 0 && last < id.Length && char.IsLetter(id[first]) && char.IsLetter(id[last]);
}
