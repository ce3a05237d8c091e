namespace DecayAtlas.Decomposition.Plans;

/// <summary>What the mean of one site promises: half of its 95 % interval, on the scale of the outcome (ln k or S).</summary>
/// <param name="Scatter">From plots and burials alone: the site as it was in its campaigns, beside others of the same lots and
/// batches.</param>
/// <param name="OverCampaigns">The site over seasons to come, and with what its lots and batches share: k or S itself.</param>
/// <remarks>With variances taken as known (normal, 1.96). A site that has to learn its scatter from its own burials has Student's t in its
/// place: 12.7 with 2 burials, 4.3 with 3.</remarks>
public sealed record SitePrecision(double Scatter, double OverCampaigns)
{
    private const double Normal975 = 1.959963984540054;

    /// <param name="design">One site of it, under one treatment; the expected number of burials that are left counts.</param>
    public static SitePrecision Of(PlannedDesign design, PlanVariances variances)
    {
        double burials = design.Campaigns * design.Plots * design.Burials * (1 - design.Loss);
        double scatter = variances.Plot.Variance / Math.Min(design.Plots, Math.Max(1, burials))
            + variances.Burial.Variance / Math.Max(1, burials);
        double seasons = (variances.Campaign.Variance + variances.CampaignAtSite.Variance + variances.BatchError * variances.BatchError)
            / design.Campaigns;
        return new SitePrecision(
            Normal975 * Math.Sqrt(scatter),
            Normal975 * Math.Sqrt(scatter + seasons + variances.LotError * variances.LotError));
    }
}
