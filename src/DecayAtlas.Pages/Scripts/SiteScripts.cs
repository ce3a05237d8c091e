namespace DecayAtlas.Pages.Scripts;

/// <summary>The sites for the map: one short row each in <c>data/sites.js</c>, and all that a click shows in <c>data/sites-N.js</c>, a few
/// sites a file, so that the map stands before anything else is read and a click reads little.</summary>
internal static class SiteScripts
{
    public const string IndexFile = "data/sites.js";
    private const int SitesAFile = 25;

    private static readonly string[] Columns = ["key", "latitude", "longitude", "rate", "stabilisation", "burials", "ecosystem", "landUse",
        "campaigns", "flags", "use", "generalised", "summarised", "reported", "unseen", "unseenS"];

    public static string FileOf(int number) => $"data/sites-{number}.js";

    public static IEnumerable<(string File, string Text)> All(PagesInputs inputs)
    {
        ReleaseData data = inputs.Data;
        ILookup<string, SeriesFacts> series = inputs.Series.ToLookup(s => s.SiteKey);
        Dictionary<string, ReleasedContribution> contributions =
            data.Contributions.ToDictionary(c => c.ContributionId);
        yield return (IndexFile, Index(data, Unseen.Of(inputs)));
        foreach ((int number, ReleasedSite[] sites) in data.Sites.Chunk(SitesAFile).Index())
        {
            yield return (FileOf(number), Script.Call("atlasSites",
                sites.ToDictionary(s => s.SiteKey, s => Details(data, s, series[s.SiteKey], contributions, inputs.Titles))));
        }
    }

    private static string Index(ReleaseData data, Unseen unseen)
    {
        Names ecosystems = new(), landUses = new(), campaigns = new(), flags = new();
        object?[][] rows = data.Sites.Select(site =>
        {
            SiteRate rate = data.Rates[site.SiteKey];
            ReleasedBurial[] burials = [.. data.BurialsOfSite[site.SiteKey]];
            ReleasedResult[] results = [.. data.ResultsOfSite[site.SiteKey]];
            return new object?[]
            {
                site.SiteKey, site.LatitudeDegrees, site.LongitudeDegrees, Script.Short(rate.RatePerDay), Script.Short(rate.Stabilisation),
                burials.Length + results.Sum(r => r.Burials), ecosystems.Of(site.Ecosystem), landUses.Of(site.LandUse),
                campaigns.Of(burials.Select(b => b.Campaign).Concat(results.Select(r => r.Campaign))),
                flags.Of(data.FlagsOfSite[site.SiteKey].Select(f => f.Code)), site.Use[..1], site.IsGeneralised ? 1 : 0,
                BurialsOf(results, EvidenceKind.Summarised), BurialsOf(results, EvidenceKind.Reported),
                Script.Short(unseen.RateOf(site.SiteKey)), Script.Short(unseen.StabilisationOf(site.SiteKey)),
            };
        }).ToArray();
        return Script.Assign("atlasIndex", new
        {
            sitesAFile = SitesAFile,
            ecosystems = ecosystems.All,
            landUses = landUses.All,
            campaigns = campaigns.All,
            flags = flags.All,
            columns = Columns,
            rows,
        });
    }

    private static int BurialsOf(IEnumerable<ReleasedResult> results, EvidenceKind evidence) =>
        results.Where(r => r.Evidence == Atlas.AtlasCode.Of(evidence)).Sum(r => r.Burials);

    private static object Details(ReleaseData data, ReleasedSite site, IEnumerable<SeriesFacts> series,
        Dictionary<string, ReleasedContribution> contributions, GivenTitles titles) => new
        {
            id = site.SiteId,
            contributor = site.ContributorId,
            group = titles.OfGroup(site.ContributorId),
            country = site.CountryCode,
            ecosystem = site.Ecosystem,
            landUse = site.LandUse,
            management = site.Management,
            note = site.ManagementNote,
            elevation = site.ElevationMetres,
            latitude = site.LatitudeDegrees,
            longitude = site.LongitudeDegrees,
            uncertainty = site.CoordinateUncertaintyMetres,
            generalised = site.IsGeneralised,
            use = site.Use,
            because = site.UseBecause,
            notPositive = data.Rates[site.SiteKey].NotPositive,
            atPlateau = data.Rates[site.SiteKey].AtPlateau,
            burials = data.BurialsOfSite[site.SiteKey].Select(b => new
            {
                id = b.BurialId,
                contribution = b.ContributionId,
                campaign = b.Campaign,
                plot = b.Plot,
                treatment = b.Treatment,
                buried = $"{b.BuriedOn:O}",
                days = b.ExposureDays,
                depth = b.DepthCentimetres,
                fast = Script.Short(b.FastRemainingFraction),
                slow = Script.Short(b.SlowRemainingFraction),
                k = Script.Short(b.RatePerDay),
                lower = Script.Short(b.RateLower95PerDay),
                upper = Script.Short(b.RateUpper95PerDay),
                least = Script.Short(b.RateAtLeastPerDay),
                s = Script.Short(b.Stabilisation),
                su = Script.Short(b.StabilisationUncertainty),
                a = Script.Short(data.DecomposableSlowOf(b)),
                missing = b.RateMissingBecause,
                use = b.Use,
                because = b.UseBecause,
            }),
            evidence = data.Rates[site.SiteKey].Evidence,
            results = data.ResultsOfSite[site.SiteKey].Select(r => new object?[]
            {
                r.ResultId, r.Evidence, r.Campaign, r.Treatment, r.Burials, $"{r.BuriedOn:O}", Script.Short(r.ExposureDays),
                Script.Short(r.RateMeanPerDay), Script.Short(r.RateMeanPerDay * r.LnRateUncertainty), r.RateMissingBecause,
                Script.Short(r.StabilisationMean), r.Use,
            }),
            values = data.SiteValuesOfSite[site.SiteKey].GroupBy(v => v.Campaign, StringComparer.Ordinal).Select(g =>
            {
                (ReleasedSiteValue? k, ReleasedSiteValue? s) = (g.FirstOrDefault(v => v.Of == "k"), g.FirstOrDefault(v => v.Of == "s"));
                return new object?[]
                {
                    g.Key, Script.Short(k?.OwnRatePerDay), Script.Short(k?.RatePerDay), Script.Short(k?.RateLower95PerDay),
                    Script.Short(k?.RateUpper95PerDay), Script.Short(s?.OwnStabilisation), Script.Short(s?.Stabilisation),
                    Script.Short(s?.StabilisationLower95), Script.Short(s?.StabilisationUpper95),
                };
            }),
            bags = data.BagsOfSite[site.SiteKey].Select(b => new object?[]
            {
                b.BagId, b.BurialId, b.Role, b.LotId, b.MassInitialGrams, b.MassFinalGrams, b.MassBasis, Script.Short(b.RemainingFraction),
                b.RemainingMissingBecause, b.Use, b.UseBecause,
            }),
            covariates = data.CovariatesOfSite[site.SiteKey].Select(c => new object?[]
            {
                c.Covariate, Script.Short(c.Value), c.Unit, c.Rule, c.Status, Begin(c.GridFingerprint),
            }),
            flags = data.FlagsOfSite[site.SiteKey].Select(f => new
            {
                code = f.Code,
                severity = f.Severity,
                kind = f.RecordKind,
                id = f.RecordId,
                explanation = f.Explanation,
                by = f.OverruledBy,
                measured = Script.Short(f.Measured),
                limit = Script.Short(f.Limit),
                unit = f.Unit
            }),
            series = series.Select(SeriesScript.Of),
            contributions = data.BurialsOfSite[site.SiteKey].Select(b => b.ContributionId)
                .Concat(data.ResultsOfSite[site.SiteKey].Select(r => r.ContributionId)).Append(site.ContributionId).Distinct()
                .Order(StringComparer.Ordinal).Select(id => contributions.GetValueOrDefault(id)).OfType<ReleasedContribution>()
                .Select(c => new object?[]
                {
                    c.ContributionId, FileNames.OfContribution(c.ContributionId), c.Revision, c.Licence, Begin(c.ContentHash), c.Protocol,
                }),
        };

    private static string Begin(string digest) => digest[..Math.Min(12, digest.Length)];

    /// <summary>Names by number, in the order in which they are met.</summary>
    private sealed class Names
    {
        private readonly Dictionary<string, int> _numbers = [];

        public IEnumerable<string> All => _numbers.OrderBy(n => n.Value).Select(n => n.Key);

        public int? Of(string? name)
        {
            if (name is not null)
                _numbers.TryAdd(name, _numbers.Count);
            return name is null ? null : _numbers[name];
        }

        public int?[] Of(IEnumerable<string> names) => [.. names.Distinct().Order(StringComparer.Ordinal).Select(Of)];
    }
}
