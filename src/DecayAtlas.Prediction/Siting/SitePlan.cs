namespace DecayAtlas.Prediction.Siting;

/// <summary>A place to bury at.</summary>
/// <param name="Place">The middle of a cell of the map, WGS 84.</param>
/// <param name="LowerPerDay">The interval of what is true of the place, as the map has it.</param>
/// <param name="NearestSiteMetres">Of the sites whose place is published as it is; missing without any.</param>
/// <param name="IsHiddenSiteNear">A site whose place is not told lies in the same cell of 0.1 degrees.</param>
/// <param name="Covariates">In the order of the model; of a class its place among the covariate's.</param>
/// <param name="After">Half-width of the means with the sites up to this one.</param>
public sealed record ProposedSite(
    int Rank, string Region, GeoPoint Place, double RatePerDay, double LowerPerDay, double UpperPerDay, bool IsApplicable,
    double Dissimilarity, double? NearestSiteMetres, bool IsHiddenSiteNear, IReadOnlyList<double> Covariates, double After);

/// <summary>Half-widths of the means, on the scale of ln k, with a number of new sites.</summary>
/// <param name="Chosen">At the proposed places.</param>
/// <param name="Spread">At places spread over the region.</param>
/// <param name="AtRandom">At places drawn at random, in the mean of draws.</param>
/// <param name="AtRandomLower">The 10th percentile of the draws.</param>
public sealed record SiteStep(int Sites, double Chosen, double Spread, double AtRandom, double AtRandomLower, double AtRandomUpper);

/// <summary>The parts of the half-width of the means now, on the scale of ln k; of several means the root of the mean square.</summary>
/// <param name="Model">From the choice of sites, which new sites lower.</param>
/// <param name="Shared">From lots, which more sites of the same lots never lower, and the batches of existing sites, which those of new
/// batches do lower; left as it is all the same.</param>
/// <param name="Local">From what places are off by, after what existing sites tell of it where residuals are kriged.</param>
/// <param name="IsKriged">Whether new sites are taken to lower that too.</param>
public sealed record SiteParts(double Model, double Shared, double Local, bool IsKriged = false)
{
    public double Sum => With(1);

    /// <summary>What no number of sites brings it below, lots and batches left as they are.</summary>
    public double Floor => With(0);

    /// <param name="share">That is left of the variance that sites lower.</param>
    internal double With(double share) => Math.Sqrt(Model * Model * share + Local * Local * (IsKriged ? share : 1) + Shared * Shared);
}

/// <summary>How the squares of the regions came to be asked, or not.</summary>
/// <param name="Squares">With a prediction.</param>
/// <param name="Asked">With a place that could be proposed.</param>
/// <param name="OutsideApplicability">Left out since all of the square lies outside the area of applicability.</param>
/// <param name="NearSites">Left out since all cells tried lie too near a site.</param>
/// <param name="Avoided">Left out since the cells tried lie in what is to be avoided, by its name.</param>
public sealed record SiteTally(int Squares, int Asked, int OutsideApplicability, int NearSites, IReadOnlyDictionary<string, int> Avoided);

/// <summary>Where to bury next so that the means of regions are surer.</summary>
public sealed record SitePlan(
    IReadOnlyList<string> Regions, string ModelId, string ReleaseId, double Level, SiteParts Now, IReadOnlyList<SiteStep> Steps,
    IReadOnlyList<ProposedSite> Sites, SiteTally Tally, IReadOnlyList<CardCovariate> Covariates)
{
    /// <summary>A half-width of ln k as it is told: by how many per cent of it the mean may be higher.</summary>
    public static double PercentOf(double half) => 100 * (Math.Exp(half) - 1);
}
