namespace DecayAtlas.Questions.Answers;

/// <summary>A series of retrievals of a release: the bags that its curves were fitted to, by days.</summary>
/// <param name="Treatment">Missing for untreated plots.</param>
internal sealed record ReleasedSeries(string SiteKey, string Campaign, string? Treatment, IReadOnlyList<CurvePoint> Fast,
    IReadOnlyList<CurvePoint> Slow)
{
    public string Name => Treatment is null ? SiteKey : $"{SiteKey}, {Treatment}";

    /// <summary>The series that the table of curves has, in its order.</summary>
    public static IReadOnlyList<ReleasedSeries> Of(IReleasedRows release)
    {
        (string, string, string?)[] series = [.. release.Rows(AtlasTables.Curves).Select(c => (c.SiteKey, c.Campaign, c.Treatment))
            .Distinct()];
        if (series.Length == 0)
            return [];

        HashSet<(string, string, string?)> wanted = [.. series];
        ILookup<(string, string, string?), (string Role, CurvePoint Point)> points = release.Rows(AtlasTables.Bags)
            .Where(b => wanted.Contains((b.SiteKey, b.Campaign, b.Treatment))
                && b.RemainingFraction is not null && b.ExposureDays > 0 && b.IsFitted)
            .GroupBy(b => (b.SiteKey, b.Campaign, b.Treatment))
            .SelectMany(g => ReleasedBag.OnOneBasis([.. g])
                .Select(b => (g.Key, b.Bag.Role, Point: new CurvePoint(b.Bag.ExposureDays!.Value, b.RemainingFraction))))
            .ToLookup(b => b.Key, b => (b.Role, b.Point));
        return [.. series.Select(s => new ReleasedSeries(s.Item1, s.Item2, s.Item3, Sorted(points[s], "fast"), Sorted(points[s], "slow")))];
    }

    private static CurvePoint[] Sorted(IEnumerable<(string Role, CurvePoint Point)> points, string role) =>
        [.. points.Where(p => p.Role == role).Select(p => p.Point).OrderBy(p => p.Days).ThenBy(p => p.RemainingFraction)];
}
