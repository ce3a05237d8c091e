using System.ComponentModel;
using System.Globalization;
using System.Text.RegularExpressions;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>What a plan is asked for, on the command line.</summary>
internal sealed partial class PlanSettings : CommandSettings
{
    [CommandArgument(0, "[FILE]")]
    [Description("Pipeline configuration (YAML); its current release gives the variances.")]
    public string? File { get; init; }

    [CommandOption("--of <OUTCOME>")]
    [Description("k (a ratio, --ratio) or s (a difference of S, --difference).")]
    [DefaultValue("k")]
    public string Of { get; init; } = "k";

    [CommandOption("--design <DESIGN>")]
    [Description("between (two groups of sites), within (two treatments at each site), again (the change of the same sites over campaigns) "
        + "or mean (how well the mean of one site is known).")]
    [DefaultValue("between")]
    public string Design { get; init; } = "between";

    [CommandOption("--ratio <RATIO>")]
    [Description("Ratio of k that is to be seen, for example 1.2.")]
    public double? Ratio { get; init; }

    [CommandOption("--difference <S>")]
    [Description("Difference of S that is to be seen, for example 0.03.")]
    public double? Difference { get; init; }

    [CommandOption("--power <SHARE>")]
    [Description("Chance to see it.")]
    [DefaultValue(0.8)]
    public double Power { get; init; } = 0.8;

    [CommandOption("--sites <N>")]
    [Description("Sites in each group, where they are fixed; else the fewest that reach the power are found.")]
    public int? Sites { get; init; }

    [CommandOption("--burials <N>")]
    [Description("Burials in each plot and campaign, a number or a range such as 2..6; 1..8 by default (3 for again).")]
    public string? Burials { get; init; }

    [CommandOption("--plots <N>")]
    [Description("Plots at each site (of each treatment), a number or a range.")]
    [DefaultValue("1")]
    public string Plots { get; init; } = "1";

    [CommandOption("--campaigns <N>")]
    [Description("Campaigns, a number or a range; 1 by default (3..8 for again).")]
    public string? Campaigns { get; init; }

    [CommandOption("--loss <SHARE>")]
    [Description("Share of burials that will be lost or give no value, for example 0.1.")]
    public double Loss { get; init; }

    [CommandOption("--dropout <SHARE>")]
    [Description("Share of sites that leave between one campaign and the next.")]
    public double Dropout { get; init; }

    [CommandOption("--own <WHAT>")]
    [Description("What the two sides do not share: lots, batches, or both joined by a comma. Its shared error then counts.")]
    public string? Own { get; init; }

    [CommandOption("--variances <LIST>")]
    [Description("Variances of ln k (of S), in place of those of the release or instead of one: site, campaign (seasons), "
        + "campaign-at-site, treatment-at-site, plot, burial, each with its 95 % interval where known, as in "
        + "site=0.04:0.02..0.09,burial=0.02; lot and batch are standard uncertainties that all their bags share, as a share of k (of "
        + "S).")]
    public string? Variances { get; init; }

    [CommandOption("--cost-bag <COST>")]
    [Description("Cost of one bag.")]
    public double? CostBag { get; init; }

    [CommandOption("--cost-site <COST>")]
    [Description("Cost of one site in one campaign, whatever its bags.")]
    public double? CostSite { get; init; }

    [CommandOption("--cost-campaign <COST>")]
    [Description("Cost of one campaign, whatever its sites.")]
    public double? CostCampaign { get; init; }

    [CommandOption("--simulations <N>")]
    [Description("Campaigns to simulate for each design; by default the best alone, as often as a few seconds allow. 0 for none.")]
    public int? Simulations { get; init; }

    [CommandOption("--seed <N>")]
    [Description("Seed of the simulations.")]
    [DefaultValue(1UL)]
    public ulong Seed { get; init; } = 1;

    [CommandOption("--figure <PATH>")]
    [Description("Draw power against sites to a .svg or .png file.")]
    public string? Figure { get; init; }

    [CommandOption("--csv <PATH>")]
    [Description("Write the table of designs to a CSV file.")]
    public string? Csv { get; init; }

    [CommandOption("--json")]
    [Description("Print the result as JSON and nothing else.")]
    public bool Json { get; init; }

    /// <exception cref="ConfigurationException">Something asked for makes no sense.</exception>
    public PlanRequest Request()
    {
        AskedOf of = AskedOfNames.Parse(Of);
        if (!PlanQuestion.Designs.TryGetValue(Design, out PlannedComparison? comparison))
            throw new ConfigurationException($"--design is {Design}, expected one of {string.Join(", ", PlanQuestion.Designs.Keys)}.");
        if (!(Power > 0.05 && Power < 1))
            throw new ConfigurationException("--power must lie above 0.05 and below 1, for example --power 0.8.");
        bool isAgain = comparison == PlannedComparison.Again;
        PlanRequest request = new(of, comparison, comparison is null ? null : Effect(of))
        {
            Power = Power,
            SitesPerGroup = Sites is { } sites ? Between("--sites", sites, 2, Planner.MostSites) : null,
            Burials = Range("--burials", Burials ?? (isAgain ? "3" : "1..8"), 100),
            Plots = Range("--plots", Plots, 20),
            Campaigns = Range("--campaigns", Campaigns ?? (isAgain ? "3..8" : "1"), 30),
            Loss = Share("--loss", Loss),
            Dropout = Share("--dropout", Dropout),
            HasOwnLots = Owns("lots"),
            HasOwnBatches = Owns("batches"),
            Costs = CostBag is null && CostSite is null && CostCampaign is null ? null
                : new PlanCosts(Cost("--cost-bag", CostBag), Cost("--cost-site", CostSite), Cost("--cost-campaign", CostCampaign)),
            Simulations = Simulations is { } n ? Between("--simulations", n, 0, 1_000_000) : null,
            Seed = Seed,
        };
        if (request.Burials.Count * request.Plots.Count * request.Campaigns.Count > 60)
            throw new ConfigurationException("--burials, --plots and --campaigns make more than 60 designs; narrow a range.");
        if (Figure is { } path && FigureFile.FormatOf(path) is null)
            throw new ConfigurationException($"--figure is {path}, expected a name that ends in .svg or .png.");
        return request;
    }

    /// <summary>Puts the variances that are stated in the place of others.</summary>
    public PlanVariances Stated(PlanVariances variances)
    {
        foreach (string entry in (Variances ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            Match match = Entry().Match(entry);
            if (!match.Success)
            {
                throw new ConfigurationException($"--variances has {entry}, expected a name, = and a number, with its interval where it "
                    + "has one, for example site=0.04:0.02..0.09.");
            }

            double Number(string group) => double.TryParse(match.Groups[group].Value, CultureInfo.InvariantCulture, out double x) && x >= 0
                && double.IsFinite(x) ? x : throw new ConfigurationException($"--variances has {entry}, expected numbers of 0 or more.");
            double value = Number("value");
            bool hasInterval = match.Groups["lower"].Success;
            VariancePart part = hasInterval ? new VariancePart(value, Number("lower"), Number("upper")) : new VariancePart(value);
            if (hasInterval && !(part.Lower95 <= value && value <= part.Upper95))
                throw new ConfigurationException($"--variances has {entry}, expected the value inside its interval.");
            variances = match.Groups["name"].Value switch
            {
                "site" => variances with { Site = part },
                "campaign" => variances with { Campaign = part },
                "campaign-at-site" => variances with { CampaignAtSite = part },
                "treatment-at-site" => variances with { TreatmentAtSite = part },
                "plot" => variances with { Plot = part },
                "burial" => variances with { Burial = part },
                "lot" => variances with { LotError = value },
                "batch" => variances with { BatchError = value },
                string name => throw new ConfigurationException($"--variances names {name}, expected site, campaign, campaign-at-site, "
                    + "treatment-at-site, plot, burial, lot or batch."),
            };
        }

        if (!(variances.Burial.Variance + variances.Site.Variance > 0))
            throw new ConfigurationException("--variances must give site or burial, and not both 0, for example site=0.04,burial=0.02.");
        return variances;
    }

    private double Effect(AskedOf of)
    {
        if (of == AskedOf.Stabilisation)
        {
            return Ratio is null && Difference is { } d && double.IsFinite(d) && d != 0 && Math.Abs(d) < 1 ? d
                : throw new ConfigurationException(
                    "--difference must name the difference of S to be seen, a number between -1 and 1 that is not 0, for example "
                    + "--difference 0.03; --ratio is for k.");
        }

        return Difference is null && Ratio is { } ratio && ratio > 0 && ratio != 1 && double.IsFinite(ratio) ? ratio
            : throw new ConfigurationException(
                "--ratio must name the ratio of k to be seen, a number above 0 that is not 1, for example --ratio 1.2; --difference is for "
                + "--of s.");
    }

    private bool Owns(string what)
    {
        string[] own = (Own ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        return own.FirstOrDefault(o => o is not ("lots" or "batches")) is { } other
            ? throw new ConfigurationException($"--own is {other}, expected lots, batches or both joined by a comma.") : own.Contains(what);
    }

    private static double Share(string option, double value) => value >= 0 && value < 0.95 ? value
        : throw new ConfigurationException($"{option} must be a share of 0 or more and below 0.95, for example {option} 0.1.");

    private static double Cost(string option, double? value) => value is null ? 0 : value >= 0 && double.IsFinite(value.Value) ? value.Value
        : throw new ConfigurationException($"{option} must be a number of 0 or more.");

    private static int Between(string option, int value, int least, int most) => value >= least && value <= most ? value
        : throw new ConfigurationException($"{option} must be a whole number from {least} to {most}.");

    private static int[] Range(string option, string text, int most)
    {
        string[] ends = text.Split("..");
        if (ends.Length > 2 || !int.TryParse(ends[0], CultureInfo.InvariantCulture, out int from)
            || !int.TryParse(ends[^1], CultureInfo.InvariantCulture, out int to) || from > to)
        {
            throw new ConfigurationException($"{option} is {text}, expected a number or a range such as 2..6.");
        }

        return [.. Enumerable.Range(Between(option, from, 1, most), Between(option, to, 1, most) - from + 1)];
    }

    [GeneratedRegex(@"^(?<name>[a-z-]+)=(?<value>[0-9.eE+-]+?)(:(?<lower>[0-9.eE+-]+?)\.\.(?<upper>[0-9.eE+-]+))?$",
        RegexOptions.CultureInvariant | RegexOptions.NonBacktracking)]
    private static partial Regex Entry();
}
