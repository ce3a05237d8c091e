namespace DecayAtlas.Questions.Sensitivity;

/// <summary>
/// The burials of a release that suppositions are tried on: those that count, and those set aside for nothing but their exposure or a
/// plateau not reached. Of very many, whole sites are drawn, so that what is compared within and between sites stays as it is.
/// </summary>
internal sealed record WeighingSample(IReadOnlyList<ReleasedWeighing> Burials, int SitesLeftOut)
{
    /// <summary>More would take minutes a night, and tell nothing new (common practice, no source).</summary>
    private const int MostBurials = 20_000;

    private const ulong Seed = 1;

    public static WeighingSample Of(IReleasedRows release, int mostBurials = MostBurials)
    {
        Dictionary<string, List<ReleasedBurial>> sites = new(StringComparer.Ordinal);
        SortedSet<(ulong Lot, string SiteKey)> drawn = [];
        ulong bar = ulong.MaxValue;
        int burials = 0;
        HashSet<string> leftOut = new(StringComparer.Ordinal);
        foreach (ReleasedBurial burial in release.Each(AtlasTables.Burials).Where(IsTried))
        {
            ulong lot = LotOf(burial.SiteKey);
            if (lot >= bar)
            {
                leftOut.Add(burial.SiteKey);
                continue;
            }

            if (!sites.TryGetValue(burial.SiteKey, out List<ReleasedBurial>? own))
            {
                sites[burial.SiteKey] = own = [];
                drawn.Add((lot, burial.SiteKey));
            }

            own.Add(burial);
            burials++;
            while (burials > mostBurials)
            {
                (bar, string dropped) = drawn.Max;
                drawn.Remove(drawn.Max);
                burials -= sites[dropped].Count;
                sites.Remove(dropped);
                leftOut.Add(dropped);
            }
        }

        return new WeighingSample(WithBags(release, sites), leftOut.Count);
    }

    private static bool IsTried(ReleasedBurial burial) =>
        SeriesUse.Fits(burial.Use, burial.UseBecause) || SeriesUse.IsSetAsideForPlateau(burial.UseBecause);

    private static ulong LotOf(string siteKey) => new RandomStream(Seed, siteKey).NextBits();

    private static ReleasedWeighing[] WithBags(IReleasedRows release, Dictionary<string, List<ReleasedBurial>> sites)
    {
        Dictionary<(string, string), LotRow> lots = release.Each(AtlasTables.Lots)
            .ToDictionary(l => (l.ContributionId, l.LotId), ReleasedWeighing.RowOf);
        HashSet<(string, string)> wanted = [.. sites.Values.SelectMany(s => s).Select(b => (b.ContributionId, b.BurialId))];
        ILookup<(string, string), (BagRow, LotRow)> bags = release.Each(AtlasTables.Bags)
            .Where(b => wanted.Contains((b.ContributionId, b.BurialId)))
            .ToLookup(b => (b.ContributionId, b.BurialId), b => (ReleasedWeighing.RowOf(b), lots[(b.ContributionId, b.LotId)]));
        return
        [
            .. sites.Values.SelectMany(s => s).OrderBy(b => b.ContributionId, StringComparer.Ordinal)
                .ThenBy(b => b.BurialId, StringComparer.Ordinal)
                .Select(b => new ReleasedWeighing(b, [.. bags[(b.ContributionId, b.BurialId)]])),
        ];
    }
}
