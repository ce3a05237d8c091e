namespace DecayAtlas.Questions.Plans;

/// <summary>One design of a plan, as a proposal needs it. With the mean of one site, its sites are one.</summary>
/// <param name="SitesPerGroup">In each group; of within and again, in all.</param>
/// <param name="Burials">In each plot (of each treatment) and campaign.</param>
/// <param name="ExpectedLost">Burials expected to give no value.</param>
/// <param name="Cost">Missing where no costs are given.</param>
/// <param name="Power">Chance to see the effect: simulated, or by formula where <paramref name="Simulations"/> is 0.</param>
/// <param name="PowerError">Its standard error from the number of simulated campaigns; missing without.</param>
/// <param name="SmallestEffect">Ratio of k (difference of S) that is seen with the power asked for.</param>
/// <param name="SiteHalfWidth">Half of the 95 % interval of one site's mean, in % of k or in S, from plots and burials alone.</param>
/// <param name="SiteHalfWidthOverSeasons">The same with seasons, lots and batches.</param>
public sealed record PlanRow(
    string Design, int SitesPerGroup, int SitesInAll, int Plots, int Burials, int Campaigns, int BurialsInAll, int Bags,
    double ExpectedLost, double? Cost, double? Power, double? PowerError, double? PowerByFormula, int Simulations, double? SmallestEffect,
    double SiteHalfWidth, double SiteHalfWidthOverSeasons);

/// <summary>Designs and what they see, or why that can't be said.</summary>
/// <param name="Effect">Ratio of k, or difference of S.</param>
/// <param name="Variances">Missing where a release gives none.</param>
/// <param name="Designs">Those that reach the power, or all where sites are fixed.</param>
/// <param name="Best">The cheapest of them (the one of fewest bags where no costs are given).</param>
public sealed record PlanAnswer(
    string Of, string Design, double? Effect, double WantedPower, PlanVariances? Variances, IReadOnlyList<PlanRow> Designs, PlanRow? Best,
    string? Statement, IReadOnlyList<string> Sentences);
