using System.Text.Json.Serialization;

namespace DecayAtlas.Questions.Answers;

/// <summary>One group's k or S, and the sites that hold it.</summary>
/// <param name="Burials">Accepted, with what is asked of.</param>
/// <param name="Value">Of k exp of the mean of ln k (d⁻¹), of S its mean (1), at the mean of the covariates.</param>
/// <param name="Lower95">95 % interval; missing with less than one degree of freedom.</param>
public sealed record GroupLevel(string Name, int Burials, int Sites, double Value, double? Lower95, double? Upper95);

/// <summary>Two groups held against each other, the second having the larger mean.</summary>
/// <param name="Contrast">Of k the ratio second / first, of S the difference second - first.</param>
/// <param name="Lower95">Its own 95 % interval.</param>
/// <param name="DegreesOfFreedom">By Kenward and Roger.</param>
/// <param name="HolmPValue">Under no difference, corrected for all pairs of the question.</param>
/// <param name="EffectSize">Difference of ln k or S over the standard deviation of a single burial, its known errors left out.</param>
/// <param name="EffectLower95">Its 95 % interval.</param>
public sealed record GroupPair(
    string First, string Second, double Contrast, double? Lower95, double? Upper95, double DegreesOfFreedom, double? HolmPValue,
    double EffectSize, double? EffectLower95, double? EffectUpper95, string Sentence)
{
    /// <summary>Probability under no difference before the correction, which many pairs leave at 1.</summary>
    public double? PValue { get; init; }

    /// <summary>Corrected for all pairs that the release compares; missing where this question is none of the release's.</summary>
    public double? FamilyPValue { get; init; }

    /// <summary>Whether the two are told apart, among all pairs of the release where that is known.</summary>
    [JsonIgnore]
    public bool IsToldApart => MultipleComparisons.IsTold(FamilyPValue ?? HolmPValue);

    /// <summary>Whether they would be among the pairs of this question alone.</summary>
    [JsonIgnore]
    public bool IsToldApartInItsQuestion => MultipleComparisons.IsTold(HolmPValue);
}

/// <summary>How ln k or S moves with one unit of a covariate that was adjusted for.</summary>
public sealed record CovariateSlope(string Name, double PerUnit, double? Lower95, double? Upper95, double? PValue);

/// <summary>What a release says about groups: numbers, or a statement why there are none, what had to be left out, and what may not be
/// concluded.</summary>
/// <param name="Groups">The largest mean first; pairs in the same order.</param>
public sealed record GroupAnswer(
    string Of, int Burials, int Sites, IReadOnlyList<string> LeftOut, string? Statement,
    IReadOnlyList<GroupLevel> Groups, IReadOnlyList<GroupPair> Pairs, IReadOnlyList<CovariateSlope> Covariates,
    IReadOnlyList<string> Caution)
{
    /// <summary>What the groups are of, one of <see cref="GroupQuestion.Groupings"/>.</summary>
    public required string By { get; init; }

    /// <summary>How many of its pairs are told apart, in words.</summary>
    [JsonIgnore]
    public string ToldApart => (Pairs.Count(p => p.IsToldApart), Pairs.Count) switch
    {
        (0, 1) => "the pair is not told apart",
        (1, 1) => "the pair is told apart",
        (0, int all) => $"none of {all} pairs is told apart",
        (1, int all) => $"1 of {all} pairs is told apart",
        (int told, int all) when told == all => $"all {all} pairs are told apart",
        (int told, int all) => $"{told} of {all} pairs are told apart",
    };

    /// <summary>Kinds of units whose scatter the intervals hold, beside that of burials and their known errors.</summary>
    public IReadOnlyList<string> Levels { get; init; } = [];

    /// <summary>How the burials split over kinds of evidence; empty without numbers.</summary>
    public IReadOnlyDictionary<string, int> BurialsByEvidence { get; init; } = new Dictionary<string, int>();
}

/// <summary>
/// Asks how k or S differs between groups, by the joint model with the groups fixed and the site random, since the site and not the burial
/// is what a group is a sample of; seasons, campaigns at sites and plots are random too where there are several.
/// </summary>
public static class GroupQuestion
{
    public static IReadOnlyList<string> Groupings { get; } = [.. StatedWord.All.Select(w => w.Name), Treatment];

    internal const string Untreated = "untreated";
    private const string Treatment = "treatment";
    private const int MostGroups = 40;

    /// <param name="by">One of <see cref="Groupings"/>.</param>
    /// <exception cref="ConfigurationException">There is no such grouping or covariate.</exception>
    public static GroupAnswer Ask(ReleasedRates rates, string by, IReadOnlyList<string> covariates, AskedOf of = AskedOf.Rate)
    {
        if (!Groupings.Contains(by))
            throw new ConfigurationException($"--by is {by}, expected one of {string.Join(", ", Groupings)}.");
        List<string> leftOut = [.. rates.LeftOut(of)];
        ReleasedPlot[] all = [.. rates.Rows], plots = by == Treatment ? OfExperiments(all) : [.. all.Where(p => p.IsUntreated)];
        if (BurialsOf(all) > BurialsOf(plots))
        {
            leftOut.Add($"{Counted.Of(BurialsOf(all) - BurialsOf(plots), "burial")} of "
                + (by == Treatment ? "sites without a treated plot" : "treated plots"));
        }

        Func<ReleasedPlot, string?> groupOf = StatedWord.Find(by) is { } word ? p => word.Of(rates.SiteOf(p))
            : p => p.IsUntreated ? Untreated : p.Treatment;
        plots = Keep(plots, p => groupOf(p) is not null, $"whose {by} is not stated");
        Func<ReleasedPlot, double[]?> values = rates.Covariates(covariates);
        plots = Keep(plots, p => values(p) is not null, "where a covariate is missing or withheld");
        if (by != Treatment)
            plots = OfComparableGroups(plots, p => groupOf(p)!, leftOut);

        ReleasedPlot[] asked = [.. plots.Where(p => JointModel.Has(p, of))];
        int sites = ReleasedRates.SitesOf(asked);
        if (asked.Length == 0)
        {
            return Nothing($"No accepted burial with {(of == AskedOf.Rate ? "k above 0" : "S")} "
                + $"{(by == Treatment ? "lay in a treated plot" : "is left to compare")}.");
        }

        string[] groups = [.. asked.Select(p => groupOf(p)!).Distinct().Order(StringComparer.Ordinal)];
        if (Obstacle(asked, groupOf, groups) is { } obstacle)
            return Nothing(obstacle);
        plots = [.. plots.Where(p => groups.Contains(groupOf(p)))];
        double[] centre = [.. covariates.Select((_, c) => plots.Sum(p => p.Burials * values(p)![c]) / plots.Sum(p => p.Burials))];
        // plots under one treatment at one site are a unit of their own: what a treatment does may differ from site to site
        UnitLevel treated = new("treated part", p => $"{p.SiteKey}\u001f{groupOf(p)}");
        string question = $"by {by} with {string.Join(", ", covariates)}: {string.Join(", ", groups)}";
        UnitLevel[] below = by == Treatment ? [UnitLevel.Site, treated] : [UnitLevel.Site];
        CampaignEffects seasons = CampaignEffects.Of(plots);
        Answer<JointModel> answer = Fit(seasons);
        // where groups lie in seasons of their own, these can't be taken off
        if (answer.Value is null && seasons.Count > 0)
            answer = Fit(seasons = CampaignEffects.None);
        if (answer.Value is not { } model)
            return Nothing(answer.Statement!.Sentence);
        return Describe(model);

        Answer<JointModel> Fit(CampaignEffects taken) => JointModel.Fit(
            rates, $"{question} {taken.Count}", plots,
            [.. below, .. taken.Count > 0 ? [] : (UnitLevel[])[UnitLevel.Campaign], UnitLevel.CampaignAtSite, UnitLevel.Plot],
            p => [.. groups.Select(g => g == groupOf(p) ? 1.0 : 0), .. values(p)!.Select((v, c) => v - centre[c]), .. taken.RowOf(p)], of);

        GroupAnswer Describe(JointModel model)
        {
            ILookup<string, ReleasedPlot> byGroup = asked.ToLookup(p => groupOf(p)!, StringComparer.Ordinal);
            int width = groups.Length + covariates.Count + seasons.Count;
            (string Name, FixedEffect Mean, int At)[] means =
            [
                .. groups.Select((g, i) => (g, model.Effect(Contrast(width, i)), i)).OrderByDescending(g => g.Item2.Value)
                    .ThenBy(g => g.g, StringComparer.Ordinal),
            ];
            double sd = Math.Sqrt(model.Variances.Sum(v => v.Variance));
            (string First, string Second, FixedEffect Effect)[] pairs =
            [
                .. means.SelectMany((second, i) => means.Skip(i + 1)
                    .Select(first => (first.Name, second.Name, model.Effect(Contrast(width, second.At, first.At))))),
            ];
            // a pair without a probability still counts as a comparison made
            double[] holm = MultipleComparisons.Holm([.. pairs.Select(x => x.Effect.PValue ?? 1)]);
            return new GroupAnswer(
                of.Code(), BurialsOf(asked), sites, leftOut, null,
                [.. means.Select(g => new GroupLevel(
                    g.Name, BurialsOf(byGroup[g.Name]), ReleasedRates.SitesOf(byGroup[g.Name]), Told(g.Mean.Value),
                    ToldOrNot(g.Mean.Lower95), ToldOrNot(g.Mean.Upper95)))],
                [.. pairs.Select((x, i) => PairOf(x.First, x.Second, x.Effect, holm[i], pairs.Length, sd))],
                [.. covariates.Select((c, j) => (Name: c, Slope: model.Effect(Contrast(width, groups.Length + j)))).Select(
                    c => new CovariateSlope(c.Name, c.Slope.Value, c.Slope.Lower95, c.Slope.Upper95, c.Slope.PValue))],
                [.. JointModel.AtLeastOf(plots) is > 0 and int atLeast && of == AskedOf.Rate
                        ? (string[])[$"k of {atLeast} burials at their plateau is taken as at least a number (k_at_least_per_day)."] : [],
                    .. Caution(by, covariates.Count > 0, pairs.Length, groups.Any(g => ReleasedRates.SitesOf(byGroup[g]) < 3)),
                    ReleasedRates.InIntervals])
            {
                By = by,
                Levels = [.. model.Levels, .. seasons.Count > 0 ? (string[])["campaign (as fixed)"] : []],
                BurialsByEvidence = ReleasedRates.ByEvidence(asked, of),
            };
        }

        GroupPair PairOf(string first, string second, FixedEffect d, double holm, int pairs, double sd) => new(
            first, second, Told(d.Value), ToldOrNot(d.Lower95), ToldOrNot(d.Upper95), d.DegreesOfFreedom, d.PValue is null ? null : holm,
            d.Value / sd, d.Lower95 / sd, d.Upper95 / sd, SentenceOf(first, second, d, holm, pairs, by, of))
        {
            PValue = d.PValue,
        };

        double Told(double x) => of == AskedOf.Rate ? Math.Exp(x) : x;

        double? ToldOrNot(double? x) => x is { } value ? Told(value) : null;

        int BurialsOf(IEnumerable<ReleasedPlot> plots) => plots.Sum(p => JointModel.BurialsOf(p, of));

        ReleasedPlot[] Keep(ReleasedPlot[] plots, Func<ReleasedPlot, bool> isKept, string which)
        {
            ReleasedPlot[] kept = [.. plots.Where(isKept)];
            if (BurialsOf(kept) < BurialsOf(plots))
            {
                int gone = ReleasedRates.SitesOf(plots.Where(p => JointModel.Has(p, of)))
                    - ReleasedRates.SitesOf(kept.Where(p => JointModel.Has(p, of)));
                leftOut.Add($"{Counted.Of(BurialsOf(plots) - BurialsOf(kept), "burial")} of {Counted.Of(gone, "site")} {which}");
            }

            return kept;
        }

        GroupAnswer Nothing(string statement) =>
            new(of.Code(), BurialsOf(plots), sites, leftOut, statement, [], [], [], []) { By = by };
    }

    private static string? Obstacle(ReleasedPlot[] plots, Func<ReleasedPlot, string?> groupOf, string[] groups)
    {
        if (groups.Length < 2)
            return "All burials belong to one group: there is nothing to compare.";
        if (ReleasedRates.SitesOf(plots) < 2)
            return "There is 1 site; at least 2 are needed.";
        bool isWithinSites = plots.GroupBy(p => p.SiteKey).Any(g => g.Select(groupOf).Distinct().Count() > 1);
        string? single = isWithinSites ? null : groups.FirstOrDefault(g => ReleasedRates.SitesOf(plots.Where(p => groupOf(p) == g)) < 2);
        return single is null ? null
            : $"Group {single} has one site only: what is due to the group can't be told from what is due to that site; at least 2 are "
                + "needed in each group.";
    }

    private static double[] Contrast(int count, int plus, int minus = -1)
    {
        double[] c = new double[count];
        c[plus] = 1;
        if (minus >= 0)
            c[minus] = -1;
        return c;
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

    private static string SentenceOf(string first, string second, FixedEffect d, double holm, int pairs, string by, AskedOf of)
    {
        (string one, string other) = (NameOf(by, first), NameOf(by, second));
        string corrected = pairs > 1 ? $" after Holm's correction for {pairs} pairs" : "";
        if (d.PValue is null)
            return $"There are too few sites to tell {other} from {one}.";
        string p = $"P {Probability(holm)}{corrected}";
        if (of == AskedOf.Rate)
        {
            (double ratio, double lower, double upper) = (Math.Exp(d.Value), Math.Exp(d.Lower95!.Value), Math.Exp(d.Upper95!.Value));
            return MultipleComparisons.IsTold(holm)
                ? Invariant($"k of {other} is {ratio:0.00} times that of {one} (95 % interval {lower:0.00} to {upper:0.00}, {p}).")
                : $"The data do not tell {other} from {one}: the ratio of k may lie anywhere "
                    + Invariant($"from {lower:0.00} to {upper:0.00} ({p}).");
        }

        return MultipleComparisons.IsTold(holm)
            ? Invariant($"S of {other} is {d.Value:0.000} higher than that of {one} (95 % interval {d.Lower95:0.000} to ")
                + Invariant($"{d.Upper95:0.000}, {p}).")
            : $"The data do not tell {other} from {one}: the difference of S may lie anywhere "
                + Invariant($"from {d.Lower95:0.000} to {d.Upper95:0.000} ({p}).");
    }

    /// <summary>A group as sentences and figures name it: "none" alone does not say of what.</summary>
    public static string NameOf(string by, string group) =>
        group != "none" ? group : by == "management" ? "not managed" : $"no {by.Replace('_', ' ')}";

    /// <summary>A probability as it is written in a sentence.</summary>
    public static string Probability(double p) => p < 0.001 ? "< 0.001" : Invariant($"= {p:0.000}");

    private static string[] Caution(string by, bool isAdjusted, int pairs, bool hasSmallGroup)
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
        if (pairs > 1)
            said.Add("P is corrected for all pairs of this question; each interval stands for its own pair alone.");
        if (by != Treatment && hasSmallGroup)
            said.Add("A group has 2 sites or fewer: how much its sites scatter is taken from the other groups as well.");
        return [.. said];
    }
}
