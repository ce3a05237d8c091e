namespace DecayAtlas.Pipeline.Steps;

/// <summary>Contributions -> sites, bags and burials with remaining fraction, S and k.</summary>
public static class IndexStep
{
    /// <summary>What the step makes; every list in key order.</summary>
    public sealed record Output(IReadOnlyList<Site> Sites, IReadOnlyList<Bag> Bags, IReadOnlyList<Burial> Burials)
    {
        /// <summary>Means that stand for burials, in key order.</summary>
        public IReadOnlyList<SentResult> Results { get; init; } = [];
    }

    /// <param name="sensitiveSites">Ids of the sites whose place must not be told, whatever the active contributions say.</param>
    public static Output Run(IReadOnlyList<Contribution> contributions, MeasurementAssumptions assumptions,
        IReadOnlyCollection<string> sensitiveSites)
    {
        Site[] sites = SitesOf(contributions, sensitiveSites);
        HashSet<string> hidden = sites.Where(s => s.Place.IsSensitive).Select(s => s.Key).ToHashSet(StringComparer.Ordinal);
        List<Bag> bags = new();
        List<Burial> burials = new();
        foreach (Contribution contribution in contributions)
        {
            Bag[] own = BagsOf(contribution, assumptions, hidden);
            bags.AddRange(own);
            burials.AddRange(own.GroupBy(b => b.Row.BurialId, StringComparer.Ordinal)
                .OrderBy(g => g.Key, StringComparer.Ordinal)
                .Select(g => BurialOf(contribution.Header, g.Key, [.. g], assumptions)));
        }

        return new Output(sites, bags, burials)
        {
            Results = [.. contributions.SelectMany(c => ResultsOf(c, assumptions, hidden))],
        };
    }

    private static Site[] SitesOf(IReadOnlyList<Contribution> contributions, IReadOnlyCollection<string> sensitiveSites) =>
    [
        // the newest description of a site stands; of two made on one day, the one with the later id
        .. contributions
            .OrderBy(c => c.Header.Created ?? DateOnly.MinValue).ThenBy(c => c.Header.ContributionId, StringComparer.Ordinal)
            .SelectMany(c => c.Sites.Select(row => (Key: Site.KeyOf(c.Header.ContributorId, row.SiteId), c.Header, Row: row)))
            .GroupBy(x => x.Key, StringComparer.Ordinal)
            .Select(group =>
            {
                (string key, ContributionHeader header, SiteRow row) = group.Last();
                // once sensitive, always sensitive: a later revision or contribution that forgets the mark must not give the place away
                bool isSensitive = sensitiveSites.Contains(row.SiteId) || group.Any(x => x.Row.CoordinatesSensitive == true);
                return new Site(key, header.ContributorId, header.ContributionId,
                    row with { CoordinatesSensitive = isSensitive ? true : row.CoordinatesSensitive },
                    PublishedPlace.Of(row.DecimalLatitude, row.DecimalLongitude, row.CoordinateUncertaintyMetres, isSensitive));
            })
            .OrderBy(site => site.Key, StringComparer.Ordinal),
    ];

    // A treatment in words of the sender's own may say where a hidden site is. It cannot be missing, which would say untreated.
    private static string? Told(string? treatment, string siteId, ContributionHeader header, HashSet<string> hidden) =>
        treatment is null || Vocabulary.Treatment.Find(treatment) is not null
            || !hidden.Contains(Site.KeyOf(header.ContributorId, siteId)) ? treatment : "other";

    private static IEnumerable<SentResult> ResultsOf(
        Contribution contribution, MeasurementAssumptions assumptions, HashSet<string> hidden)
    {
        Dictionary<string, LotRow> lots = contribution.Lots.ToDictionary(row => row.LotId, StringComparer.Ordinal);
        return contribution.Results.OrderBy(row => row.ResultId, StringComparer.Ordinal)
            .Select(row => row with { Treatment = Told(row.Treatment, row.SiteId, contribution.Header, hidden) })
            .Select(row => SentResult.Of(contribution.Header, row, lots.GetValueOrDefault(row.FastLotId ?? ""),
                lots.GetValueOrDefault(row.SlowLotId ?? ""), assumptions));
    }

    private static Bag[] BagsOf(Contribution contribution, MeasurementAssumptions assumptions, HashSet<string> hidden)
    {
        Dictionary<string, LotRow> lots = contribution.Lots.ToDictionary(row => row.LotId, StringComparer.Ordinal);
        return
        [
            .. contribution.Bags.OrderBy(row => row.BagId, StringComparer.Ordinal).Select(row => new Bag(
                contribution.Header,
                WeighedBag.Of(row with { Treatment = Told(row.Treatment, row.SiteId, contribution.Header, hidden) }, lots[row.LotId],
                    assumptions),
                Site.KeyOf(contribution.Header.ContributorId, row.SiteId))),
        ];
    }

    private static Burial BurialOf(ContributionHeader header, string burialId, Bag[] bags, MeasurementAssumptions assumptions)
    {
        Bag[] fast = [.. bags.Where(b => b.Row.Role == LitterRole.Fast)];
        Bag[] slow = [.. bags.Where(b => b.Row.Role == LitterRole.Slow)];
        return new Burial(header, burialId, bags[0].SiteKey,
            fast.Length == 1 ? fast[0] : null, slow.Length == 1 ? slow[0] : null, bags,
            WeighedBurial.Of([.. bags.Select(b => b.Weighed)], assumptions));
    }
}
