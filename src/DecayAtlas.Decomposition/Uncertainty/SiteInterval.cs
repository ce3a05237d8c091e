using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Uncertainty;

/// <summary>Mean of a site with an interval that holds its own scatter and what its burials share.</summary>
/// <param name="Sd">Standard deviation between units, s.</param>
/// <param name="UncertaintyReplicates">s/√n.</param>
/// <param name="UncertaintyBatch">What units share through batches, so that s does not show it, √C_B.</param>
/// <param name="UncertaintyLot">So through lots, √C_L.</param>
/// <param name="DegreesOfFreedom">Effective degrees of freedom ν of the combined uncertainty.</param>
public sealed record SiteMean(
    int Burials, int Units, ReplicationUnit Unit, double Mean, double Sd, double UncertaintyReplicates,
    double UncertaintyBatch, double UncertaintyLot, double DegreesOfFreedom, double Lower95, double Upper95)
{
    public double Uncertainty => Math.Sqrt(
        UncertaintyReplicates * UncertaintyReplicates + UncertaintyBatch * UncertaintyBatch + UncertaintyLot * UncertaintyLot);
}

/// <summary>
/// The interval of a site's mean, mean ± half:
/// <code>
/// u²   = s²/n + C            C = C_B + C_L, what units share (<see cref="BetweenUnits"/>)
/// half = u (z + (t(0.975, n - 1) - z) g)      g = 1 - (1 - v²)^b      b = 1 + 2.5/(n - 1)²      v = (s²/n) / u²
/// ν    = u⁴ / ( (s²/n)²/(n - 1) )
/// </code>
/// z is 1.96 where the shared error is normal, and less where it is the rectangle of an unspoken water.
/// </summary>
/// <remarks>Combined standard uncertainty: JCGM 100:2008, 5.1.2. The factor lies between t and z by the share v of the variance that is
/// known from n values only, as in Cochran and Cox 1957, Experimental Designs, 4.14 (from memory), where g = v. That covers up to 98 % at
/// n = 2 and 97 % at n = 3 (worked out for normal errors); half widths added in squares (Zou and Donner 2008) 99 %; t(0.975, ν) with the
/// degrees of freedom of Welch and Satterthwaite (JCGM 100:2008, G.4.1, formula G.2b) only 87 %. The g used was chosen by such sums, no
/// source: it covers 93 to 96.5 % at n = 2 and 94.5 to 95.5 % from 3 on. At n = 2 it is honest but so wide (t = 12.7) that it seldom tells
/// sites apart. The scatter s holds the burials' own weighing errors already.</remarks>
public static class SiteInterval
{
    /// <param name="burials">In any order.</param>
    public static Answer<SiteMean> Of(IReadOnlyList<SiteBurial> burials)
    {
        if (burials.Any(b => !double.IsFinite(b.Value)))
            return Unanswered.NotFinite("values of the burials");
        if (burials.Count < 2)
            return Unanswered.TooFew("burials with a value at the site", burials.Count, 2);

        SiteUnits units = SiteUnits.Of(burials);
        SampleSummary scatter = SampleSummary.Of(units.Means)!;
        if (!(scatter.Sd > 0))
            return Unanswered.NoScatter("values of the site");

        BetweenUnits shared = BetweenUnits.Of(units);
        double t = ScatterFactor(scatter);
        double z = shared.Variance > 0 ? shared.HalfWidth95 / Math.Sqrt(shared.Variance) : t;
        return Of(burials.Count, units.Unit, scatter, shared.Batch, shared.Lot, z);
    }

    /// <summary>The same of burials of which only mean and scatter are known; missing without scatter. What they share is taken as
    /// normal, which is never narrower than it is.</summary>
    public static SiteMean? OfMoments(SampleSummary scatter, SharedUncertainty shared) => scatter.Sd > 0
        ? Of(scatter.Count, ReplicationUnit.Burial, scatter, Square(shared.Batch), Square(shared.Lot), Normal.InvCDF(0, 1, 0.975)) : null;

    private static SiteMean Of(int burials, ReplicationUnit unit, SampleSummary scatter, double batch, double lot, double z)
    {
        int n = scatter.Count;
        double replicates = scatter.Sd!.Value / Math.Sqrt(n);
        double u = Math.Sqrt(replicates * replicates + batch + lot), t = ScatterFactor(scatter);
        double g = 1 - Math.Pow(1 - Math.Pow(replicates / u, 4), 1 + 2.5 / Square(n - 1));
        double half = u * (z + (t - z) * g);
        return new SiteMean(
            burials, n, unit, scatter.Mean, scatter.Sd.Value, replicates, Math.Sqrt(batch), Math.Sqrt(lot),
            Math.Pow(u / replicates, 4) * (n - 1), scatter.Mean - half, scatter.Mean + half);
    }

    private static double ScatterFactor(SampleSummary scatter) =>
        (scatter.Upper95!.Value - scatter.Mean) / (scatter.Sd!.Value / Math.Sqrt(scatter.Count));

    private static double Square(double x) => x * x;
}
