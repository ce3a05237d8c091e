using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>Says how k or S differs between the groups of a release, and how surely, or why that can't be said.</summary>
internal sealed class CompareCommand(Screen screen) : PlainCommand<CompareCommand.Settings>
{
    internal sealed class Settings : AskedSettings
    {
        [CommandOption("--by <COLUMN>")]
        [Description("ecosystem, land_use, management or treatment.")]
        [DefaultValue("ecosystem")]
        public string By { get; init; } = "ecosystem";

        [CommandOption("--variance")]
        [Description("Also say where the variance of ln k or S lies, which is the same for every question.")]
        public bool Variance { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        // before the atlas is opened: a wrong word is usage
        if (!GroupQuestion.Groupings.Contains(settings.By))
            throw new ConfigurationException($"--by is {settings.By}, expected one of {string.Join(", ", GroupQuestion.Groupings)}.");
        AskedOf of = settings.Asked;
        string[] covariates = settings.Covariates;
        CurrentRelease release = CurrentRelease.Of(settings.File);
        ReleasedRates rates = release.Rates();
        IReadOnlyList<ReleasedComparison> released =
            release.Tables.Has(AtlasTables.Comparisons) ? release.Tables.Rows(AtlasTables.Comparisons) : [];
        WithAndWithoutNoted<GroupAnswer> groups = FamilyOfPairs.Mark(
            WithAndWithoutNoted.Ask<GroupAnswer>(rates, r => GroupQuestion.Ask(r, settings.By, covariates, of), AnswerChanges.Of, of),
            FamilyOfPairs.Of(released, NotedUse.All), FamilyOfPairs.Of(released, NotedUse.Without));
        WithAndWithoutNoted<VarianceAnswer>? variance = !settings.Variance && !settings.Json ? null
            : VarianceQuestion.AskBoth(rates, of);
        (int made, int standing) = ReleasedComparison.CountOf(released);
        if (settings.Json)
        {
            screen.Json(new
            {
                release = release.Id,
                of = of.Code(),
                by = settings.By,
                with = covariates,
                comparison = groups.All,
                variance = variance!.All,
                family = new { made, standing, sentence = ComparisonReport.FamilySentence(made, standing) },
                without_noted = new { comparison = groups.Without, variance = variance.Without },
            });
        }
        else
        {
            ComparisonReport.Write(screen, release.Id, settings.By, covariates, groups, variance);
            screen.Line(ComparisonReport.FamilySentence(made, standing));
        }

        return RecordedRun.Done;
    }
}
