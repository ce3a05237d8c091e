namespace DecayAtlas.Pipeline.CrossCheck;

internal static class EvidenceGathering
{
    /// <param name="covariates">Names of the covariates that are quantities, in order.</param>
    public static Evidence Of(
        IndexStep.Output index, SnapStep.Output snap, Verdicts verdicts, SummariseStep.Output summaries,
        IReadOnlyList<string> covariates) => new(
        SitesOf(index, snap, verdicts, summaries, covariates), ReplicatesOf(index, verdicts), FillingsOf(index.Bags, verdicts),
        MassesOf(index.Burials));

    private static SiteEvidence[] SitesOf(
        IndexStep.Output index, SnapStep.Output snap, Verdicts verdicts, SummariseStep.Output summaries, IReadOnlyList<string> covariates)
    {
        Dictionary<string, Site> sites = index.Sites.ToDictionary(s => s.Key, StringComparer.Ordinal);
        Dictionary<(string, string), double> ofPlaces = snap.Values.Where(v => v.Value is not null)
            .ToDictionary(v => (v.SiteKey, v.Covariate), v => v.Value!.Value);
        ILookup<(string, string), BurialCovariate> ofBurials = snap.OfBurials.ToLookup(v => (v.ContributionId, v.BurialId));
        ILookup<(string, string), BurialCovariate> ofResults = snap.OfResults.ToLookup(v => (v.ContributionId, v.BurialId));
        ILookup<(string, string), Burial> burials = index.Burials.Where(b => verdicts.Of(b).Use == Use.Accepted)
            .ToLookup(b => (b.SiteKey, b.Header.Campaign));
        return
        [
            .. summaries.SiteCampaigns
                .Where(s => Treatment.IsUntreated(s.Treatment) && (s.LnRate ?? s.Stabilisation) is not null
                    && verdicts.Of(sites[s.SiteKey]).Use == Use.Accepted)
                .Select(s =>
                {
                    Site site = sites[s.SiteKey];
                    // untreated ones only, as in the summary; what depends on days and depth is averaged over them
                    ILookup<string, double> ofOwn = (s.Evidence == EvidenceKind.Weighed
                        ? burials[(s.SiteKey, s.Campaign)].Where(b => b.Lead.Row.Treatment == s.Treatment)
                            .SelectMany(b => ofBurials[(b.Header.ContributionId, b.BurialId)])
                        : index.Results.Where(r => SeriesKey.Of(r) == new SeriesKey(s.SiteKey, s.Campaign, s.Treatment)
                            && r.Row.Evidence == s.Evidence && verdicts.Of(r).Use == Use.Accepted)
                            .SelectMany(r => ofResults[(r.Header.ContributionId, r.Row.ResultId)]))
                        .Where(v => v.Value.Value is not null)
                        .ToLookup(v => v.Value.Covariate, v => v.Value.Value!.Value, StringComparer.Ordinal);
                    return new SiteEvidence(
                        site.ContributionId, site.Row.SiteId, s.ContributionId, s.Campaign,
                        site.Row.CoordinatesSensitive == true, site.Row.DecimalLatitude, site.Row.DecimalLongitude,
                        [.. covariates.Select(
                            name => ofPlaces.TryGetValue((s.SiteKey, name), out double value) ? value
                                : ofOwn[name].Any() ? ofOwn[name].Average() : double.NaN)],
                        s.LnRate, s.Stabilisation);
                }),
        ];
    }

    private static ReplicateEvidence[] ReplicatesOf(IndexStep.Output index, Verdicts verdicts)
    {
        Dictionary<string, string?> ecosystems = index.Sites.ToDictionary(s => s.Key, s => s.Row.Ecosystem, StringComparer.Ordinal);
        return
        [
            .. index.Burials
                .Where(verdicts.CountLnRate)
                .GroupBy(SeriesKey.Of)
                .SelectMany((g, number) => g.Select(b =>
                {
                    (Estimate k, Estimate s) = (b.Rate.Value!.RatePerDay, b.Rate.Value.StabilisationFactor);
                    return new ReplicateEvidence(b.Header.ContributionId, b.BurialId, ecosystems[b.SiteKey], b.Header.Campaign, number,
                        new Replicate(
                        s.Value, Math.Log(k.Value), s.UncertaintyBag * s.UncertaintyBag,
                        Math.Pow(k.UncertaintyBag / k.Value, 2), b.Rate.Value.CovarianceBag / k.Value));
                })),
        ];
    }

    private static FillingEvidence[] FillingsOf(IReadOnlyList<Bag> bags, Verdicts verdicts) =>
    [
        .. bags.Where(
            b => b.Row.MassInitialGrams is not null && (b.Row.MassBasis == MassBasis.Litter || b.Lot.TareGrams is not null)
                && verdicts.Of(b).Use == Use.Accepted)
            .GroupBy(b => (b.Header.ContributionId, b.Row.LotId))
            .Select(g =>
            {
                double[] grams = [
                    .. g.Select(b => b.Row.MassInitialGrams!.Value - (b.Row.MassBasis == MassBasis.Litter ? 0 : b.Lot.TareGrams!.Value))];
                double mean = grams.Average();
                return new FillingEvidence(g.Key.ContributionId, g.Key.LotId, grams.Length, mean, grams.Sum(x => (x - mean) * (x - mean)));
            }),
    ];

    private static MassEvidence[] MassesOf(IReadOnlyList<Burial> burials) =>
    [
        .. burials.Where(b => CopyFlags.MassesOf(b) is not null && CopyFlags.IsTelling(b))
            .Select(b => new MassEvidence(b.Header.ContributionId, b.BurialId, PrintOf(CopyFlags.MassesOf(b)!.Value))),
    ];

    // FNV-1a over the bits of the four numbers, spread by the last step of SplitMix64
    private static ulong PrintOf((double, double, double, double) masses)
    {
        ulong hash = 14695981039346656037UL;
        foreach (double mass in new[] { masses.Item1, masses.Item2, masses.Item3, masses.Item4 })
        {
            hash = (hash ^ BitConverter.DoubleToUInt64Bits(mass)) * 1099511628211UL;
            hash = (hash ^ (hash >> 30)) * 0xBF58476D1CE4E5B9UL;
        }

        return hash ^ (hash >> 31);
    }
}
