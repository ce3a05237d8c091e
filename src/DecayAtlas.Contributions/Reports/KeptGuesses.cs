namespace DecayAtlas.Contributions.Reports;

/// <summary>What a check read otherwise than it was written, or takes for a slip with what was likely meant, words of which it knows none,
/// and days beside those of the campaign: kept beside what was accepted, since its sender may never have run the check, and nobody else
/// can say whether it is right.</summary>
/// <param name="Format">What was sent: of a kit people see headings and no fields.</param>
/// <param name="Findings">With the sender's own words, for nobody else.</param>
public sealed record KeptGuesses(ContributionFormat? Format, IReadOnlyList<Finding> Findings)
{
    private static readonly HashSet<string> Codes =
        [FindingCode.KitTyped, FindingCode.ThousandsRead, FindingCode.MassTenfold, FindingCode.SignMissing,
            FindingCode.CoordinatesSwapped, FindingCode.WeighingsSwapped, FindingCode.CampaignDays, FindingCode.WordNotOurs];

    /// <param name="days">Of its campaign; what was sent goes before, where it says them itself.</param>
    internal static KeptGuesses? Of(ReadResult result, ExpectedDays? days) => result.Warnings
        .Concat(result.Expected is null && days is not null ? result.DaysBeside(days) : [])
        .Where(warning => Codes.Contains(warning.Code)).ToArray() is { Length: > 0 } guesses ? new KeptGuesses(result.Format, guesses)
            : null;

    /// <summary>For the sender: the same guess in one line, with its cells.</summary>
    public IReadOnlyList<string> Lines(Phrases words) => Lines(words, isWord: false);

    /// <summary>For the sender: words that are none of a list, with what was likely meant.</summary>
    public IReadOnlyList<string> WordLines(Phrases words) => Lines(words, isWord: true);

    private IReadOnlyList<string> Lines(Phrases words, bool isWord) =>
    [
        .. FindingGroup.Of(Findings.Where(one => one.Code == FindingCode.WordNotOurs == isWord)
            .Select(one => Format == ContributionFormat.Kit ? one with { IsToldOfKit = true } : one)).Select(group => group.Line(words)),
    ];
}
