namespace DecayAtlas.Pages.Groups;

/// <summary>Where the pages of one group lie, and what they ask it to look at: for whoever writes to it.</summary>
public static class GroupPages
{
    /// <summary>The page of a contribution, from the folder of the pages.</summary>
    /// <param name="front">The language that stands at the front.</param>
    public static string PageOf(string contributionId, string language, string front) =>
        In(FileNames.OfContribution(contributionId), language, front);

    /// <summary>Its class sheet.</summary>
    public static string SheetOf(string contributionId, string language, string front) =>
        In(ClassSheet.FileOf(contributionId), language, front);

    /// <summary>The page that checks a file.</summary>
    public static string CheckOf(string language, string front) => In(CheckBody.Path, language, front);

    /// <summary>The flags of a contribution that are to be mended, those that ask for a look, and those that say what the group
    /// told.</summary>
    public static (IReadOnlyList<ReleasedFlag> Mend, IReadOnlyList<ReleasedFlag> Check, IReadOnlyList<ReleasedFlag> Told) FlagsOf(
        IEnumerable<ReleasedFlag> flags, IEnumerable<ReleasedBurial> burials, IEnumerable<FlagMeaning> meanings) =>
        GroupFlags.Of(flags, burials, meanings) is var of ? (of.Mend, of.Check, of.Told) : default;

    /// <inheritdoc cref="GroupFlags.Bearing"/>
    public static IEnumerable<ReleasedFlag> Bearing(
        string contributionId, IEnumerable<ReleasedFlag> own, IEnumerable<ReleasedFlag> ofItsSites) =>
        GroupFlags.Bearing(contributionId, own, ofItsSites);

    /// <summary>Which of the places of its kit a hidden one is; null where it is not hidden, or of no kit.</summary>
    public static int? HiddenNumber(ReleasedSite site) => PlaceName.HiddenNumber(site);

    private static string In(string path, string language, string front) => language == front ? path : $"{language}/{path}";
}
