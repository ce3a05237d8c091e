namespace DecayAtlas.Pipeline.CrossCheck;

/// <summary>The notes that cast doubt -> the burials they are about, and the means without these. It follows from the flags: a note on
/// a contribution is about all its burials, a note on a site about all burials of the site.</summary>
internal sealed record NotedRecords(IReadOnlyList<ReleasedNoted> Burials, IReadOnlyList<ReleasedNotedSiteCampaign> SiteCampaigns)
{
    public static NotedRecords None { get; } = new([], []);

    /// <summary>Of one contributor.</summary>
    /// <param name="doubts">Notes that cast doubt and stand, on records of the contributor.</param>
    /// <param name="burials">All burials of the contributor.</param>
    public static NotedRecords Of(string contributorId, IReadOnlyList<Flag> doubts, IReadOnlyList<ReleasedBurial> burials)
    {
        ILookup<string, string> onSites = doubts.Where(f => f.Record.Kind == RecordKind.Site)
            .ToLookup(f => Site.KeyOf(contributorId, f.Record.RecordId), f => f.Code, StringComparer.Ordinal);
        ILookup<RecordKey, string> onOthers = doubts.ToLookup(f => f.Record, f => f.Code);
        Dictionary<ReleasedBurial, string> because = new(ReferenceEqualityComparer.Instance);
        foreach (ReleasedBurial b in burials)
        {
            string[] codes =
            [
                .. onOthers[new RecordKey(b.ContributionId, RecordKind.Burial, b.BurialId)]
                    .Concat(onOthers[new RecordKey(b.ContributionId, RecordKind.Contribution, b.ContributionId)])
                    .Concat(onSites[b.SiteKey]).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal),
            ];
            if (codes.Length > 0)
                because[b] = string.Join(',', codes);
        }

        return new NotedRecords(
            [.. burials.Where(because.ContainsKey).OrderBy(b => b.ContributionId, StringComparer.Ordinal)
                .ThenBy(b => b.BurialId, StringComparer.Ordinal).Select(b => RowOf(b, because[b]))],
            [.. burials.GroupBy(b => new SeriesKey(b.SiteKey, b.Campaign, b.Treatment)).InOrder()
                .Select(g => MeansOf([.. g.Where(Counts)], because.ContainsKey)).OfType<ReleasedNotedSiteCampaign>()]);
    }

    public static NotedRecords Joined(IReadOnlyList<NotedRecords> parts) =>
        new([.. parts.SelectMany(p => p.Burials)], [.. parts.SelectMany(p => p.SiteCampaigns)]);

    private static bool Counts(ReleasedBurial b) => b.IsAccepted && (b.RatePerDay ?? b.Stabilisation) is not null;

    private static ReleasedNoted RowOf(ReleasedBurial burial, string because) => new()
    {
        ContributionId = burial.ContributionId,
        BurialId = burial.BurialId,
        SiteKey = burial.SiteKey,
        Campaign = burial.Campaign,
        Treatment = burial.Treatment,
        Plot = burial.Plot,
        ErrorSet = burial.ErrorSet,
        Use = burial.Use,
        ExposureDays = burial.ExposureDays,
        RatePerDay = burial.RatePerDay,
        Stabilisation = burial.Stabilisation,
        Because = because,
    };

    private static ReleasedNotedSiteCampaign? MeansOf(ReleasedBurial[] counted, Func<ReleasedBurial, bool> isNoted)
    {
        ReleasedBurial[] left = [.. counted.Where(b => !isNoted(b))];
        if (left.Length == counted.Length)
            return null;
        double[] rates = [.. left.Select(b => b.RatePerDay).OfType<double>()];
        SampleSummary? lnRate = SampleSummary.Of([.. rates.Where(k => k > 0).Select(k => Math.Log(k))]),
            s = SampleSummary.Of([.. left.Select(b => b.Stabilisation).OfType<double>()]);
        return new ReleasedNotedSiteCampaign
        {
            SiteKey = counted[0].SiteKey,
            Campaign = counted[0].Campaign,
            Treatment = counted[0].Treatment,
            NotedBurials = counted.Length - left.Length,
            RateBurials = rates.Length,
            RateMeanPerDay = SampleSummary.Of(rates)?.Mean,
            LnRateBurials = lnRate?.Count ?? 0,
            LnRateMean = lnRate?.Mean,
            LnRateSd = lnRate?.Sd,
            StabilisationBurials = s?.Count ?? 0,
            StabilisationMean = s?.Mean,
            StabilisationSd = s?.Sd,
        };
    }
}
