namespace DecayAtlas.Pages.Contributed;

/// <summary>The flags of one contribution by what its group is to do about them.</summary>
/// <param name="Mend">What keeps records from counting, and is to be mended.</param>
/// <param name="Check">What may be right and is to be looked at: a surprise.</param>
/// <param name="Told">What it told by itself, such as a lost bag: nothing is to be done about it.</param>
/// <param name="Planned">Exposures of a time series, which are as they were meant.</param>
/// <param name="Notes">What changes nothing.</param>
/// <remarks>What is about a lot is none of them: the lot is the campaign's, and the quality page names it.</remarks>
internal sealed record GroupFlags(
    ReleasedFlag[] Mend, ReleasedFlag[] Check, ReleasedFlag[] Told, ReleasedFlag[] Planned, ReleasedFlag[] Notes)
{
    /// <param name="flags">Those of the contribution.</param>
    /// <param name="burials">Those of the contribution.</param>
    /// <param name="meanings">Which of them ask for a look, which say what was told, and which are about lots.</param>
    public static GroupFlags Of(IEnumerable<ReleasedFlag> flags, IEnumerable<ReleasedBurial> burials, IEnumerable<FlagMeaning> meanings)
    {
        FlagMeaning[] all = [.. meanings];
        HashSet<string> toCheck = CodesOf(m => m.IsToCheck), asTold = CodesOf(m => m.IsAsTold), ofLots = CodesOf(m => m.IsOfLot);
        // a series is one site and treatment that was dug up several times
        HashSet<string> inSeries =
        [
            .. burials.GroupBy(b => (b.SiteKey, b.Treatment))
                .Where(g => SeriesUse.IsSeries([.. g.Select(b => b.ExposureDays).OfType<int>()]))
                .SelectMany(g => g).SelectMany(b => new[] { b.BurialId, b.FastBagId, b.SlowBagId }).OfType<string>(),
        ];
        ILookup<string, ReleasedFlag> sorted = flags.Where(f => !ofLots.Contains(f.Code)).ToLookup(f =>
            f.OverruledBy is not null ? "notes"
            : asTold.Contains(f.Code) ? "told"
            : f.Severity == "note" ? toCheck.Contains(f.Code) ? "check" : "notes"
            : SeriesUse.IsOfExposure(f.Code) && f.RecordKind is ("bag" or "burial") && inSeries.Contains(f.RecordId) ? "planned" : "mend");
        return new GroupFlags(
            [.. sorted["mend"]], [.. sorted["check"]], [.. sorted["told"]], [.. sorted["planned"]], [.. sorted["notes"]]);

        HashSet<string> CodesOf(Func<FlagMeaning, bool> which) => [.. all.Where(which).Select(meaning => meaning.Code)];
    }

    /// <summary>The flags that bear on the burials of a contribution: its own, and those of its sites that hang on another contribution of
    /// the group, each said once.</summary>
    /// <param name="own">Those of the contribution.</param>
    /// <param name="ofItsSites">Those of whatever lies at its sites.</param>
    public static IEnumerable<ReleasedFlag> Bearing(
        string contributionId, IEnumerable<ReleasedFlag> own, IEnumerable<ReleasedFlag> ofItsSites)
    {
        ReleasedFlag[] mine = [.. own];
        return mine.Concat(ofItsSites.Where(f => f.RecordKind == "site" && f.ContributionId != contributionId)
            .ExceptBy(mine.Select(SaysOf), SaysOf));

        static (string, string, string) SaysOf(ReleasedFlag flag) => (flag.Code, flag.RecordKind, flag.RecordId);
    }
}
