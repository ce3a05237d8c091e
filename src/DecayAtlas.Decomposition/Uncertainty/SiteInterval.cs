using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>Mean of a site with an interval that holds its own scatter and what its burials share.</summary>
/// <param name="Sd">Standard deviation between units, s.</param>
/// <param name="UncertaintyReplicates">s/√n.</param>
/// <param name="UncertaintyBatch">What the mean inherits from batches, u_B.</param>
/// <param name="UncertaintyLot">What the mean inherits from lots, u_L.</param>
/// <param name="DegreesOfFreedom">Effective degrees of freedom ν of the combined uncertainty.</param>
public sealed record SiteMean(
    int Burials, int Units, ReplicationUnit Unit, double Mean, double Sd, double UncertaintyReplicates,
    double UncertaintyBatch, double UncertaintyLot, double DegreesOfFreedom, double Lower95, double Upper95)
{
    public double Uncertainty => Math.Sqrt(
        UncertaintyReplicates * UncertaintyReplicates + UncertaintyBatch * UncertaintyBatch + UncertaintyLot * UncertaintyLot);
}

/// <summary>
/// The interval of a site's mean:
/// <code>
/// u²   = s²/n + u_B² + u_L²
/// half² = (t(0.975, n - 1) s/√n)² + z(0.975)² u_B² + (t(0.975, ν_L) u_L)²          interval: mean ± half
/// ν    = u⁴ / ( (s²/n)²/(n - 1) + u_L⁴/ν_L )
/// </code>
/// </summary>
/// <remarks>Combined standard uncertainty: JCGM 100:2008, 5.1.2. Interval: each part's own 95 % half width, added in squares (method of
/// variance estimates recovery, Zou and Donner 2008, Statistics in Medicine 27:1693-1702, from memory). An interval t(0.975, ν) u from the
/// degrees of freedom of Welch and Satterthwaite (JCGM 100:2008, G.4.1, formula G.2b) covered only 87 % at n = 2 and 92 % at n = 3 in
/// simulated campaigns in which both parts are alike; the one used covers 95 to 96.5 % for n = 2 to 20 (see the coverage test). At n = 2 it
/// is honest but so wide (t = 12.7) that it seldom tells sites apart. The scatter s holds the burials' own weighing errors already. Lots
/// that differ between burials of one site are in s and in u_L both: the interval is then a little wide.</remarks>
public static class SiteInterval
{
    /// <param name="burials">In any order.</param>
    /// <param name="lotDegreesOfFreedom">ν_L, of the lots' uncertainty; infinite where it is taken as known.</param>
    public static Answer<SiteMean> Of(IReadOnlyList<SiteBurial> burials, double lotDegreesOfFreedom = double.PositiveInfinity)
    {
        if (burials.Any(b => !double.IsFinite(b.Value)))
            return Unanswered.NotFinite("values of the burials");
        if (burials.Count < 2)
            return Unanswered.TooFew("burials with a value at the site", burials.Count, 2);

        SiteUnits units = SiteUnits.Of(burials);
        int n = units.Means.Length;
        SampleSummary scatter = SampleSummary.Of(units.Means)!;
        if (!(scatter.Sd > 0))
            return Unanswered.NoScatter("values of the site");

        double replicates = scatter.Sd.Value / Math.Sqrt(n);
        SharedUncertainty shared = SharedUncertainty.OfWeightedSum(
            units.Groups.SelectMany(g => g.Select(b => (b.Shared, 1.0 / (n * g.Length)))));
        double a = replicates * replicates, b = shared.Lot * shared.Lot, c = shared.Batch * shared.Batch;
        double df = (a + b + c) * (a + b + c) / (a * a / (n - 1) + b * b / lotDegreesOfFreedom);
        double half = Math.Sqrt(
            a * Math.Pow(StudentT.InvCDF(0, 1, n - 1, 0.975), 2) + b * Math.Pow(StudentT.InvCDF(0, 1, lotDegreesOfFreedom, 0.975), 2)
            + c * Math.Pow(Normal.InvCDF(0, 1, 0.975), 2));
        return new SiteMean(
            burials.Count, n, units.Unit, scatter.Mean, scatter.Sd.Value, replicates, shared.Batch, shared.Lot, df,
            scatter.Mean - half, scatter.Mean + half);
    }
}
