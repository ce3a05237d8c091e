namespace DecayAtlas.Pages.Contributed;

/// <summary>Flags that say one thing: of one contribution with one sentence, as where a lot has no tare and each of its bags is flagged;
/// of what is about the lot itself, of all contributions that use it.</summary>
/// <param name="All">The flags, one at least, in the order of the release.</param>
internal sealed record AlikeFlags(IReadOnlyList<ReleasedFlag> All)
{
    public ReleasedFlag First => All[0];

    public static IEnumerable<AlikeFlags> Of(IEnumerable<ReleasedFlag> flags, Func<string, FlagMeaning?> meaningOf) => flags
        .GroupBy(f => (f.Code, f.Severity, f.RecordKind, f.Explanation, f.Measured, f.Limit, f.OverruledBy,
            Of: meaningOf(f.Code)?.IsOfLot == true ? "" : f.ContributionId))
        .Select(g => new AlikeFlags([.. g]));
}
