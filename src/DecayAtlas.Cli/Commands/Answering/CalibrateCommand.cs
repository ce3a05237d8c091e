namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>Says whether both litters of a release's series have one S, and what follows for a two-bag k.</summary>
internal sealed class CalibrateCommand(Screen screen) : PlainCommand<ConfigurationFileSettings>
{
    protected override int Execute(ConfigurationFileSettings settings)
    {
        CurrentRelease release = CurrentRelease.Of(settings.File);
        WithAndWithoutNoted<ReleasedCalibration> answer = WithAndWithoutNoted.Ask<ReleasedCalibration>(
            release.Rates(), CalibrationQuestion.Ask, AnswerChanges.Of, AskedOf.Stabilisation);
        if (settings.Json)
        {
            screen.Json(new { release = release.Id, calibration = answer.All, without_noted = answer.Without });
            return RecordedRun.Done;
        }

        screen.Line($"Calibration of S by the series of release {release.Id}.");
        screen.Line(answer.All.Sentence);
        screen.Line(answer.Without.Sentence);
        return RecordedRun.Done;
    }
}
