namespace DecayAtlas.Questions.Slopes;

/// <summary>A change over campaigns.</summary>
/// <param name="Over">all, or of two that are held apart: within-sites and between-sites.</param>
/// <param name="PerYear">Of k the ratio of one year to the year before, of S the difference, with its 95 % interval.</param>
/// <param name="PValue">Two-sided, under no change.</param>
public sealed record TrendSlope(string Over, IntervalEstimate PerYear, double PValue, double DegreesOfFreedom)
{
    internal const string All = "all", WithinSites = "within-sites", BetweenSites = "between-sites";
}

/// <summary>A campaign as a trend takes it.</summary>
/// <param name="MeanDay">Over its burials.</param>
/// <param name="NewSites">That no earlier campaign has.</param>
public sealed record TrendCampaign(string Campaign, DateOnly MeanDay, int Burials, int Sites, int NewSites);

/// <summary>What a release says of change over its campaigns: numbers, or a statement why there are none.</summary>
/// <param name="SitesDugAgain">In several campaigns.</param>
/// <param name="SitesLeftOut">Sites with what is asked of where a covariate or the dates are missing or withheld.</param>
/// <param name="Campaigns">In order of their days.</param>
/// <param name="Slopes">The one that was asked for first; empty without numbers.</param>
public sealed record TrendAnswer(
    string Of, int Burials, int Sites, int SitesDugAgain, int SitesLeftOut, IReadOnlyList<TrendCampaign> Campaigns, string? Statement,
    IReadOnlyList<TrendSlope> Slopes, IReadOnlyList<string> Sentences)
{
    /// <summary>Covariates adjusted for, as straight lines.</summary>
    public IReadOnlyList<string> With { get; init; } = [];

    /// <summary>Kinds of units whose scatter the intervals hold, beside that of burials and their known errors.</summary>
    public IReadOnlyList<string> Levels { get; init; } = [];
}
