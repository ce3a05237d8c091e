namespace DecayAtlas.Contributions.Tables.Warnings;

/// <summary>Ids of places are published, also of those whose exact position is to be hidden. Where they were made of names, as those of
/// columns that were asked about, the id may tell what was to be hidden. Told, and no ground to refuse.</summary>
internal static class HiddenPlaceWarnings
{
    // shorter ones are marks, and no names
    private const int LeastOfAName = 4;

    // words of the ids that are made where there are no names
    private static readonly string[] Neutral = ["site", "place", "plot"];

    public static IReadOnlyList<Finding> Of(IReadOnlyList<SiteRow> sites, string file, string? sheet)
    {
        FindingList warnings = new();
        foreach (SiteRow site in sites.Where(site => site.CoordinatesSensitive == true && MayBeName(site.SiteId)))
        {
            warnings.Add(new Finding(FindingCode.HiddenPlaceNamed, file, site.Row, "site_id", FindingText.Quote(site.SiteId),
                "an id that tells nothing, such as place-1",
                "the id of this hidden place is published as it stands: if it gives the place away, write another one under words in the "
                + "mapping")
            { Sheet = sheet });
        }
        return warnings.Close(file);
    }

    private static bool MayBeName(string id) => id.Split('-', '.', '_', ':').Any(part =>
        part.Length >= LeastOfAName && part.All(char.IsLetter) && !Neutral.Contains(part, StringComparer.OrdinalIgnoreCase));
}
