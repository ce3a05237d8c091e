using MathNet.Numerics.Distributions;
using nietras.SeparatedValues;

namespace DecayAtlas.Demo.Scoring;

/// <summary>What a run found of one site in one campaign.</summary>
/// <param name="LnRate">Mean ln k (k in d⁻¹).</param>
/// <param name="ReplicateUncertainty">Its standard error from the scatter between burials.</param>
/// <param name="SharedUncertainty">Its standard uncertainty from what the burials share with others.</param>
public sealed record MeasuredSite(
    string SiteKey, string Evidence, int Burials, double LnRate, double ReplicateUncertainty, double SharedUncertainty);

/// <summary>How far one kind of evidence lies from the truth of its sites.</summary>
/// <param name="MeanOffLn">Mean of ln k found - ln k true.</param>
/// <param name="UncertaintyLn">Standard uncertainty of that mean: the sites' own errors averaged, what they share not.</param>
/// <param name="ShareHeld">Share of the sites whose 95 % interval holds the truth.</param>
public sealed record EvidenceScore(string Evidence, int SiteCampaigns, double MeanOffLn, double UncertaintyLn, double ShareHeld)
{
    /// <summary>Coverage factor for about 95 % (JCGM 100:2008, G.6.6).</summary>
    private const double Coverage = 2;

    public bool IsOnTruth => Math.Abs(MeanOffLn) <= Coverage * UncertaintyLn;

    /// <summary>A score for each kind of evidence, in ordinal order.</summary>
    /// <param name="lnTruth">ln of the true k of a site by its key.</param>
    public static IReadOnlyList<EvidenceScore> Of(IEnumerable<MeasuredSite> measured, IReadOnlyDictionary<string, double> lnTruth) =>
    [
        .. measured.Where(m => lnTruth.ContainsKey(m.SiteKey)).GroupBy(m => m.Evidence, StringComparer.Ordinal)
            .OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => Of(g.Key, [.. g], lnTruth)),
    ];

    /// <summary>ln of the true k per day of every site of a scenario, by contributor and site id joined by a slash.</summary>
    public static IReadOnlyDictionary<string, double> TruthIn(string folder)
    {
        using SepReader rows = Sep.New(',').Reader().FromFile(Path.Combine(folder, "truth", "sites.csv"));
        Dictionary<string, double> found = new(StringComparer.Ordinal);
        foreach (SepReader.Row row in rows)
            found[$"{row["contributor"]}/{row["site_id"]}"] = Math.Log(row["k_site_per_day"].Parse<double>());
        return found;
    }

    private static EvidenceScore Of(string evidence, MeasuredSite[] sites, IReadOnlyDictionary<string, double> lnTruth)
    {
        double own = Math.Sqrt(sites.Sum(s => s.ReplicateUncertainty * s.ReplicateUncertainty)) / sites.Length;
        double shared = sites.Average(s => s.SharedUncertainty);
        return new EvidenceScore(
            evidence, sites.Length, sites.Average(s => s.LnRate - lnTruth[s.SiteKey]), Math.Sqrt((own * own) + (shared * shared)),
            sites.Average(s => Math.Abs(s.LnRate - lnTruth[s.SiteKey]) <= HalfOf(s) ? 1.0 : 0));
    }

    private static double HalfOf(MeasuredSite site)
    {
        double own = StudentT.InvCDF(0, 1, site.Burials - 1, 0.975) * site.ReplicateUncertainty, shared = Coverage * site.SharedUncertainty;
        return Math.Sqrt((own * own) + (shared * shared));
    }
}
