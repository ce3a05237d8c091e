using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Storage;
using DecayAtlas.Decomposition.Curves;
using DecayAtlas.Pipeline.Stages;

namespace DecayAtlas.Pipeline.Answers;

/// <summary>A series of retrievals of a release: the bags that its curves were fitted to.</summary>
/// <param name="SiteKey">The site.</param>
/// <param name="Campaign">The campaign.</param>
/// <param name="Treatment">The treatment; missing for untreated plots.</param>
/// <param name="Fast">Bags of the fast litter, by days.</param>
/// <param name="Slow">Bags of the slow litter.</param>
internal sealed record ReleasedSeries(string SiteKey, string Campaign, string? Treatment, IReadOnlyList<CurvePoint> Fast, IReadOnlyList<CurvePoint> Slow)
{
    public string Name => Treatment is null ? SiteKey : $"{SiteKey}, {Treatment}";

    /// <summary>The series that the table of curves has, in its order.</summary>
    public static IReadOnlyList<ReleasedSeries> Of(ReleaseReader release)
    {
        ParquetColumns curves = release.Table("curves");
        string?[] keys = curves.Text("site_key"), campaigns = curves.Text("campaign"), treatments = curves.Text("treatment");
        (string, string, string?)[] series = [.. Enumerable.Range(0, keys.Length).Select(i => (keys[i]!, campaigns[i]!, treatments[i])).Distinct()];
        if (series.Length == 0)
            return [];

        HashSet<(string, string, string?)> wanted = [.. series];
        ParquetColumns bags = release.Table("bags");
        string?[] sites = bags.Text("site_key"), campaignOf = bags.Text("campaign"), treatmentOf = bags.Text("treatment"), roles = bags.Text("role"), uses = bags.Text("use"), because = bags.Text("use_because");
        double?[] remaining = bags.Number("remaining_fraction");
        DateOnly?[] buried = bags.Date("buried_on"), retrieved = bags.Date("retrieved_on");
        ILookup<(string, string, string?), (string? Role, CurvePoint Point)> points = Enumerable.Range(0, sites.Length)
            .Where(i => wanted.Contains((sites[i]!, campaignOf[i]!, treatmentOf[i])) && remaining[i] is not null && buried[i] is not null && retrieved[i] > buried[i] && CurveStage.FitsSeries(uses[i], because[i]))
            .ToLookup(
                i => (sites[i]!, campaignOf[i]!, treatmentOf[i]),
                i => (roles[i], new CurvePoint(retrieved[i]!.Value.DayNumber - buried[i]!.Value.DayNumber, remaining[i]!.Value)));
        return [.. series.Select(s => new ReleasedSeries(s.Item1, s.Item2, s.Item3, Sorted(points[s], "fast"), Sorted(points[s], "slow")))];
    }

    private static CurvePoint[] Sorted(IEnumerable<(string? Role, CurvePoint Point)> points, string role) =>
        [.. points.Where(p => p.Role == role).Select(p => p.Point).OrderBy(p => p.Days).ThenBy(p => p.RemainingFraction)];
}
