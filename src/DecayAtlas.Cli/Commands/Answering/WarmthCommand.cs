using System.ComponentModel;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli.Commands.Answering;

/// <summary>Says how k rises with warmth, over sites and in warmed plots.</summary>
internal sealed class WarmthCommand(Screen screen) : PlainCommand<WarmthCommand.Settings>
{
    internal sealed class Settings : ResponseSettings
    {
        [CommandOption("--warmed <TREATMENT>")]
        [Description("Treatment of warmed plots.")]
        [DefaultValue("warmed")]
        public string Warmed { get; init; } = "warmed";

        [CommandOption("--by-kelvin <K>")]
        [Description("By how much warmed plots were warmer; gives a Q10 of the pairs.")]
        public double? ByKelvin { get; init; }

        [CommandOption("--figure <PATH>")]
        [Description("Draw the response to a .svg or .png file.")]
        public string? Figure { get; init; }
    }

    protected override int Execute(Settings settings)
    {
        if (settings.ByKelvin is { } kelvin && !(kelvin > 0 && double.IsFinite(kelvin)))
        {
            throw new ConfigurationException(
                "--by-kelvin must be a number above 0: by how many kelvin warmed plots were warmer than untreated ones.");
        }

        if (settings.Figure is { } path && FigureFile.FormatOf(path) is null)
            throw new ConfigurationException($"--figure is {path}, expected a name that ends in .svg or .png.");
        ReleaseReader release = CurrentRelease.Of(settings.File);
        WithAndWithoutNoted<WarmthAnswer> answer = WithAndWithoutNoted.Ask<WarmthAnswer>(CurrentRelease.RatesOf(settings.File, release),
            r => WarmthQuestion.Ask(r, settings.Temperature, settings.Moisture, settings.Warmed, settings.ByKelvin), AnswerChanges.Of);
        if (settings.Json)
            screen.Json(new { release = release.ReleaseId, warmth = answer.All, without_noted = answer.Without });
        else
            WarmthReport.Write(screen, release.ReleaseId, answer);
        if (settings.Figure is { } file)
        {
            if (ReleaseFigures.WarmthOf(answer.All) is not { } chart)
                screen.ErrorLine("No figure was drawn: there is no response over sites to show.");
            else
                FigureFile.Save(file, chart.Draw());
        }

        return RecordedRun.Done;
    }
}
