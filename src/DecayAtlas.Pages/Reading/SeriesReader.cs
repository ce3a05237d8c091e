using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Storage;

namespace DecayAtlas.Pages.Reading;

/// <summary>Reads the series of a release: its fitted curves, and the bags they were fitted to.</summary>
public static class SeriesReader
{
    /// <summary>Every series, in order of site, campaign and treatment; none where the release has no table of curves.</summary>
    /// <param name="fits">Whether a bag of this use, for these reasons, took part in the fit.</param>
    /// <exception cref="Atlas.AtlasException">A table can't be read.</exception>
    public static IReadOnlyList<SeriesFacts> Read(ReleaseReader release, Func<string?, string?, bool> fits)
    {
        if (!release.Has("curves"))
            return [];
        ParquetColumns t = release.Table("curves");
        string?[] site = t.Text("site_key"), campaign = t.Text("campaign"), treatment = t.Text("treatment"), litter = t.Text("litter"), model = t.Text("model"), statement = t.Text("statement");
        int?[] retrievals = t.WholeNumber("retrievals"), shortest = t.WholeNumber("shortest_days"), longest = t.WholeNumber("longest_days");
        double?[] k = t.Number("k_per_day"), error = t.Number("k_se_per_day"), k2 = t.Number("k2_per_day"), rest = t.Number("rest"), share = t.Number("faster_share");
        double?[] aicc = t.Number("aicc"), weight = t.Number("weight"), oneS = t.Number("one_s_p"), twoBag = t.Number("two_bag_k_per_day");
        if (site.Length == 0)
            return [];

        var rows = Enumerable.Range(0, site.Length).ToLookup(i => (Site: site[i]!, Campaign: campaign[i]!, Treatment: treatment[i]));
        ILookup<(string, string, string?), SeriesPoint> points = PointsOf(release.Table("bags"), [.. rows.Select(g => g.Key)], fits);
        return
        [
            .. rows.OrderBy(g => g.Key.Site, StringComparer.Ordinal).ThenBy(g => g.Key.Campaign, StringComparer.Ordinal).ThenBy(g => g.Key.Treatment, StringComparer.Ordinal).Select(g => new SeriesFacts(
                g.Key.Site, g.Key.Campaign, g.Key.Treatment, g.Max(i => retrievals[i] ?? 0), g.Min(i => shortest[i] ?? 0), g.Max(i => longest[i] ?? 0),
                g.Select(i => twoBag[i]).FirstOrDefault(v => v is not null), g.Select(i => oneS[i]).FirstOrDefault(v => v is not null),
                [.. g.Select(i => new CurveFacts(litter[i]!, model[i]!, statement[i], k[i], error[i], k2[i], rest[i], share[i], aicc[i], weight[i]))],
                [.. points[g.Key].OrderBy(p => p.Litter, StringComparer.Ordinal).ThenBy(p => p.Days).ThenBy(p => p.Remaining)])),
        ];
    }

    private static ILookup<(string, string, string?), SeriesPoint> PointsOf(ParquetColumns t, HashSet<(string, string, string?)> wanted, Func<string?, string?, bool> fits)
    {
        string?[] site = t.Text("site_key"), campaign = t.Text("campaign"), treatment = t.Text("treatment"), role = t.Text("role"), use = t.Text("use"), because = t.Text("use_because");
        double?[] remaining = t.Number("remaining_fraction");
        DateOnly?[] buried = t.Date("buried_on"), retrieved = t.Date("retrieved_on");
        return Enumerable.Range(0, site.Length)
            .Where(i => wanted.Contains((site[i]!, campaign[i]!, treatment[i])) && remaining[i] is not null && buried[i] is not null && retrieved[i] > buried[i])
            .ToLookup(i => (site[i]!, campaign[i]!, treatment[i]), i => new SeriesPoint(role[i]!, retrieved[i]!.Value.DayNumber - buried[i]!.Value.DayNumber, remaining[i]!.Value, fits(use[i], because[i])));
    }
}
