using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>Says how k or S goes with a covariate, or with a quantity of samples.</summary>
internal sealed class RelateCommand(Screen screen) : PlainCommand<RelateCommand.Settings>
{
    internal sealed class Settings : AskedSettings
    {
        [CommandOption("--to <NAME>")]
        [Description("A covariate of the release, or a quantity of its samples: richness, shannon_index_nat, gene_copies_per_g_dry, "
            + "gene_copies_per_g_moist or fungi_to_bacteria_ratio.")]
        public string? To { get; init; }

        [CommandOption("--gene <NAME>")]
        [Description("Target gene of the samples to take, where they have several.")]
        public string? Gene { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (settings.To is not { } to)
            throw new ConfigurationException("Say what k or S is held against with --to, for example --to soil_ph.");
        AskedOf of = settings.Asked;
        RelateRequest request = new(to, settings.Covariates, settings.Gene);
        CurrentRelease release = CurrentRelease.Of(settings.File);
        WithAndWithoutNoted<RelateAnswer> answer = WithAndWithoutNoted.Ask<RelateAnswer>(
            release.Rates(), r => RelateQuestion.Ask(r, request, of), SlopeChanges.Of, of);
        if (settings.Json)
            screen.Json(new { release = release.Id, relation = answer.All, without_noted = answer.Without });
        else
            RelateReport.Write(screen, release.Id, answer);
        return RecordedRun.Done;
    }
}
