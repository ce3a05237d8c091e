using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>Says how k or S changed over campaigns.</summary>
internal sealed class TrendCommand(Screen screen) : PlainCommand<TrendCommand.Settings>
{
    internal sealed class Settings : AskedSettings
    {
        [CommandOption("--by-site")]
        [Description("Hold the change within sites that were dug again apart from the differences between sites dug at different times.")]
        public bool BySite { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        AskedOf of = settings.Asked;
        TrendRequest request = new(settings.Covariates, settings.BySite);
        CurrentRelease release = CurrentRelease.Of(settings.File);
        WithAndWithoutNoted<TrendAnswer> answer = WithAndWithoutNoted.Ask<TrendAnswer>(
            release.Rates(), r => TrendQuestion.Ask(r, request, of), SlopeChanges.Of, of);
        if (settings.Json)
            screen.Json(new { release = release.Id, trend = answer.All, without_noted = answer.Without });
        else
            TrendReport.Write(screen, release.Id, answer);
        return RecordedRun.Done;
    }
}
