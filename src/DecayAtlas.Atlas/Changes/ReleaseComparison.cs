using MathNet.Numerics.Statistics;

namespace DecayAtlas.Atlas.Changes;

/// <summary>
/// Holds two releases against each other. A burial that is in both and has another k, S or use moved for what changed about it:
/// its contribution was revised; else a setting, else the code, else other records (lots, batches, neighbours). With another use it
/// moved for a decision or for flags. A mean moved for what its burials did, came and went for.
/// </summary>
internal sealed class ReleaseComparison(ReleaseSide before, ReleaseSide now)
{
    private readonly HashSet<string> _withdrawn =
        [.. now.Decisions.Where(d => d.Kind == "withdraw").Select(d => d.ContributionId)];

    private readonly HashSet<(string, string?, string?)> _overruled =
    [
        .. now.Decisions.Concat(before.Decisions).Where(d => d.Kind == "overrule")
            .GroupBy(d => (d.ContributionId, d.RecordKind, d.RecordId, d.Code, d.DecidedOn)).Where(g => g.Count() == 1)
            .Select(g => (g.Key.ContributionId, g.Key.RecordKind, g.Key.RecordId)),
    ];

    public ReleaseChanges Result(int named)
    {
        SettingChanged[] settings = [.. before.Settings.Keys.Union(now.Settings.Keys).Order(StringComparer.Ordinal)
            .Select(s => new SettingChanged(s, before.Settings.GetValueOrDefault(s), now.Settings.GetValueOrDefault(s)))
            .Where(s => s.Before != s.Now)];
        bool isOtherCode = before.Software != now.Software;
        List<(string Cause, double? Ratio, double? Difference)> moved = [];
        Dictionary<(string, string, string), HashSet<string>> causesOfSite = [];
        int uses = 0;
        foreach (((string ContributionId, string BurialId) key, ReleasedBurial burial) in now.Burials)
        {
            if (!before.Burials.TryGetValue(key, out ReleasedBurial? old))
            {
                CausesOf(burial).Add(before.Contributions.ContainsKey(key.ContributionId) ? "revision" : "new-data");
                continue;
            }

            bool isRate = old.RatePerDay != burial.RatePerDay, isStabilisation = old.Stabilisation != burial.Stabilisation;
            if (isRate || isStabilisation)
            {
                string cause = IsRevised(key.ContributionId) ? "revision" : settings.Length > 0 ? "setting"
                    : isOtherCode ? "code-version" : "other-records";
                moved.Add((cause, isRate ? RatioOf(old.RatePerDay, burial.RatePerDay) : null,
                    isStabilisation ? burial.Stabilisation - old.Stabilisation ?? double.NaN : null));
                CausesOf(burial).Add(cause);
            }

            if (old.Use != burial.Use)
            {
                uses++;
                CausesOf(burial).Add(IsRevised(key.ContributionId) ? "revision" : IsOverruled(burial) ? "decision" : "flag");
            }

            if (old.SiteKey != burial.SiteKey)
                CausesOf(old).Add("revision");
        }

        foreach (ReleasedBurial burial in before.Burials.Where(b => !now.Burials.ContainsKey(b.Key)).Select(b => b.Value))
            CausesOf(burial).Add(now.Contributions.ContainsKey(burial.ContributionId) ? "revision" : HowItWent(burial.ContributionId));

        List<(MeanMoved Site, double Size)> sites = [];
        foreach (ReleasedSiteCampaign row in now.SiteCampaigns.Values)
        {
            (string, string, string) place = (row.SiteKey, row.Campaign, row.Treatment ?? "");
            ReleasedSiteCampaign? old =
                before.SiteCampaigns.GetValueOrDefault((row.SiteKey, row.Campaign, row.Treatment ?? "", row.Evidence));
            if (old is null
                || (old.RateGeometricMeanPerDay == row.RateGeometricMeanPerDay && old.StabilisationMean == row.StabilisationMean))
            {
                continue;
            }

            HashSet<string> causes = causesOfSite.GetValueOrDefault(place)
                ?? [settings.Length > 0 ? "setting" : isOtherCode ? "code-version" : "other-records"];
            sites.Add((new MeanMoved(row.SiteKey, row.Campaign, row.Treatment, row.Evidence, old.RateGeometricMeanPerDay,
                row.RateGeometricMeanPerDay, old.StabilisationMean, row.StabilisationMean,
                [.. ReleaseChanges.Causes.Where(causes.Contains)]),
                Math.Abs(Math.Log(
                    RatioOf(old.RateGeometricMeanPerDay, row.RateGeometricMeanPerDay) is { } ratio && ratio > 0 ? ratio : 1))));
        }

        (string Cause, double? Ratio, double? Difference)[] ofSites = [.. sites.SelectMany(s => s.Site.Causes.Select(cause => (cause,
            s.Site.RatePerDayBefore != s.Site.RatePerDayNow ? RatioOf(s.Site.RatePerDayBefore, s.Site.RatePerDayNow) : (double?)null,
            s.Site.StabilisationBefore != s.Site.StabilisationNow
                ? s.Site.StabilisationNow - s.Site.StabilisationBefore ?? double.NaN : (double?)null)))];
        return new ReleaseChanges(before.Id, now.Id, before.Software, now.Software, Records(), ContributionsChanged(), settings, Flags(),
            uses, ByCause(moved), sites.Count, ByCause(ofSites),
            [.. sites.OrderByDescending(s => s.Size).ThenBy(s => s.Site.SiteKey, StringComparer.Ordinal)
                .ThenBy(s => s.Site.Campaign, StringComparer.Ordinal).ThenBy(s => s.Site.Treatment, StringComparer.Ordinal)
                .Select(s => s.Site).Take(named)]);

        HashSet<string> CausesOf(ReleasedBurial burial)
        {
            (string, string, string) place = (burial.SiteKey, burial.Campaign, burial.Treatment ?? "");
            return causesOfSite.TryGetValue(place, out HashSet<string>? causes) ? causes : causesOfSite[place] = [];
        }
    }

    private RecordsChanged[] Records() =>
    [
        Of("contributions", before.Contributions.Keys, now.Contributions.Keys),
        Of("sites", before.Sites, now.Sites),
        Of("burials", before.Burials.Keys, now.Burials.Keys),
        Of("bags", before.Bags, now.Bags),
        Of("flags", before.Flags.Select(KeyOf), now.Flags.Select(KeyOf)),
    ];

    private static RecordsChanged Of<T>(string table, IEnumerable<T> before, IEnumerable<T> now)
    {
        HashSet<T> then = [.. before], today = [.. now];
        return new RecordsChanged(table, then.Count, today.Count, today.Count(k => !then.Contains(k)),
            then.Count(k => !today.Contains(k)));
    }

    private ContributionChanged[] ContributionsChanged() =>
    [
        .. before.Contributions.Keys.Union(now.Contributions.Keys).Order(StringComparer.Ordinal)
            .Where(id => !before.Contributions.ContainsKey(id) || !now.Contributions.ContainsKey(id) || IsRevised(id))
            .Select(id => new ContributionChanged(id,
                !before.Contributions.ContainsKey(id) ? "came" : now.Contributions.ContainsKey(id) ? "revised" : HowItWent(id),
                before.Contributions.GetValueOrDefault(id)?.Revision, now.Contributions.GetValueOrDefault(id)?.Revision)),
    ];

    private FlagsChanged[] Flags()
    {
        HashSet<(string, string, string, string)> then = [.. before.Flags.Select(KeyOf)], today = [.. now.Flags.Select(KeyOf)];
        return
        [
            .. then.Union(today).GroupBy(f => f.Item4, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
                .Select(g => new FlagsChanged(g.Key, g.Count(f => !then.Contains(f)), g.Count(f => !today.Contains(f))))
                .Where(f => f.Came + f.Went > 0),
        ];
    }

    private static MovedByCause[] ByCause(IReadOnlyList<(string Cause, double? Ratio, double? Difference)> moved) =>
    [
        .. moved.GroupBy(m => m.Cause).OrderBy(g => ReleaseChanges.Causes.ToList().IndexOf(g.Key)).Select(g =>
        {
            double[] ratios = Known(g.Select(m => m.Ratio)), differences = Known(g.Select(m => m.Difference));
            return new MovedByCause(g.Key, g.Count(m => m.Ratio is not null), Median(ratios), End(ratios, 0),
                End(ratios, ratios.Length - 1), g.Count(m => m.Difference is not null), Median(differences));
        }),
    ];

    private static double[] Known(IEnumerable<double?> values) => [.. values.OfType<double>().Where(double.IsFinite).Order()];

    private static double? Median(double[] sorted) => sorted.Length == 0 ? null : SortedArrayStatistics.Median(sorted);

    private static double? End(double[] sorted, int at) => sorted.Length == 0 ? null : sorted[at];

    /// <summary>NaN where there is no ratio: k came, went, or is not above 0.</summary>
    private static double? RatioOf(double? then, double? today) => then > 0 && today > 0 ? today / then : double.NaN;

    private bool IsRevised(string id) => before.Contributions.TryGetValue(id, out ReleasedContribution? old)
        && now.Contributions.TryGetValue(id, out ReleasedContribution? current)
        && (old.Revision != current.Revision || old.ContentHash != current.ContentHash);

    private string HowItWent(string id) => _withdrawn.Contains(id) ? "withdrawn" : "gone";

    private bool IsOverruled(ReleasedBurial burial) => new (string, string?, string?)[]
    {
        (burial.ContributionId, "burial", burial.BurialId), (burial.ContributionId, "bag", burial.FastBagId),
        (burial.ContributionId, "bag", burial.SlowBagId), (burial.ContributionId, "contribution", burial.ContributionId),
        (burial.ContributionId, "site", burial.SiteKey[(burial.SiteKey.IndexOf('/', StringComparison.Ordinal) + 1)..]),
    }.Any(_overruled.Contains);

    private static (string, string, string, string Code) KeyOf(ReleasedFlag flag) =>
        (flag.ContributionId, flag.RecordKind, flag.RecordId, flag.Code);
}
