using System.Text.Json.Serialization;

namespace DecayAtlas.Questions.Answers;

/// <summary>One group's k, and the sites that hold it.</summary>
/// <param name="Burials">Accepted, with k above 0.</param>
/// <param name="RatePerDay">exp of the mean of ln k, at the mean of the covariates.</param>
/// <param name="Lower95PerDay">95 % interval; missing with less than one degree of freedom.</param>
public sealed record GroupRate(string Name, int Burials, int Sites, double RatePerDay, double? Lower95PerDay, double? Upper95PerDay);

/// <summary>Two groups held against each other.</summary>
/// <param name="First">The group that the second is divided by.</param>
/// <param name="Lower95">The ratio's own 95 % interval.</param>
/// <param name="DegreesOfFreedom">Satterthwaite's.</param>
/// <param name="HolmPValue">Under no difference, corrected for all pairs.</param>
/// <param name="EffectSize">Difference of ln k over the standard deviation of a single burial.</param>
/// <param name="EffectLower95">Its 95 % interval.</param>
public sealed record GroupRatio(
    string First, string Second, double Ratio, double? Lower95, double? Upper95, double DegreesOfFreedom, double? HolmPValue,
    double EffectSize, double? EffectLower95, double? EffectUpper95, string Sentence)
{
    /// <summary>Probability under no difference before the correction, which many pairs leave at 1.</summary>
    public double? PValue { get; init; }

    /// <summary>Whether the two are told apart.</summary>
    [JsonIgnore]
    public bool IsToldApart => MultipleComparisons.IsTold(HolmPValue);
}

/// <summary>How ln k moves with a covariate that was adjusted for.</summary>
public sealed record CovariateSlope(string Name, double LnRatePerUnit, double? Lower95, double? Upper95, double? PValue);

/// <summary>What a release says about groups: numbers, or a statement why there are none, what had to be left out, and what may not be
/// concluded.</summary>
public sealed record GroupAnswer(
    int Burials, int Sites, IReadOnlyList<string> LeftOut, string? Statement,
    IReadOnlyList<GroupRate> Groups, IReadOnlyList<GroupRatio> Pairs, IReadOnlyList<CovariateSlope> Covariates,
    IReadOnlyList<string> Caution)
{
    /// <summary>How the burials split over kinds of evidence; empty without numbers.</summary>
    public IReadOnlyDictionary<string, int> BurialsByEvidence { get; init; } = new Dictionary<string, int>();
}

/// <summary>
/// Asks how k differs between groups: a mixed model of ln k with the groups fixed and the site random, since the site and not the
/// burial is what a group is a sample of; campaigns within sites, and plots within them, are random too where there are several.
/// </summary>
public static class GroupQuestion
{
    public static IReadOnlyList<string> Groupings { get; } = ["ecosystem", "land_use", "management", Treatment];

    internal const string Untreated = "untreated";
    private const string Treatment = "treatment";
    private const int MostGroups = 40;

    /// <param name="by">One of <see cref="Groupings"/>.</param>
    /// <exception cref="ConfigurationException">There is no such grouping or covariate.</exception>
    public static GroupAnswer Ask(ReleasedRates rates, string by, IReadOnlyList<string> covariates)
    {
        if (!Groupings.Contains(by))
            throw new ConfigurationException($"--by is {by}, expected one of {string.Join(", ", Groupings)}.");
        List<string> leftOut = [.. rates.LeftOut()];
        ReleasedPlot[] plots = by == Treatment ? OfExperiments(rates.Plots) : [.. rates.Plots.Where(p => p.IsUntreated)];
        if (plots.Length < rates.Plots.Count)
        {
            leftOut.Add($"{BurialsOf(rates.Plots) - BurialsOf(plots)} burials of "
                + (by == Treatment ? "sites without a treated plot" : "treated plots"));
        }

        Func<ReleasedPlot, string?> groupOf = by switch
        {
            "ecosystem" => p => rates.SiteOf(p).Ecosystem,
            "land_use" => p => rates.SiteOf(p).LandUse,
            "management" => p => rates.SiteOf(p).Management,
            _ => p => p.IsUntreated ? Untreated : p.Treatment,
        };
        plots = Keep(plots, p => groupOf(p) is not null, $"whose {by} is not stated", leftOut);
        Func<ReleasedPlot, double[]?> values = rates.Covariates(covariates);
        plots = Keep(plots, p => values(p) is not null, "where a covariate is missing or withheld", leftOut);
        if (by != Treatment)
            plots = OfComparableGroups(plots, p => groupOf(p)!, leftOut);

        int sites = ReleasedRates.SitesOf(plots);
        if (plots.Length == 0)
            return Nothing($"No accepted burial with k above 0 {(by == Treatment ? "lay in a treated plot" : "is left to compare")}.");
        // plots under one treatment at one site are a unit of their own: what a treatment does may differ from site to site
        string[] levels = by == Treatment ? ["site", "treated part", "campaign", "plot"] : ["site", "campaign", "plot"];
        Answer<ComparedGroups> answer = GroupComparison.Of(
            [.. plots.Select(p =>
                new GroupValue(p.LnRateMean, groupOf(p)!, UnitsOf(p), values(p)!, p.LnRateBurials, p.LnRateSumOfSquares))],
            levels, covariates);
        if (answer.Value is not { } compared)
            return Nothing(answer.Statement!.Sentence);
        return new GroupAnswer(
            BurialsOf(plots), sites, leftOut, null,
            [.. compared.Groups
                .Select(g => new GroupRate(g.Group, g.Values, g.Sites, Math.Exp(g.Mean.Value), Exp(g.Mean.Lower95), Exp(g.Mean.Upper95)))],
            [.. compared.Differences.Select(d => RatioOf(d, by, compared.Differences.Count))],
            [.. compared.Covariates
                .Select(c => new CovariateSlope(c.Name, c.Slope.Value, c.Slope.Lower95, c.Slope.Upper95, c.Slope.PValue))],
            [.. Caution(by, covariates.Count > 0, compared), rates.NotInIntervals(plots)])
        {
            BurialsByEvidence = ReleasedRates.ByEvidence(plots),
        };

        string[] UnitsOf(ReleasedPlot p) => by == Treatment ? [p.SiteKey, groupOf(p)!, p.Campaign, p.Plot ?? ""]
            : [p.SiteKey, p.Campaign, p.Plot ?? ""];

        GroupAnswer Nothing(string statement) => new(BurialsOf(plots), sites, leftOut, statement, [], [], [], []);
    }

    /// <summary>Plots of sites that hold a treated plot: others say nothing of what the treatment does.</summary>
    private static ReleasedPlot[] OfExperiments(IReadOnlyList<ReleasedPlot> plots)
    {
        HashSet<string> experiments = [.. plots.Where(p => !p.IsUntreated).Select(p => p.SiteKey)];
        return [.. plots.Where(p => experiments.Contains(p.SiteKey))];
    }

    /// <summary>Groups of one site can't be told from that site, and with more than <see cref="MostGroups"/> no pair would stand out
    /// after correction: both are left out and named, so that the rest can be compared.</summary>
    private static ReleasedPlot[] OfComparableGroups(ReleasedPlot[] plots, Func<ReleasedPlot, string> groupOf, List<string> leftOut)
    {
        (string Group, int Sites)[] groups =
        [
            .. plots.GroupBy(groupOf, StringComparer.Ordinal).Select(g => (g.Key, ReleasedRates.SitesOf(g)))
                .OrderByDescending(g => g.Item2).ThenBy(g => g.Key, StringComparer.Ordinal),
        ];
        HashSet<string> kept = [.. groups.Where(g => g.Sites > 1).Take(MostGroups).Select(g => g.Group)];
        string[] dropped = [.. groups.Select(g => g.Group).Where(g => !kept.Contains(g)).Order(StringComparer.Ordinal)];
        if (kept.Count < 2 || dropped.Length == 0)
            return plots;
        string beyond = groups.Count(g => g.Sites > 1) > MostGroups ? $", and all but the {MostGroups} with most sites" : "";
        leftOut.Add($"groups of one site{beyond}: {string.Join(", ", dropped)}");
        return [.. plots.Where(p => kept.Contains(groupOf(p)))];
    }

    private static ReleasedPlot[] Keep(ReleasedPlot[] plots, Func<ReleasedPlot, bool> isKept, string which, List<string> leftOut)
    {
        ReleasedPlot[] kept = [.. plots.Where(isKept)];
        if (kept.Length < plots.Length)
        {
            leftOut.Add($"{BurialsOf(plots) - BurialsOf(kept)} burials of {ReleasedRates.SitesOf(plots) - ReleasedRates.SitesOf(kept)} "
                + $"sites {which}");
        }

        return kept;
    }

    private static int BurialsOf(IEnumerable<ReleasedPlot> plots) => plots.Sum(p => p.LnRateBurials);

    private static GroupRatio RatioOf(GroupDifference d, string by, int pairs)
    {
        (string first, string second) = (Said(d.First), Said(d.Second));
        double ratio = Math.Exp(d.Difference.Value);
        double? lower = Exp(d.Difference.Lower95), upper = Exp(d.Difference.Upper95);
        string corrected = pairs > 1 ? $" after Holm's correction for {pairs} pairs" : "";
        string sentence = d.HolmPValue is not { } p
            ? $"There are too few sites to tell {second} from {first}."
            : p < 0.05
                ? Invariant($"k of {second} is {ratio:0.00} times that of {first} (95 % interval {lower:0.00} to {upper:0.00}, ")
                    + $"P {Probability(p)}{corrected})."
                : $"The data do not tell {second} from {first}: the ratio of k may lie anywhere "
                    + Invariant($"from {lower:0.00} to {upper:0.00} (P {Probability(p)}{corrected}).");
        return new GroupRatio(
            d.First, d.Second, ratio, lower, upper, d.Difference.DegreesOfFreedom, d.HolmPValue, d.EffectSize, d.EffectLower95,
            d.EffectUpper95, sentence)
        {
            PValue = d.Difference.PValue,
        };

        string Said(string group) => group == "none" ? $"no {by.Replace('_', ' ')}" : group;
    }

    /// <summary>A probability as it is written in a sentence.</summary>
    public static string Probability(double p) => p < 0.001 ? "< 0.001" : Invariant($"= {p:0.000}");

    private static string[] Caution(string by, bool isAdjusted, ComparedGroups compared)
    {
        List<string> said = new()
        {
            by == Treatment
                ? "Treatments are compared within sites. A difference may be called an effect only where treatments were allotted to "
                    + "plots by lot; how far it varies from site to site is in the interval only as far as these sites show it."
                : "Sites were not allotted to groups by lot: a difference shows that groups differ, not why. "
                    + (isAdjusted ? "Only the covariates named were adjusted for, as straight lines."
                        : "Groups differ in climate and soil as well; --with adjusts for covariates."),
            "Groups that are not told apart are not shown to be alike: the interval says how large a difference remains possible.",
        };
        if (compared.Differences.Count > 1)
            said.Add("P is corrected for all pairs; each interval stands for its own pair alone.");
        if (by != Treatment && compared.Groups.Any(g => g.Sites < 3))
            said.Add("A group has 2 sites or fewer: with 2 sites a group, intervals held the truth in 93 % of simulated cases, not 95 %.");
        return [.. said];
    }

    private static double? Exp(double? x) => x is { } value ? Math.Exp(value) : null;
}
