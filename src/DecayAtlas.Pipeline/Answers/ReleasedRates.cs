using DecayAtlas.Atlas.Releases;
using DecayAtlas.Atlas.Storage;

namespace DecayAtlas.Pipeline.Answers;

/// <summary>One plot of a release in one campaign: its accepted burials with k above 0, summed up.</summary>
/// <param name="SiteKey">The site.</param>
/// <param name="Campaign">The campaign.</param>
/// <param name="Treatment">Treatment as stated.</param>
/// <param name="Plot">The plot; missing where none is named.</param>
/// <param name="Burials">How many burials, n.</param>
/// <param name="LnRate">Mean of ln k (k in d⁻¹).</param>
/// <param name="SumOfSquares">Sum of squares about it.</param>
public sealed record ReleasedPlot(string SiteKey, string Campaign, string? Treatment, string? Plot, int Burials, double LnRate, double SumOfSquares)
{
    public bool IsUntreated => Atlas.Records.Treatment.IsUntreated(Treatment);
}

/// <summary>What questions are asked of: the rates of a release by plot, and what is known of their sites.</summary>
public sealed class ReleasedRates
{
    private readonly Func<string, ParquetColumns> _table;
    private readonly Dictionary<string, int> _siteRow;

    public ReleasedRates(ReleaseReader release)
        : this(release.Table)
    {
    }

    /// <summary>Reads tables that need not be in a release yet.</summary>
    internal ReleasedRates(Func<string, ParquetColumns> table)
    {
        _table = table;
        string?[] siteKeys = table("sites").Text("site_key");
        _siteRow = Enumerable.Range(0, siteKeys.Length).ToDictionary(i => siteKeys[i]!, StringComparer.Ordinal);

        ParquetColumns plots = table("plots");
        string?[] sites = plots.Text("site_key"), campaigns = plots.Text("campaign"), treatments = plots.Text("treatment"), names = plots.Text("plot");
        int?[] counts = plots.WholeNumber("ln_k_burials");
        double?[] means = plots.Number("ln_k_mean"), sds = plots.Number("ln_k_sd");
        Plots =
        [
            .. Enumerable.Range(0, sites.Length).Select(i => new ReleasedPlot(
                sites[i]!, campaigns[i]!, treatments[i], names[i], counts[i]!.Value, means[i]!.Value, sds[i] is { } sd ? sd * sd * (counts[i]!.Value - 1) : 0)),
        ];
    }

    /// <summary>The plots in the order of the release.</summary>
    public IReadOnlyList<ReleasedPlot> Plots { get; }

    /// <summary>What a text column of the table of sites says of each site.</summary>
    public Func<string, string?> OfSite(string column)
    {
        string?[] values = _table("sites").Text(column);
        return siteKey => values[_siteRow[siteKey]];
    }

    /// <summary>The values of covariates for a plot, in the order of the names; missing where one of them is missing or withheld.</summary>
    /// <exception cref="ConfigurationException">The release has no covariate of a name.</exception>
    public Func<ReleasedPlot, double[]?> Covariates(IReadOnlyList<string> names)
    {
        if (names.Count == 0)
            return _ => [];
        var covariates = new ReleasedCovariates(_table);
        if (names.FirstOrDefault(name => !covariates.Names.Contains(name)) is { } unknown)
            throw new ConfigurationException($"{unknown} is no covariate of the release; it has {(covariates.Names.Count == 0 ? "no covariates" : string.Join(", ", covariates.Names))}.");
        return plot =>
        {
            double?[] values = [.. names.Select(name => covariates.Of(plot.SiteKey, plot.Campaign, plot.Treatment, name))];
            return values.Any(v => v is null) ? null : [.. values.Select(v => v!.Value)];
        };
    }

    /// <summary>Sites of plots.</summary>
    internal static int SitesOf(IEnumerable<ReleasedPlot> plots) => plots.Select(p => p.SiteKey).Distinct(StringComparer.Ordinal).Count();
}
