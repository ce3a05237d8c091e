namespace DecayAtlas.Pages.Reading;

/// <summary>What the accepted burials in untreated plots of a site say together.</summary>
/// <param name="Site">The site.</param>
/// <param name="Burials">How many of them have a k above 0.</param>
/// <param name="RatePerDay">Their geometric mean of k (d⁻¹): exp of the mean of ln k; missing for none.</param>
/// <param name="Stabilisation">Mean S of all that have one, whether they have a k or not (1), as the table site_campaigns has it; missing
/// for none.</param>
public sealed record SiteRate(ReleasedSite Site, int Burials, double? RatePerDay, double? Stabilisation)
{
    internal static SiteRate Of(ReleasedSite site, IEnumerable<ReleasedBurial> burials)
    {
        ReleasedBurial[] accepted = [.. burials.Where(b => b.IsAccepted && b.IsUntreated)],
            counted = [.. accepted.Where(b => b.CountsForPlace)];
        double[] s = [.. accepted.Where(b => b.Stabilisation is not null).Select(b => b.Stabilisation!.Value)];
        return new SiteRate(
            site, counted.Length,
            counted.Length == 0 ? null : Math.Exp(counted.Average(b => Math.Log(b.RatePerDay!.Value))),
            s.Length == 0 ? null : s.Average());
    }
}
