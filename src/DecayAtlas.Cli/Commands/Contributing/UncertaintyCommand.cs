using System.ComponentModel;
using Spectre.Console;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Contributing;

/// <summary>Propagates distributions through every burial of a contribution, and bootstraps the mean of each of its sites.</summary>
internal sealed class UncertaintyCommand(Screen screen) : PlainCommand<UncertaintyCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<PATH>")]
        [Description("A contribution: folder, .zip, .xlsx, or a wide table with its mapping beside it.")]
        public required string Path { get; init; }

        [CommandOption("--configuration <FILE>")]
        [Description("Pipeline configuration whose assumptions are used; without it, the defaults.")]
        public string? Configuration { get; init; }

        [CommandOption("--draws <NUMBER>")]
        [Description("Monte Carlo draws of each burial.")]
        [DefaultValue(10_000)]
        public int Draws { get; init; }

        [CommandOption("--resamples <NUMBER>")]
        [Description("Bootstrap resamples of each site.")]
        [DefaultValue(4000)]
        public int Resamples { get; init; }

        [CommandOption("--seed <SEED>")]
        [Description("The same seed gives the same numbers.")]
        [DefaultValue(1)]
        public int Seed { get; init; }

        [CommandOption("--json")]
        [Description("Print the result as JSON and nothing else.")]
        public bool Json { get; init; }
    }

    public override ValidationResult Validate(CommandContext context, Settings settings) =>
        settings.Draws is < 1000 or > 10_000_000 ? ValidationResult.Error("--draws must be 1000 to 10000000")
        : settings.Resamples is < 1000 or > 1_000_000 ? ValidationResult.Error("--resamples must be 1000 to 1000000")
        : settings.Seed < 0 ? ValidationResult.Error("--seed must be 0 or more")
        : ValidationResult.Success();

    protected override int Execute(Settings settings)
    {
        if (!File.Exists(settings.Path) && !Directory.Exists(settings.Path))
            throw new ConfigurationException($"There is nothing at {settings.Path}; correct the path.");
        MeasurementAssumptions assumptions =
            settings.Configuration is { } file ? ConfigurationReader.Read(file).Assumptions : MeasurementAssumptions.Default;
        if (ContributionReader.Read(settings.Path, IntakeLimits.Default).Contribution is not { } contribution)
        {
            screen.ErrorLine($"{settings.Path} is no contribution that can be computed; decayatlas check says what is wrong with it.");
            return RecordedRun.NeedsPerson;
        }

        if (contribution.Bags.Count == 0 && !settings.Json)
        {
            screen.Line($"{contribution.Header.ContributionId} holds results and no bags: distributions are propagated through weighings "
                + "alone, and what its means give is in a release.");
            return RecordedRun.Done;
        }

        ContributionUncertainty answer = UncertaintyQuestion.Ask(
            contribution, assumptions, new MonteCarloOptions(settings.Draws, (ulong)settings.Seed), settings.Resamples);
        if (settings.Json)
        {
            screen.Json(answer);
            return RecordedRun.Done;
        }

        screen.Line($"Burials of {contribution.Header.ContributionId}: u to first order, and its three parts; the 95 % interval of the "
            + $"release, and that of {settings.Draws} draws (JCGM 101:2008). k per day.");
        screen.Table(
            [
                "burial", "k", "u(k)", "of the bag", "batch", "lot", "u(k) drawn", "lower", "upper", "lower drawn", "upper drawn", "S",
                "u(S)", "u(S) drawn", "cov(k, S)", "drawn", "note",
            ],
            answer.Burials.Select(Row));
        screen.Line("Geometric mean of k of sites: the interval of the release (replicates, batches and lots), and a bootstrap of "
            + $"{settings.Resamples} resamples. In no mean: k of 0 or below, and burials at the plateau.");
        screen.Table(
            ["site", "treatment", "n", "unit", "mean", "lower", "upper", "bootstrap lower", "upper", "k <= 0", "at plateau", "note"],
            answer.Sites.Select(Row));
        return RecordedRun.Done;
    }

    private static string[] Row(BurialUncertainty b) => b is { FirstOrder: { } first, Drawn: { } drawn }
        ?
        [
            b.BurialId, Rate(first.RatePerDay.Value), Rate(first.RatePerDay.Uncertainty),
            Rate(first.RatePerDay.UncertaintyBag), Rate(first.RatePerDay.UncertaintyBatch), Rate(first.RatePerDay.UncertaintyLot),
            Rate(drawn.RatePerDay.Uncertainty),
            Rate(b.Released?.Lower95PerDay), Rate(b.Released?.Upper95PerDay), Rate(drawn.RatePerDay.Lower95),
            Rate(drawn.RatePerDay.Upper95), $"{first.StabilisationFactor.Value:0.000}",
            $"{first.StabilisationFactor.Uncertainty:0.000}", $"{drawn.StabilisationFactor.Uncertainty:0.000}",
            $"{first.Covariance:0.0e0}", $"{drawn.Covariance:0.0e0}",
            drawn.ShareUndefined > 0 ? $"{drawn.ShareUndefined:0.00%} of the draws have no k" : "",
        ]
        :
        [
            b.BurialId, "", "", "", "", "", "", Rate(b.Released?.Lower95PerDay), "", "", "", "", "", "", "", "",
            b.Released?.AtLeastPerDay is { } least ? $"{b.MissingBecause}: k is at least {Rate(least)}" : b.MissingBecause ?? "",
        ];

    private static string[] Row(SiteUncertainty s) =>
    [
        s.SiteId, s.Treatment ?? "", $"{s.Interval?.Units ?? s.Burials}", s.Interval?.Unit == ReplicationUnit.Plot ? "plot" : "burial",
        OfLog(s.Interval?.Mean), OfLog(s.Interval?.Lower95), OfLog(s.Interval?.Upper95), OfLog(s.Bootstrap?.Lower95),
        OfLog(s.Bootstrap?.Upper95), $"{s.NotPositive}", $"{s.AtPlateau}", s.NoInterval ?? s.NoBootstrap ?? "",
    ];

    private static string OfLog(double? lnRate) => Rate(lnRate is { } known ? Math.Exp(known) : null);

    private static string Rate(double? value) => $"{value:0.00000}";
}
