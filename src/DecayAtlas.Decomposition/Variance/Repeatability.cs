namespace DecayAtlas.Decomposition.Variance;

/// <summary>How much of the scatter between the means of sites is the sites' own.</summary>
public static class Repeatability
{
    /// <summary>
    /// The correlation of two means of one site, each of other campaigns, plots and burials:
    /// <code>R = σ_site²/(σ_site² + σ_campaign at site²/c + σ_plot²/p + σ_burial²/n)</code>
    /// A campaign's variance is divided by campaigns and never by burials: all burials of one campaign felt the same season there.
    /// </summary>
    /// <remarks>Source: nested sampling, Snedecor and Cochran 1980, Statistical Methods, 13.10 (from memory). What all sites of a campaign
    /// share is no part of it, since it does not move sites against each other.</remarks>
    /// <param name="site">Variance between sites, with that of whatever sites stand in where it counts, for example the ecosystem.</param>
    /// <param name="campaignAtSite">Variance between the campaigns of one site.</param>
    /// <param name="plot">Variance between the plots of one site.</param>
    /// <param name="burial">Variance between burials of one plot in one campaign.</param>
    /// <param name="burials">Of the site, all plots and campaigns together.</param>
    public static double OfSiteMean(
        double site, double campaignAtSite, double plot, double burial, int burials, int plots = 1, int campaigns = 1)
    {
        foreach (double variance in (double[])[site, campaignAtSite, plot, burial])
            ArgumentOutOfRangeException.ThrowIfNegative(variance);
        foreach (int count in (int[])[burials, plots, campaigns])
            ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(plots, burials);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(campaigns, burials);
        return site / (site + campaignAtSite / campaigns + plot / plots + burial / burials);
    }
}
