namespace DecayAtlas.Atlas.Tables;

/// <summary>
/// Every table of a release. A table is the attributes of its row type, one file each in this folder; all else that is told of it,
/// as the data dictionary, is made from them.
/// </summary>
public static class AtlasTables
{
    public static Table<ReleasedContribution> Contributions { get; } = new();

    public static Table<ReleasedSite> Sites { get; } = new();

    public static Table<ReleasedLot> Lots { get; } = new();

    public static Table<ReleasedBag> Bags { get; } = new();

    public static Table<ReleasedBurial> Burials { get; } = new();

    public static Table<ReleasedResult> Results { get; } = new();

    public static Table<ReleasedSiteCampaign> SiteCampaigns { get; } = new();

    public static Table<ReleasedPlot> Plots { get; } = new();

    public static Table<ReleasedSharedError> SharedErrors { get; } = new();

    public static Table<ReleasedCurve> Curves { get; } = new();

    public static Table<ReleasedCovariate> Covariates { get; } = new();

    public static Table<ReleasedBurialCovariate> BurialCovariates { get; } = new();

    public static Table<ReleasedCampaignCovariate> CampaignCovariates { get; } = new();

    public static Table<ReleasedFlag> Flags { get; } = new();

    public static Table<ReleasedDecision> Decisions { get; } = new();

    public static Table<ReleasedSample> Samples { get; } = new();

    public static Table<ReleasedNoted> Noted { get; } = new();

    public static Table<ReleasedNotedSiteCampaign> NotedSiteCampaigns { get; } = new();

    public static Table<ReleasedSiteValue> SiteValues { get; } = new();

    public static Table<ReleasedVariance> Variance { get; } = new();

    public static Table<ReleasedComparison> Comparisons { get; } = new();

    public static Table<ReleasedGroup> Groups { get; } = new();

    public static Table<ReleasedAgreement> Agreement { get; } = new();

    public static Table<ReleasedCalibration> Calibration { get; } = new();

    public static Table<ReleasedWarmth> Warmth { get; } = new();

    public static Table<ReleasedTrend> Trend { get; } = new();

    public static Table<ReleasedSensitivity> Sensitivity { get; } = new();

    public static Table<ReleasedNotedAnswer> NotedAnswers { get; } = new();

    public static Table<ReleasedWord> Words { get; } = new();

    /// <summary>All tables, in the order a reader meets them.</summary>
    public static IReadOnlyList<Table> All { get; } =
    [
        Contributions, Sites, Lots, Bags, Burials, Results, SiteCampaigns, Plots, SharedErrors, Curves, Covariates, BurialCovariates,
        CampaignCovariates, Flags, Decisions, Samples, Noted, NotedSiteCampaigns, SiteValues, Variance, Groups, Comparisons, Agreement,
        Calibration, Warmth, Trend, NotedAnswers, Sensitivity, Words,
    ];

    public static Table OfFile(string file)
    {
        string table = file[..file.IndexOf('/', StringComparison.Ordinal)];
        return All.First(t => t.Name == table);
    }
}
