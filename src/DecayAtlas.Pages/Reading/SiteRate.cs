namespace DecayAtlas.Pages.Reading;

/// <summary>What the accepted burials in untreated plots of a site say together.</summary>
/// <param name="Burials">How many of them have a k above 0.</param>
/// <param name="RatePerDay">Their geometric mean of k (d⁻¹): exp of the mean of ln k; missing for none.</param>
/// <param name="Stabilisation">Mean S of all that have one, whether they have a k or not (1), as the table site_campaigns has it; missing
/// for none.</param>
/// <param name="NotPositive">Accepted burials whose k is 0 or negative: in no geometric mean.</param>
/// <param name="AtPlateau">Burials without k because their slow litter is at its plateau, the rejected left out: their k is larger than
/// most, and in no mean.</param>
public sealed record SiteRate(
    ReleasedSite Site, int Burials, double? RatePerDay, double? Stabilisation, int NotPositive = 0, int AtPlateau = 0)
{
    /// <summary>What the rate rests on: weighed, or summarised where no burial gives one; missing for none. What a group reports is
    /// shown beside, and is no rate of the atlas.</summary>
    public string? Evidence { get; init; }

    internal static SiteRate Of(ReleasedSite site, IEnumerable<ReleasedBurial> burials, IEnumerable<ReleasedResult> results)
    {
        SiteRate weighed = Of(site, burials);
        ReleasedResult[] means = [.. results.Where(r => r.CountsForPlace)];
        if (weighed.RatePerDay is not null || means.Length == 0)
            return weighed;
        int count = means.Sum(r => r.Burials);
        return new SiteRate(site, count, Math.Exp(means.Sum(r => r.Burials * r.LnRateMean!.Value) / count),
            means.Average(r => r.StabilisationMean))
        {
            Evidence = means[0].Evidence,
        };
    }

    internal static SiteRate Of(ReleasedSite site, IEnumerable<ReleasedBurial> burials)
    {
        ReleasedBurial[] untreated = [.. burials.Where(b => b.IsUntreated)], accepted = [.. untreated.Where(b => b.IsAccepted)],
            counted = [.. accepted.Where(b => b.CountsForPlace)];
        double? meanLogRate = counted.Average(b => (double?)Math.Log(b.RatePerDay!.Value));
        return new SiteRate(site, counted.Length, meanLogRate is { } mean ? Math.Exp(mean) : null, accepted.Average(b => b.Stabilisation),
            accepted.Count(b => b.RatePerDay <= 0), untreated.Count(b => b.IsAtPlateau))
        {
            Evidence = counted.Length > 0 ? Atlas.AtlasCode.Of(EvidenceKind.Weighed) : null,
        };
    }
}

/// <summary>One site in a response: what it lies in, and its rate.</summary>
/// <param name="RatePerDay">k (d⁻¹), above 0.</param>
internal readonly record struct ResponsePoint(double X, double RatePerDay);
