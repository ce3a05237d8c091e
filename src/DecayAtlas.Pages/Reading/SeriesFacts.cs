namespace DecayAtlas.Pages.Reading;

public sealed record SeriesPoint(string Litter, int Days, double Remaining, bool IsFitted);

/// <summary>Several retrievals of one site in one campaign under one treatment, and the curves fitted to them.</summary>
/// <param name="TwoBagRatePerDay">Mean k of the accepted burials by the two-bag equations (d⁻¹).</param>
/// <param name="OneStabilisationP">Probability that two S would fit better by so much if both litters shared one; missing where it was not
/// tested.</param>
public sealed record SeriesFacts(
    string SiteKey, string Campaign, string? Treatment, int Retrievals, int ShortestDays, int LongestDays, double? TwoBagRatePerDay,
    double? OneStabilisationP, IReadOnlyList<ReleasedCurve> Curves, IReadOnlyList<SeriesPoint> Points)
{
    /// <summary>The curve of a litter with the lowest AICc; missing where none has one.</summary>
    public ReleasedCurve? ChosenOf(string litter) => Curves.Where(c => c.Litter == litter && c.Aicc is not null).MinBy(c => c.Aicc);

    /// <summary>Every series of a release, in order of site, campaign and treatment; none where it has no table of curves.</summary>
    /// <exception cref="Atlas.AtlasException">A table can't be read.</exception>
    public static IReadOnlyList<SeriesFacts> Of(ReleaseReader release, IEnumerable<ReleasedBag> bags)
    {
        if (!release.Has(AtlasTables.Curves))
            return [];
        ILookup<(string SiteKey, string Campaign, string? Treatment), ReleasedCurve> series =
            release.Rows(AtlasTables.Curves).ToLookup(c => (c.SiteKey, c.Campaign, c.Treatment));
        ILookup<(string, string, string?), SeriesPoint> points = bags
            .Where(b => b is { RemainingFraction: not null, ExposureDays: > 0 } && series.Contains((b.SiteKey, b.Campaign, b.Treatment)))
            .GroupBy(b => (b.SiteKey, b.Campaign, b.Treatment))
            .SelectMany(g => ReleasedBag.OnOneBasis([.. g]).Select(b =>
                (g.Key, Point: new SeriesPoint(b.Bag.Role, b.Bag.ExposureDays!.Value, b.RemainingFraction, b.Bag.IsFitted))))
            .ToLookup(b => b.Key, b => b.Point);
        return
        [
            .. series.OrderBy(s => s.Key.SiteKey, StringComparer.Ordinal).ThenBy(s => s.Key.Campaign, StringComparer.Ordinal)
                .ThenBy(s => s.Key.Treatment, StringComparer.Ordinal).Select(s => new SeriesFacts(
                    s.Key.SiteKey, s.Key.Campaign, s.Key.Treatment, s.Max(c => c.Retrievals), s.Min(c => c.ShortestDays),
                    s.Max(c => c.LongestDays), s.Select(c => c.TwoBagRatePerDay).FirstOrDefault(k => k is not null),
                    s.Select(c => c.SharedStabilisationP).FirstOrDefault(p => p is not null), [.. s],
                    [.. points[s.Key].OrderBy(p => p.Litter, StringComparer.Ordinal).ThenBy(p => p.Days).ThenBy(p => p.Remaining)])),
        ];
    }
}
