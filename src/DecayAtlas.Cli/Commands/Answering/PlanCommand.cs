using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>Says how many sites and burials show a stated difference between two groups.</summary>
internal sealed class PlanCommand(Screen screen) : PlainCommand<PlanCommand.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "[FILE]")]
        [Description("Pipeline configuration (YAML); its current release gives the variances.")]
        public string? File { get; init; }

        [CommandOption("--ratio <RATIO>")]
        [Description("Ratio of k between the two groups that is to be seen, for example 1.2.")]
        public double? Ratio { get; init; }

        [CommandOption("--power <SHARE>")]
        [Description("Chance to see it.")]
        [DefaultValue(0.8)]
        public double Power { get; init; } = 0.8;

        [CommandOption("--site-variance <VARIANCE>")]
        [Description("Instead of a release: variance of ln k between sites of one group.")]
        public double? SiteVariance { get; init; }

        [CommandOption("--burial-variance <VARIANCE>")]
        [Description("Instead of a release: variance of ln k between burials of one site.")]
        public double? BurialVariance { get; init; }

        [CommandOption("--json")]
        [Description("Print the result as JSON and nothing else.")]
        public bool Json { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (settings.Ratio is not { } ratio || !(ratio > 0) || ratio == 1 || !double.IsFinite(ratio))
        {
            throw new ConfigurationException(
                "--ratio must name the ratio of k to be seen, a number above 0 that is not 1, for example --ratio 1.2.");
        }

        if (!(settings.Power > 0.05 && settings.Power < 1))
            throw new ConfigurationException("--power must lie above 0.05 and below 1, for example --power 0.8.");
        if (StatedIn(settings) is { } stated)
        {
            Tell(settings, PlanQuestion.Ask(ratio, settings.Power, stated), null);
            return RecordedRun.Done;
        }

        if (settings.File is not { } file)
        {
            throw new ConfigurationException(
                "Name a configuration whose release gives the variances, or state --site-variance and --burial-variance.");
        }

        ReleaseReader release = CurrentRelease.Of(file);
        WithAndWithoutNoted<PlanAnswer> plan = WithAndWithoutNoted.Ask<PlanAnswer>(CurrentRelease.RatesOf(file, release),
            r => PlanQuestion.Ask(r, release.ReleaseId, ratio, settings.Power), AnswerChanges.Of);
        if (plan.All.Variances is null)
            throw new ConfigurationException($"No plan: {plan.All.Statement} State --site-variance and --burial-variance instead.");
        Tell(settings, plan.All, plan.Without);
        return RecordedRun.Done;
    }

    private void Tell(Settings settings, PlanAnswer plan, WithoutNoted<PlanAnswer>? withoutNoted)
    {
        if (settings.Json)
            screen.Json(new { plan.Ratio, plan.Power, plan.Variances, plan.Designs, plan.Statement, plan.Sentences, withoutNoted });
        else
            WarmthReport.Write(screen, plan, withoutNoted?.Sentence);
    }

    private static PlanVariances? StatedIn(Settings settings)
    {
        if (settings is { SiteVariance: { } site, BurialVariance: { } burial })
        {
            if (!(site >= 0) || !(burial >= 0) || !(site + burial > 0) || !double.IsFinite(site + burial))
                throw new ConfigurationException("--site-variance and --burial-variance must be 0 or more, and not both 0.");
            return new PlanVariances(site, burial, "as stated");
        }

        if (settings.SiteVariance is not null || settings.BurialVariance is not null)
        {
            throw new ConfigurationException(
                "--site-variance and --burial-variance go together; state both, or name a configuration whose release gives them.");
        }

        return null;
    }
}
